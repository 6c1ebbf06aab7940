"""By the keyboard alone: from a pasted game to a sheet of exercises."""

from __future__ import annotations

import zipfile

import pytest
from playwright.sync_api import Page, expect

from tests.browser.busy import POSITION, busy
from tests.browser.club import evening
from tests.browser.keys import Keys

pytestmark = [pytest.mark.xdist_group("browser: keyboard"), pytest.mark.slow]
LONG = 120_000
"""Milliseconds that proving exercises may take."""
GAME = evening("2026.10.12").split("\n\n[Event ")[0]


def test_from_a_pasted_game_to_a_sheet(page: Page) -> None:
    keys = Keys(page)
    page.goto("/")
    keys.to(page.get_by_role("link", name="One position or game"))
    keys.press("Enter")
    paste(page, keys)
    read(page, keys)
    sheet(page, keys)


def paste(page: Page, keys: Keys) -> None:
    keys.to(page.get_by_label("Paste a position (FEN) or a game (PGN)"))
    page.keyboard.insert_text(GAME)
    keys.to(page.get_by_role("button", name="Find the places to look"))
    keys.press("Enter")


def read(page: Page, keys: Keys) -> None:
    """The unsafe piece, its remedies, and a line of the proof step by step."""
    keys.to(page.get_by_role("link", name="Read this position").first)
    keys.press("Enter")
    expect(page.get_by_role("heading", name="Moves that lose least")).to_be_visible()
    expect(page.get_by_text("Working out which are the better ways")).to_be_hidden()
    keys.to(page.get_by_label("A move"))
    keys.to(page.locator("button.line").first)
    keys.press("Enter")
    stepper = page.get_by_role("group", name="The line on the board")
    expect(stepper).to_be_visible()
    keys.press("ArrowRight")
    keys.press("ArrowLeft")
    keys.press("Escape")
    expect(stepper).to_be_hidden()
    # The browser's own key for the way back does nothing where it has no window.
    page.go_back()
    expect(page.get_by_role("heading", level=1)).to_have_text("Places to look")


def sheet(page: Page, keys: Keys) -> None:
    keys.to(page.get_by_role("button", name="Make exercises from these games"))
    keys.press("Enter")
    # The places may still be looked for, with a way to stop of their own.
    proving = page.get_by_text("Proving exercises")
    expect(proving).to_be_visible()
    expect(proving).to_have_count(0, timeout=LONG)
    expect(page.get_by_role("alert")).to_have_count(0)
    keys.check()
    keys.to(page.get_by_label("for the sheet").first)
    page.keyboard.press("Space")
    expect(page.get_by_role("link", name="Make the sheet")).to_be_visible()
    page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    keys.check()
    keys.to(page.get_by_role("link", name="Make the sheet"))
    keys.press("Enter")
    whole = page.get_by_role("button", name="All as PDF, with the answers")
    expect(whole).to_be_enabled()
    keys.to(whole)
    with page.expect_download() as fetched:
        keys.press("Enter")
    with zipfile.ZipFile(fetched.value.path()) as files:
        assert all(files.read(name).startswith(b"%PDF") for name in files.namelist())
    expect(whole).to_be_enabled()
    keys.check()


def test_a_job_is_begun_and_stopped(page: Page) -> None:
    keys = Keys(page)
    page.goto(f"/position?fen={POSITION}")
    begin = page.get_by_role("button", name="Look for twins")
    with busy(page):
        keys.to(begin)
        keys.press("Enter")
        stop = page.get_by_role("button", name="Stop")
        expect(stop).to_be_visible()
        keys.check()
        keys.to(stop)
        keys.press("Enter")
        expect(stop).to_be_hidden()
        keys.check()
    keys.to(begin)

"""Long work: waited for, stopped while it waits and while it runs, and begun again."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import FilePayload, Page, expect

from tests.browser.busy import POSITION, busy
from tests.browser.club import evening
from tests.browser.looking import Look

pytestmark = [pytest.mark.xdist_group("browser: club"), pytest.mark.slow]
GAMES = evening("2026.10.12")
LONG = 120_000
"""Milliseconds that work on many games may take."""
STOPPED = "Stopped; what was done before stays."


@pytest.fixture(scope="module")
def store(filled: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Path(shutil.copy(filled, tmp_path_factory.mktemp("store") / "store.sqlite"))


def stopped(page: Page, told: str = STOPPED) -> None:
    page.get_by_role("button", name="Stop").click()
    expect(page.get_by_text(told)).to_be_visible()


def test_a_search_for_twins(page: Page, look: Look) -> None:
    page.goto(f"/position?fen={POSITION}")
    with busy(page):
        page.get_by_role("button", name="Look for twins").click()
        expect(page.get_by_text("Waits for its turn: Changing one detail")).to_be_visible()
        look("a job that waits")
        stopped(page)
        look("a job that was stopped")
    page.get_by_role("button", name="Look for twins").click()
    expect(page.get_by_text("wants another move")).to_be_visible()
    expect(page.get_by_role("button", name="Stop")).to_be_hidden()
    look("twins")


def test_going_through_pasted_games(page: Page, look: Look) -> None:
    page.goto("/position")
    with busy(page):
        page.get_by_role("textbox").fill(GAMES)
        page.get_by_role("button", name="Find the places to look").click()
        expect(page.get_by_text("Waits for its turn")).to_be_visible()
        stopped(page)
        look("pasted games, stopped")
    page.get_by_role("button", name="Go through them again").click()
    make = page.get_by_role("button", name="Make exercises from these games")
    expect(make).to_be_visible()
    # What was found is shown while the work goes on, and how far it is in moves.
    expect(page.get_by_text(re.compile(r"\d+ of \d+ moves|\d+ of \d+ weighed"))).to_be_visible()
    expect(page.get_by_role("link", name="Read this position").first).to_be_visible()
    expect(page.get_by_role("button", name="Stop")).to_have_count(0, timeout=LONG)
    look("pasted games")
    exercises_of_a_place(page, look)
    with busy(page):
        make.click()
        stopped(page)
        expect(make).to_be_visible()


def test_a_game_without_names_and_the_way_back(page: Page, look: Look) -> None:
    page.goto("/position")
    page.get_by_role("textbox").fill("1. e4 e5 2. Nf3 Nc6 3. Bc4 Nd4 4. Nxe5 Qg5 5. Nxf7 Qxg2 *")
    page.get_by_role("button", name="Find the places to look").click()
    expect(page.get_by_role("button", name="Stop")).to_have_count(0, timeout=LONG)
    expect(page.get_by_text("In one game.")).to_be_visible()
    expect(page.get_by_text("?", exact=False)).to_have_count(0)
    place = page.get_by_role("listitem").filter(has_text="Black, move 3")
    expect(place).to_contain_text("The board shows the position before 3...Nd4")
    place.get_by_role("link", name="Read this position").click()
    expect(page.get_by_text("This is the position before 3...Nd4 was played.")).to_be_visible()
    expect(page.get_by_role("heading", name="In words for the student")).to_be_visible(timeout=LONG)
    look("a position of a pasted game")
    page.get_by_role("link", name="Back to the places to look").click()
    place.get_by_role("link", name="and the one after the move").click()
    after = "This is the position after 3...Nd4, with the other side to move."
    expect(page.get_by_text(after)).to_be_visible()


def exercises_of_a_place(page: Page, look: Look) -> None:
    """Those of the places chosen are shown where they are made, and are the sheet's at once."""
    for number in range(4):
        page.get_by_label("for exercises").nth(number).check()
    page.get_by_role("button", name="Make exercises from the 4 places chosen").click()
    expect(page.get_by_label("for the sheet").first).to_be_visible(timeout=LONG)
    expect(page.get_by_role("button", name="Stop")).to_have_count(0, timeout=LONG)
    look("exercises of a place")
    page.get_by_role("button", name=re.compile("Make a sheet")).click()
    expect(page.get_by_role("button", name="All as")).to_be_enabled()
    page.go_back()
    expect(page.get_by_role("link", name="Make the sheet")).to_be_visible()


def test_bringing_games_in(page: Page, look: Look) -> None:
    page.goto("/games/bring")
    file: FilePayload = {"name": "games.pgn", "mimeType": "text/plain", "buffer": GAMES.encode()}
    begin = page.get_by_role("button", name="Go through the games")
    with busy(page):
        page.get_by_label("Drop files of games here").set_input_files(file)
        stopped(page)
        look("a look over files, stopped")
    page.get_by_role("link", name="Bring files").click()
    page.get_by_label("Drop files of games here").set_input_files(file)
    expect(begin).to_be_enabled()
    with busy(page):
        begin.click()
        stopped(page)
        look("an import stopped")
        expect(begin).to_be_enabled()


def test_proposing_a_week(page: Page, look: Look) -> None:
    page.goto("/week")
    page.get_by_label("Group").select_option("Monday")
    begin = page.get_by_role("button", name="Propose positions")
    with busy(page):
        begin.click()
        expect(begin).to_be_disabled()
        stopped(page)
        look("a week stopped")
        expect(begin).to_be_enabled()
    page.get_by_label("Played since").fill("2026-11-01")
    begin.click()
    expect(page.get_by_role("alert")).to_contain_text("no game")
    look("a week of no games")

"""The teacher's week, from Monday's games to the folder of sheets."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path

import pypdf
import pytest
from playwright.sync_api import FilePayload, Page, expect

from tests.browser.club import evening
from tests.browser.looking import Look

pytestmark = [pytest.mark.xdist_group("browser: week"), pytest.mark.slow]


def test_from_mondays_games_to_the_sheets(page: Page, look: Look, tmp_path: Path) -> None:
    page.goto("/")
    first_games(page, look)
    doubtful_names(page, look)
    places(page, look)
    position(page, look)
    begin_week(page, look)
    answers(page, look)
    sheets(page, look, tmp_path)


def first_games(page: Page, look: Look) -> None:
    page.get_by_role("link", name="Your students’ games").click()
    bring(page, "first.pgn", evening("2026.09.28"))
    expect(page.get_by_text("There are 3 games in the files.")).to_be_visible()
    page.get_by_role("button", name="All are new students").click()
    page.get_by_label("The group of new students").fill("Monday")
    page.get_by_label("Tell sacrifices").uncheck()
    look("who is who, all new")
    page.get_by_role("button", name="Go through the games").click()
    expect(page.get_by_text("3 games are new.")).to_be_visible()
    look("brought in")


def bring(page: Page, name: str, games: str) -> None:
    file: FilePayload = {"name": name, "mimeType": "text/plain", "buffer": games.encode()}
    page.get_by_label("Drop files of games here, or choose them").set_input_files(file)


def doubtful_names(page: Page, look: Look) -> None:
    page.get_by_role("link", name="Games", exact=True).click()
    page.get_by_role("link", name="Bring games in").click()
    games = evening("2026.09.14").replace("Cogsworthy, Bea", "Cogsworthy, B.")
    bring(page, "second.pgn", games)
    who = page.get_by_label("Who Cogsworthy, B. is")
    expect(who).to_have_value("=Cogsworthy, Bea")
    page.get_by_label("Who Flourdust, Ivy is").select_option("a new student")
    page.get_by_label("The group of new students").fill("Monday")
    page.get_by_label("Tell sacrifices").uncheck()
    look("who is who, doubtful")
    page.get_by_role("button", name="Go through the games").click()
    expect(page.get_by_text("New students: Flourdust, Ivy.")).to_be_visible()


def places(page: Page, look: Look) -> None:
    page.get_by_role("link", name="The places to look").click()
    page.get_by_label("Student").select_option("Weirwater, Ada")
    expect(page).to_have_url(re.compile(r"student=\d"))
    first = page.get_by_role("listitem").filter(has=page.get_by_text("My word on it")).first
    first.get_by_role("button", name="My word on it").click()
    look("my word on a place")
    first.get_by_label("Why, as it will be printed").fill("A blitz game, played after bedtime.")
    first.get_by_role("button", name="Keep it").click()
    expect(page.get_by_role("button", name="Undo it")).to_be_visible()
    look("a place is struck")
    page.get_by_role("button", name="Undo it").click()
    expect(page.get_by_role("button", name="Undo it")).to_be_hidden()


def position(page: Page, look: Look) -> None:
    page.get_by_role("link", name="Read this position").first.click()
    expect(page.get_by_role("heading", name="What is not safe")).to_be_visible()
    expect(page.get_by_text("Working out which are the better ways")).to_be_hidden()
    look("a position")
    page.locator("button.line").first.click()
    stepper = page.get_by_role("group", name="The line on the board")
    expect(stepper).to_be_visible()
    look("a line on the board")
    stepper.get_by_role("button", name="Put it back").click()
    expect(stepper).to_be_hidden()


def begin_week(page: Page, look: Look) -> None:
    page.get_by_role("link", name="The week").click()
    page.get_by_label("Group").select_option("Monday")
    page.get_by_label("Played since").fill("2026-09-28")
    look("a week to begin")
    page.get_by_role("button", name="Propose positions").click()
    expect(page.get_by_role("heading", name="1. The positions")).to_be_visible(timeout=120_000)


def answers(page: Page, look: Look) -> None:
    one = page.get_by_role("article", name="Position 1")
    one.get_by_role("button", name="No", exact=True).click()
    expect(one.get_by_role("button", name="No", pressed=True, exact=True)).to_be_visible()
    look("a position refused")
    one.get_by_role("button", name="Yes").click()
    two = page.get_by_role("article", name="Position 2")
    game = two.locator("p.note")
    before = game.inner_text()
    two.get_by_role("button", name="Another one instead").click()
    expect(game).not_to_have_text(before)


def sheets(page: Page, look: Look, folder: Path) -> None:
    page.get_by_role("button", name="Write the sheets").click()
    whole = page.get_by_role("button", name="All files in one")
    expect(whole).to_be_visible(timeout=120_000)
    look("a week written")
    with page.expect_download() as fetched:
        whole.click()
    path = folder / "week.zip"
    fetched.value.save_as(path)
    with zipfile.ZipFile(path) as files:
        names = [name for name in files.namelist() if name.endswith(".pdf")]
        assert names
        for name in names:
            pages = pypdf.PdfReader(io.BytesIO(files.read(name))).pages
            assert pages[0].extract_text().strip(), name

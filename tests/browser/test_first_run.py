"""The first time: nothing is there, and every page says what to begin with."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.looking import Look
from tests.browser.watch import Watch

pytestmark = pytest.mark.xdist_group("browser: first run")


def test_the_first_page_says_what_to_begin_with(page: Page, look: Look) -> None:
    page.goto("/")
    expect(page.get_by_role("heading", level=1)).to_have_text(
        "Pieces are lost because nobody noticed."
    )
    look("first run")
    page.get_by_role("link", name="Your students’ games").click()
    expect(page.get_by_label("Drop files of games here, or choose them")).to_be_visible()


@pytest.mark.parametrize(
    ("path", "told"),
    [
        ("/games", "No games are here yet."),
        ("/games/list", "0 games"),
        ("/games/bring", "nothing is kept before you have said who is who"),
        ("/students", "Nobody is here yet."),
        ("/exercises", "The shelf is empty."),
        ("/sheet", "No exercises are taken for it yet."),
        ("/week", "six positions are proposed"),
        ("/position", "Paste a position (FEN) or a game (PGN)"),
        ("/position/set-up", "So far it cannot stand on a board:"),
        ("/store", "0 students, 0 games"),
        ("/nowhere", "There is no such page"),
    ],
)
def test_a_page_with_nothing_on_it(page: Page, look: Look, path: str, told: str) -> None:
    page.goto(path)
    expect(page.get_by_text(told)).to_be_visible()
    look(f"nothing at {path}")


@pytest.mark.parametrize(
    ("path", "told"),
    [
        ("/games/99", "There is no game"),
        ("/students/99", "There is no student"),
        ("/groups/99", "There is no group"),
        ("/exercises/99", "There is no exercise"),
        ("/week/none", "This week is no longer there"),
        ("/s/none", "This link is not good"),
    ],
)
def test_what_is_not_there_is_told(
    page: Page, watch: Watch, look: Look, path: str, told: str
) -> None:
    watch.expected.add(404)
    page.goto(path)
    expect(page.get_by_role("alert")).to_contain_text(told)
    look(f"none at {path}")


def test_the_invented_club_is_looked_at_and_left(page: Page, watch: Watch, look: Look) -> None:
    watch.expected.add(429)
    page.goto("/")
    page.get_by_role("button", name="The invented Millrace Chess Club").click()
    leave = page.get_by_role("button", name="Leave it, back to my own")
    expect(page.get_by_text("Filling the invented club with games")).to_be_visible()
    look("a job that is worked on")
    page.goto("/store")
    leave.click()
    expect(page.get_by_role("alert")).to_contain_text("Something is still being worked on")
    look("the invented club, which is still being filled")
    page.goto("/")
    page.get_by_role("button", name="Stop").click()
    expect(page.get_by_text("Stopped; what was done before stays.")).to_be_visible()
    leave.click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Pieces are lost")

"""A position: read, played on, set up; what cannot be read; and motion only where it is wanted."""

from __future__ import annotations

from typing import Literal

import pytest
from playwright.sync_api import Page, expect

from tests.browser.looking import Look
from tests.browser.watch import Watch

pytestmark = pytest.mark.xdist_group("browser: first run")
POSITION = "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"
MOVED = """
window.moved = [];
for (const kind of ["transitionrun", "animationstart"]) {
  addEventListener(kind, (event) => moved.push(`${kind} of ${event.target.tagName}`), true);
}
"""


def read(page: Page, fen: str) -> None:
    page.goto(f"/position?fen={fen}")
    expect(page.get_by_role("grid", name="The board")).to_be_visible()
    expect(page.get_by_text("Working out which are the better ways")).to_be_hidden()


@pytest.mark.parametrize(
    ("state", "fen", "told"),
    [
        ("a piece not safe", POSITION, "The knight on e5 is not safe"),
        ("in check", "4k3/8/8/8/8/8/4r3/4K3 w - - 0 1", "The king on e1 is in check"),
        ("mated", "4k3/8/8/8/8/8/5PPP/3r2K1 w - - 0 1", "White is mated"),
        ("nothing to win", "4k3/8/8/8/8/8/8/4K2R w - - 0 1", "Nothing"),
    ],
)
def test_a_position_is_read(page: Page, look: Look, state: str, fen: str, told: str) -> None:
    read(page, fen)
    expect(page.get_by_role("heading", level=1)).to_contain_text(told)
    look(state)


def test_the_other_side_and_whether_it_is_firm(page: Page, look: Look) -> None:
    read(page, POSITION)
    page.get_by_role("link", name="The other side’s view").click()
    expect(page.get_by_role("link", name="Back to this side’s view")).to_be_visible()
    look("the other side")
    page.get_by_role("link", name="Back to this side’s view").click()
    expect(page.get_by_text("Checked one move deeper").first).to_be_visible()


def test_a_pawn_becomes_what_is_chosen(page: Page, look: Look) -> None:
    read(page, "8/P6k/8/8/8/8/7K/8 w - - 0 1")
    page.get_by_role("gridcell", name="a7").click()
    page.get_by_role("gridcell", name="a8").click()
    choice = page.get_by_role("group", name="What the pawn becomes")
    expect(choice).to_be_visible()
    look("what the pawn becomes")
    choice.get_by_role("button", name="knight").click()
    expect(page.get_by_role("gridcell", name="a8")).to_have_accessible_name("a8, white knight")
    page.get_by_role("button", name="Take the move back").click()
    expect(page.get_by_role("gridcell", name="a7")).to_have_accessible_name("a7, white pawn")


def test_a_move_that_is_none(page: Page, look: Look) -> None:
    read(page, POSITION)
    page.get_by_label("A move").fill("Ke4")
    page.get_by_role("button", name="Play it").click()
    expect(page.get_by_role("alert")).to_contain_text("no legal move here")
    look("no legal move")


def test_a_position_that_cannot_be_read_is_put_right(page: Page, watch: Watch, look: Look) -> None:
    watch.expected.add(422)
    page.goto("/position")
    page.get_by_role("textbox").fill("4k3/8/8/8/8/8/4P3/8 w - - 0 1")
    page.get_by_role("button", name="Read it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("This position cannot be read")
    look("no position")
    page.get_by_role("link", name="Put it right on the board").click()
    page.locator("label", has_text="white king").click()
    page.get_by_role("gridcell", name="e1").click()
    expect(page.get_by_text("This position can stand on a board.")).to_be_visible()
    look("a position set up")
    page.get_by_role("button", name="Read it").click()
    expect(page.get_by_role("grid", name="The board")).to_be_visible()


def test_text_that_is_no_game(page: Page, look: Look) -> None:
    page.goto("/position")
    page.get_by_role("textbox").fill("Dear parents, the club is closed on Monday.")
    page.get_by_role("button", name="Find the places to look").click()
    expect(page.locator(".wrong").first).to_be_visible()
    look("no game")


def test_a_workbench_that_is_away(page: Page, look: Look) -> None:
    read(page, POSITION)
    page.context.set_offline(True)
    page.get_by_role("link", name="The other side’s view").click()
    expect(page.get_by_role("alert")).to_contain_text("The workbench does not answer.")
    look("a workbench that is away")
    page.context.set_offline(False)


@pytest.mark.parametrize(("wanted", "moves"), [("reduce", False), ("no-preference", True)])
def test_motion_is_off_where_the_reader_wants_none(
    page: Page, wanted: Literal["reduce", "no-preference"], moves: bool
) -> None:
    page.emulate_media(reduced_motion=wanted)
    page.add_init_script(MOVED)
    read(page, POSITION)
    page.locator("button.line").first.click()
    on = page.get_by_role("button", name="On", exact=True)
    for _ in range(2):
        on.click()
        page.evaluate("new Promise((over) => setTimeout(over, 300))")
    page.get_by_role("button", name="Put it back").click()
    page.get_by_label("A move").fill("Nc6")
    page.get_by_role("button", name="Play it").click()
    expect(page.get_by_role("gridcell", name="c6")).to_have_accessible_name("c6, black knight")
    page.evaluate("new Promise((over) => setTimeout(over, 300))")
    assert bool(page.evaluate("moved")) is moves

"""The class board: the teacher's page in one window, the class's screen in another."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect

from tests.browser.conftest import opened
from tests.browser.keys import Keys
from tests.browser.looking import Look
from tests.browser.watch import Watch

pytestmark = pytest.mark.xdist_group("browser: first run")
GUARDED = "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"
PINNED = "rnbqkb1r/pppp1ppp/8/4N3/4n3/8/PPPPQPPP/RNB1KB1R b KQkq - 0 1"
CUT = """() => {
  const told = document.querySelector(".told");
  const box = told.getBoundingClientRect();
  return told.scrollHeight > told.clientHeight + 1 || box.bottom > innerHeight + 1;
}"""
HALL: ViewportSize = {"width": 1920, "height": 1080}
SECOND = 1_000
"""Milliseconds in which the class's screen shows a change."""
FILLS = """() => {
  const squares = document.querySelector("[role=grid]").getBoundingClientRect();
  return squares.height / innerHeight;
}"""


@contextmanager
def screen_of(browser: Browser, workbench: str, page: Page) -> Iterator[tuple[Page, Look]]:
    """The class's screen, opened by its link in a window of its own."""
    link = page.get_by_role("link", name="Open the class’s screen").get_attribute("href")
    assert link is not None
    with opened(browser, workbench) as watch:
        screen = watch.context.new_page()
        screen.goto(link)
        expect(screen.get_by_role("grid")).to_be_visible()
        yield screen, Look(screen, watch.wrong)


def begun(page: Page, *fens: str) -> None:
    page.goto("/class")
    page.get_by_label("Its name, for you").fill("Monday")
    page.get_by_label("Positions: a FEN or EPD on each line").fill("\n".join(fens))
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Monday")
    expect(page.get_by_role("heading", name="What stands here")).to_be_visible()


def tried(page: Page, move: str) -> None:
    page.keyboard.press("t")
    page.keyboard.type(move)
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name=move, exact=True, pressed=True)).to_be_visible()


def assert_only_shown(screen: Page) -> None:
    """Besides the board, who is to move and one sentence, the class's screen says nothing."""
    for word in ("Nc6", "hand", "Monday", "What stands here", "Position"):
        expect(screen.get_by_text(word)).to_have_count(0)
    expect(screen.locator("a, input, textarea, nav")).to_have_count(0)


def test_a_lesson_by_keys(browser: Browser, workbench: str, page: Page, look: Look) -> None:
    page.goto("/class")
    look("class boards, none yet")
    begun(page, GUARDED, PINNED)
    with screen_of(browser, workbench, page) as (screen, look_at_screen):
        told = screen.locator(".told")
        expect(told).to_have_text("")
        expect(screen.get_by_text("Black to move")).to_be_visible()
        assert screen.evaluate(FILLS) > 0.75
        look_at_screen("the class's screen, clean")
        tried(page, "Nc6")
        tried(page, "Re8")
        for _ in range(3):
            page.keyboard.press("+")
        expect(page.get_by_text("3 hands", exact=True)).to_be_visible()
        expect(told).to_have_text("")
        assert_only_shown(screen)
        page.keyboard.press("m")
        square = screen.get_by_role("gridcell", name="e8")
        expect(square).to_have_accessible_name("e8, black rook", timeout=SECOND)
        expect(told).to_have_text("")
        page.keyboard.press("v")
        expect(told).to_contain_text("Re8 loses 3 pawns' worth", timeout=SECOND)
        page.keyboard.press("ArrowRight")
        square = screen.get_by_role("gridcell", name="d8")
        expect(square).to_have_accessible_name("d8, white queen, step 2", timeout=SECOND)
        page.keyboard.press("ArrowLeft")
        expect(square).to_have_accessible_name("d8, black queen", timeout=SECOND)
        page.keyboard.press("PageDown")
        expect(square).to_have_accessible_name("d8, white queen, step 2", timeout=SECOND)
        screen.reload()
        expect(square).to_have_accessible_name("d8, white queen, step 2")
        expect(told).to_contain_text("Re8 loses 3 pawns' worth")
        assert_only_shown(screen)
        look("a try that falls, shown")
        look_at_screen("the class's screen, a refutation")
        page.keyboard.press("o")
        expect(page.get_by_role("heading", name="A student plays on")).to_be_visible()
        page.keyboard.press("t")
        page.keyboard.type("Rxd8")
        page.keyboard.press("Enter")
        expect(page.locator(".settled")).to_contain_text("Black has lost 3 pawns' worth, and it")
        expect(told).to_contain_text("stays lost", timeout=SECOND)
        look("a student plays on")
        page.keyboard.press("s")
        ringed = screen.get_by_role("gridcell", name="e5")
        expect(ringed).to_have_accessible_name("e5, black knight, not safe", timeout=SECOND)
        look_at_screen("the class's screen, what is not safe")
        page.keyboard.press("n")
        expect(page.get_by_text("Position 2 of 2")).to_be_visible()
        knight = screen.get_by_role("gridcell", name="e4")
        expect(knight).to_have_accessible_name("e4, black knight", timeout=SECOND)
        page.keyboard.press("b")
        page.reload()
        expect(page.get_by_text("3 hands", exact=True)).to_be_visible()
        # What is asked of a class board that has ended is not found.
        expect(page.get_by_role("heading", name="What stands here")).to_be_visible()
        page.get_by_role("button", name="End this class board").click()
        expect(screen.get_by_role("heading")).to_have_text("The class board has ended.")
        look_at_screen("the class's screen, ended")


def test_a_try_is_tapped_and_shown_by_buttons(page: Page) -> None:
    begun(page, GUARDED)
    board = page.get_by_role("grid", name="Your board")
    board.get_by_role("gridcell", name="e5").click()
    board.get_by_role("gridcell", name="g4").click()
    tries = page.get_by_role("group", name="The tries")
    expect(tries.get_by_text("Ng4 keeps the material")).to_be_visible()
    page.get_by_role("button", name="One hand more", exact=True).click()
    expect(tries.get_by_text("one hand", exact=True)).to_be_visible()
    page.get_by_role("button", name="The try with its verdict").click()
    expect(page.locator(".sees .told")).to_contain_text("Ng4 keeps the material")
    page.get_by_role("button", name="The position alone").click()
    expect(page.locator(".sees .told")).to_have_text("")
    page.get_by_label("The keys work on this page").uncheck()
    page.keyboard.press("s")
    expect(page.locator(".sees .told")).to_have_text("")


def test_the_focus_stays_in_sight(page: Page) -> None:
    begun(page, GUARDED)
    keys = Keys(page)
    keys.to(page.get_by_role("button", name="What is not safe"))
    keys.press("Enter")
    keys.press("v")


@pytest.mark.parametrize(("wanted", "moves"), [("reduce", False), ("no-preference", True)])
def test_only_a_move_is_motion(
    browser: Browser, workbench: str, page: Page, wanted: str, moves: bool
) -> None:
    begun(page, GUARDED)
    with screen_of(browser, workbench, page) as (screen, _):
        screen.emulate_media(reduced_motion="reduce" if wanted == "reduce" else "no-preference")
        screen.evaluate(
            "window.moved = [];"
            "for (const kind of ['transitionrun', 'animationstart'])"
            "  addEventListener(kind, (event) => moved.push(event.target.tagName), true);"
        )
        tried(page, "Nc6")
        page.keyboard.press("v")
        expect(screen.locator(".told")).to_contain_text("Nc6 keeps the material")
        screen.evaluate("new Promise((over) => setTimeout(over, 300))")
        assert bool(screen.evaluate("moved")) is moves


def test_a_long_sentence_fits_in_the_hall(browser: Browser, workbench: str, page: Page) -> None:
    begun(page, GUARDED)
    with screen_of(browser, workbench, page) as (screen, _):
        screen.set_viewport_size(HALL)
        for move in ("Re8", "Nc6", "Qxd1"):
            tried(page, move)
            page.keyboard.press("v")
            told = screen.locator(".told")
            expect(told).to_contain_text(move, timeout=SECOND)
            assert not screen.evaluate(CUT), told.inner_text()
        assert screen.evaluate(FILLS) > 0.75


def test_it_is_begun_from_a_position(page: Page, watch: Watch) -> None:
    page.goto(f"/position?fen={GUARDED}&moves=Bf5")
    page.get_by_role("button", name="Show it on the class board").click()
    expect(page.get_by_text("Position 1 of 1")).to_be_visible()
    expect(page.get_by_role("gridcell", name="f5").first).to_have_accessible_name(
        "f5, black bishop"
    )
    watch.expected.add(404)
    page.goto("/class/12345")
    expect(page.get_by_role("heading", level=1)).to_have_text("There is no such class board")
    page.goto("/b/nothing")
    expect(page.get_by_role("heading", level=1)).to_have_text(
        "This link does not lead to a class board"
    )

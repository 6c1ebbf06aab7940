"""Writes the pictures of docs/class-board.md: the teacher's page and the class's screen.

Usage: make front && python -m scripts.class_pictures

Run it after the look or the words of the class board were changed. It starts a workbench with a
store of its own, enters two tries and shows one.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from playwright.sync_api import Browser, Page, ViewportSize, expect, sync_playwright

from tests.browser.conftest import CHROMIUM, wait_for
from tests.serving import free_port, serving

PICTURES = Path(__file__).parents[1] / "docs" / "pictures"
POSITIONS = (
    "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12",
    "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1",
)
TRIES = ("Nc6", "Re8")
WINDOW: ViewportSize = {"width": 980, "height": 560}
SCREEN: ViewportSize = {"width": 752, "height": 423}


def opened(browser: Browser, window: ViewportSize, port: int) -> Page:
    return browser.new_page(
        base_url=f"http://127.0.0.1:{port}",
        viewport=window,
        locale="en-GB",
        color_scheme="light",
        reduced_motion="reduce",
    )


def pictured(teacher: Page, screen: Page) -> None:
    """A try that falls, two moves into its refutation, on both screens."""
    teacher.goto("/class")
    teacher.get_by_label("Its name, for you").fill("Evening group")
    teacher.get_by_label("Positions: a FEN or EPD on each line").fill("\n".join(POSITIONS))
    teacher.get_by_role("button", name="Begin", exact=True).click()
    expect(teacher.get_by_role("heading", name="What stands here")).to_be_visible()
    screen.goto(
        teacher.get_by_role("link", name="Open the class’s screen").get_attribute("href") or ""
    )
    for move in TRIES:
        teacher.keyboard.press("t")
        teacher.keyboard.type(move)
        teacher.keyboard.press("Enter")
        expect(teacher.get_by_role("button", name=move, exact=True, pressed=True)).to_be_visible()
    for key in ("+", "+", "+", "v", "ArrowRight"):
        teacher.keyboard.press(key)
    square = screen.get_by_role("gridcell", name="d8")
    expect(square).to_have_accessible_name("d8, white queen, step 2")
    teacher.screenshot(path=PICTURES / "class-board-teacher.png")
    screen.screenshot(path=PICTURES / "class-board-screen.png")


def main() -> None:
    port = free_port()
    with (
        tempfile.TemporaryDirectory() as folder,
        serving(port, "--store", str(Path(folder) / "store.sqlite")),
        sync_playwright() as playwright,
    ):
        wait_for(port)
        browser = playwright.chromium.launch(executable_path=CHROMIUM)
        pictured(opened(browser, WINDOW, port), opened(browser, SCREEN, port))
        browser.close()


if __name__ == "__main__":
    main()

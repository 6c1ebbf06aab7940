"""Writes the pictures of docs/lesson-desk.md: a falsehood that is caught, and the form for claims.

Usage: make front && python -m scripts.lesson_pictures

Run it after the look or the words of these pages were changed.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from playwright.sync_api import Page, expect, sync_playwright

from scripts.workbench_pictures import PICTURES, WAIT, WINDOW
from tests.browser.conftest import CHROMIUM, wait_for
from tests.serving import free_port, serving


def keep(page: Page, name: str) -> None:
    """A picture of what is seen."""
    page.mouse.move(0, 0)
    page.screenshot(path=PICTURES / f"lesson-desk-{name}.png")


def way(page: Page) -> None:
    """A lesson is begun, a claim of it turned into a falsehood, and another one tapped."""
    page.goto("/lessons")
    page.get_by_label("Its name").fill("guard it or move it")
    page.get_by_role("button", name="Begin it").click()
    expect(page.get_by_text("true", exact=True)).to_have_count(9)
    first = page.get_by_role("region", name="Position 1")
    first.get_by_label("Claim 2", exact=True).fill("falls: Nc6")
    expect(first.get_by_text("not true")).to_be_visible()
    first.scroll_into_view_if_needed()
    first.evaluate("one => one.scrollIntoView()")
    keep(page, "1-not-true")
    second = page.get_by_role("region", name="Position 2")
    second.get_by_role("button", name="Write a claim").click()
    board = second.get_by_role("grid", name="The board to tap")
    board.get_by_role("gridcell", name="e6").click()
    second.get_by_label("What you say").evaluate("one => one.scrollIntoView()")
    keep(page, "2-tapped")


def main() -> None:
    """Writes them."""
    expect.set_options(timeout=WAIT)
    port = free_port()
    with (
        tempfile.TemporaryDirectory() as folder,
        serving(port, "--store", str(Path(folder) / "store.sqlite")),
        sync_playwright() as playwright,
    ):
        wait_for(port)
        browser = playwright.chromium.launch(executable_path=CHROMIUM)
        page = browser.new_page(
            base_url=f"http://127.0.0.1:{port}", viewport=WINDOW, locale="en-GB"
        )
        way(page)
        browser.close()


if __name__ == "__main__":
    main()

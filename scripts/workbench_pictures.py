"""Goes the three-minute way of docs/workbench.md in a browser, and writes its pictures.

Usage: make front && python -m scripts.workbench_pictures

Run it after the look or the words of a page were changed. It starts a workbench with a store of its
own, pastes a game of the invented club, and does what the document says, step by step; at the end
it prints how long that took. tests/browser/test_three_minutes.py goes the same way.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Page, ViewportSize, expect, sync_playwright

from tests.browser.club import evening
from tests.browser.conftest import CHROMIUM, wait_for
from tests.serving import free_port, serving

PICTURES = Path(__file__).parents[1] / "docs" / "pictures"
GAME = "[Event " + evening("2026.10.05").split("[Event ")[3]
PLACE = "Flourdust, Ivy, move 12"
WINDOW: ViewportSize = {"width": 860, "height": 510}
CHOSEN = 3
"""Places from which exercises are made."""
WAIT = 60_000
"""Milliseconds that a step may take."""

Keep = Callable[[str], None]
"""Keeps a picture of the page as it stands, under a name."""


def way(page: Page, keep: Keep) -> bytes:
    """From the first page to a printed sheet, as the document tells it; the sheet's file."""
    expect.set_options(timeout=WAIT)
    page.goto("/")
    page.get_by_role("link", name="One position or game").click()
    page.get_by_label("Paste a position").fill(GAME)
    keep("workbench-1-paste")
    page.get_by_role("button", name="Find the places to look").click()
    expect(page.get_by_role("heading", name="What next")).to_be_visible()
    expect(page.get_by_role("button", name="Stop")).to_have_count(0)
    keep("workbench-2-places")
    place = page.get_by_role("listitem").filter(has_text=PLACE)
    place.first.get_by_role("link", name="Read this position").click()
    expect(page.get_by_text("a better way").first).to_be_visible()
    keep("workbench-3-position")
    page.locator("button.line").first.click()
    page.get_by_role("button", name="On", exact=True).click()
    keep("workbench-4-line")
    page.get_by_role("link", name="Back to the places to look").click()
    for chosen in page.get_by_label("for exercises").all()[:CHOSEN]:
        chosen.check()
    page.get_by_role("button", name="Make exercises from the").click()
    sheet = page.get_by_role("button", name="Make a sheet")
    expect(sheet).to_be_visible()
    expect(page.get_by_role("button", name="Stop")).to_be_hidden()
    sheet.scroll_into_view_if_needed()
    keep("workbench-5-exercises")
    sheet.click()
    whole = page.get_by_role("button", name="All as PDF, with the answers")
    expect(whole).to_be_enabled()
    keep("workbench-6-sheet")
    with page.expect_download() as fetched:
        whole.click()
    return Path(fetched.value.path()).read_bytes()


def main() -> None:
    """Writes the pictures, and prints how long the way took."""
    port = free_port()
    with (
        tempfile.TemporaryDirectory() as folder,
        serving(port, "--store", str(Path(folder) / "store.sqlite")),
        sync_playwright() as playwright,
    ):
        wait_for(port)
        browser = playwright.chromium.launch(executable_path=CHROMIUM)
        page = browser.new_page(
            base_url=f"http://127.0.0.1:{port}",
            viewport=WINDOW,
            locale="en-GB",
            reduced_motion="reduce",
        )
        started = time.monotonic()
        way(page, lambda name: _kept(page, name))
        print(f"{time.monotonic() - started:.0f} seconds")
        browser.close()


def _kept(page: Page, name: str) -> None:
    if name != "workbench-5-exercises":
        page.evaluate("scrollTo(0, 0)")
    else:
        page.get_by_role("button", name="Make exercises").evaluate("(one) => one.scrollIntoView()")
    page.screenshot(path=PICTURES / f"{name}.png")


if __name__ == "__main__":
    main()

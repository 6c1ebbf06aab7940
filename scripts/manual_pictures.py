"""Writes the pictures of docs/manual that no other document has.

Usage: make front && python -m scripts.manual_pictures

Run it after the look or the words of these pages were changed. It starts a workbench with a store
of its own, brings two evenings of the invented club in, makes a week, and reads a report.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from playwright.sync_api import FilePayload, Page, expect, sync_playwright

from scripts.workbench_pictures import PICTURES, WINDOW
from tests.browser.club import evening
from tests.browser.conftest import CHROMIUM, wait_for
from tests.serving import free_port, serving

LONG = 180_000
"""Milliseconds that a step may take."""
STUDENT = "Flourdust, Ivy"
GROUP = "Monday evening"


def keep(page: Page, name: str) -> None:
    """A picture of what is seen."""
    page.mouse.move(0, 0)
    page.screenshot(path=PICTURES / f"manual-{name}.png")


def way(page: Page) -> None:
    """From the first page to a report, with a picture of each part."""
    page.goto("/")
    expect(page.get_by_role("link", name="Your students’ games")).to_be_visible()
    keep(page, "1-first-page")
    page.goto("/games/bring")
    games = evening("2026.09.14") + "\n" + evening("2026.10.05")
    file: FilePayload = {"name": "monday.pgn", "mimeType": "text/plain", "buffer": games.encode()}
    page.get_by_label("Drop files of games here, or choose them").set_input_files(file)
    page.get_by_role("button", name="All are new students").click()
    page.get_by_label("The group of new students").fill(GROUP)
    page.get_by_label("Tell sacrifices").uncheck()
    page.get_by_role("heading", name="Bring games in").evaluate("one => one.scrollIntoView()")
    keep(page, "2-who-is-who")
    page.get_by_role("button", name="Go through the games").click()
    page.get_by_role("link", name="Make the week from them").click()
    page.get_by_label("Group").select_option(GROUP)
    page.get_by_role("button", name="Propose positions").click()
    expect(page.get_by_role("heading", name="1. The positions")).to_be_visible()
    page.get_by_role("button", name="Look for twins").click()
    expect(page.get_by_text("Its twin:").first).to_be_visible()
    expect(page.get_by_role("button", name="Stop")).to_have_count(0)
    twin = page.get_by_role("article").filter(has_text="Its twin:").first
    twin.evaluate("one => one.scrollIntoView()")
    keep(page, "3-week")
    page.goto("/students")
    page.get_by_role("link", name=STUDENT).click()
    page.get_by_role("link", name="For the student").click()
    words = page.get_by_role("button", name="Put it in my own words")
    expect(words).to_be_visible()
    words.evaluate("one => one.scrollIntoView()")
    keep(page, "4-report")


def main() -> None:
    """Writes them."""
    expect.set_options(timeout=LONG)
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
        page.set_default_timeout(LONG)
        way(page)
        browser.close()


if __name__ == "__main__":
    main()

"""Writes the pictures of docs/homework.md: an exercise on a phone, and the code with what it tells.

Usage: python -m scripts.homework_pictures

Run it after the look or the words of the homework's page were changed. It hands out homework from
a store of its own and answers it, with the page opened from a file.
"""

from __future__ import annotations

import datetime
import tempfile
from pathlib import Path

from playwright.sync_api import Page, ViewportSize, sync_playwright

from fastness.exercises.admission import exercises_of
from fastness.exercises.exercise import Exercise, Kind
from fastness.exercises.proving import prove
from fastness.exercises.shelving import as_entry
from fastness.store import Store, open_store, shelf, students
from fastness.workflows.homework import make, page_html
from tests.browser.conftest import CHROMIUM

PICTURES = Path(__file__).parents[1] / "docs" / "pictures"
ASKED: tuple[tuple[str, Kind], ...] = (
    ("r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12", "which unit"),
    ("rnbqkbnr/ppp2ppp/4p3/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R b KQkq - 1 3", "why it fails"),
)
DAY = datetime.date(2026, 12, 3)
PHONE: ViewportSize = {"width": 360, "height": 640}


def asked(fen: str, kind: Kind) -> Exercise:
    """The question of a kind on a position."""
    return next(one for one in exercises_of(prove(fen)) if one.kind == kind)


def handed_out(store: Store) -> tuple[str, str]:
    """The page of a homework, and a student's word."""
    with store.writing() as session:
        students.add_student(session, "Flourdust, Ivy")
        numbers = [shelf.put(session, as_entry(asked(*one)))[0].id for one in ASKED]
    told = make(store, "Attacked by a pawn", numbers, DAY, students=["Flourdust, Ivy"], made=DAY)
    return page_html(store, told.row.number), told.students[0].word


def pictured(page: Page, word: str) -> None:
    """A knight that is ringed, and the end of the homework."""
    page.get_by_label("Your word from the slip").fill(word)
    page.get_by_role("button", name="Begin").click()
    page.locator('[data-square="e5"]').click()
    page.screenshot(path=PICTURES / "homework-exercise.png")
    page.get_by_role("button", name="Next").click()
    for square in ("g5", "f6"):
        page.locator(f'[data-square="{square}"]').click()
    page.get_by_role("button", name="To the end").click()
    page.get_by_role("button", name="Show my code").click()
    page.screenshot(path=PICTURES / "homework-code.png")
    page.locator("section.told").last.screenshot(path=PICTURES / "homework-refuted.png")


def main() -> None:
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        store = open_store(Path(folder) / "store.sqlite")
        text, word = handed_out(store)
        store.close()
        file = Path(folder) / "homework.html"
        file.write_text(text, encoding="utf-8")
        browser = playwright.chromium.launch(executable_path=CHROMIUM)
        page = browser.new_page(viewport=PHONE, color_scheme="light", reduced_motion="reduce")
        page.goto(file.as_uri())
        pictured(page, word)
        browser.close()


if __name__ == "__main__":
    main()

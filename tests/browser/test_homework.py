"""The homework's page opened from a file without a network: from the word to a code that is marked.

Chromium is told to be offline, and whatever the page asks for besides itself fails the test.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from fastness.exercises.shelving import as_entry
from fastness.language import Language, language
from fastness.store import Store, open_store, shelf, students
from fastness.workflows.homework import make, page_html, show
from fastness.workflows.homework_hand_in import hand_in_code
from fastness.workflows.homework_told import HomeworkTold
from tests.browser.conftest import DESK, PATIENCE
from tests.browser.looking import POINTS, Look
from tests.exercises.asked import BISHOP, QUIET, asked
from tests.store.material import IVY, TOM

PAWN = "8/4P1k1/8/8/8/8/1r4PP/6K1 w - - 0 1"
MADE, DUE = datetime.date(2026, 11, 26), datetime.date(2026, 12, 3)
EXERCISES = (
    asked("which unit"),
    asked("every move", BISHOP),
    asked("better way", PAWN),
    asked("why it fails", BISHOP),
    asked("is it safe"),
    asked("which unit", QUIET),
)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """A store with two students and the exercises."""
    opened = open_store(tmp_path_factory.mktemp("homework") / "store.sqlite")
    with opened.writing() as session:
        group = students.add_group(session, "Evening group")
        for name in (IVY, TOM):
            students.add_student(session, name, group)
        for one in EXERCISES:
            shelf.put(session, as_entry(one))
    yield opened
    opened.close()


def handed_out(desk: Store, words: Language) -> HomeworkTold:
    numbers = range(1, len(EXERCISES) + 1)
    return make(
        desk, "Is it safe?", [*numbers], DUE, group="Evening group", language=words, made=MADE
    )


@pytest.fixture
def wrong() -> list[str]:
    return []


@pytest.fixture
def offline(browser: Browser, wrong: list[str]) -> Iterator[Page]:
    """A page without a network; what goes wrong on it is collected, and fails the test."""
    context = browser.new_context(offline=True, viewport=DESK, device_scale_factor=POINTS)
    context.set_default_timeout(PATIENCE)
    page = context.new_page()

    def asked_for(url: str) -> None:
        if not re.fullmatch(r"file://[^#]*/homework\.html(#.*)?", url):
            wrong.append(f"a request leaves the page: {url}")

    context.on("request", lambda request: asked_for(request.url))
    context.on("console", lambda told: wrong.append(f"the console says: {told.text}"))
    context.on("weberror", lambda broken: wrong.append(f"an error on the page: {broken.error}"))
    yield page
    context.close()
    if wrong:
        pytest.fail("\n".join(wrong), pytrace=False)


def opened(page: Page, desk: Store, told: HomeworkTold, folder: Path) -> None:
    """Open the page from the disk."""
    file = folder / "homework.html"
    file.write_text(page_html(desk, told.row.number), encoding="utf-8")
    page.goto(file.as_uri())


def tap(page: Page, *squares: str) -> None:
    for square in squares:
        page.locator(f'[data-square="{square}"]').click()


def test_from_the_word_to_a_code_that_is_marked(
    desk: Store, offline: Page, wrong: list[str], tmp_path: Path
) -> None:
    page, look = offline, Look(offline, wrong)
    told = handed_out(desk, language("en"))
    opened(page, desk, told, tmp_path)
    look("homework, begun")
    word, begin = page.get_by_label("Your word from the slip"), page.get_by_role("button")
    slip = told.students[0].word
    word.fill("K" + slip[1:] if slip[0] != "K" else "H" + slip[1:])
    begin.click()
    expect(page.get_by_role("alert")).to_contain_text("Compare it letter by letter")
    look("homework, a word mistyped")
    word.fill(slip.lower().replace("-", " "))
    begin.click()

    expect(page.get_by_role("heading")).to_have_text("Exercise 1 of 6")
    tap(page, "g4", "f7", "a8")
    expect(page.get_by_role("status")).to_have_text("Your answer: a8, f7, g4.")
    tap(page, "a8", "e4")
    expect(page.get_by_role("status")).to_have_text("Your answer: f7, g4.")
    look("homework, which unit")
    page.get_by_role("button", name="Next").click()

    tap(page, "f8")
    look("homework, a unit picked up")
    tap(page, "e7", "b8", "b1", "c6")
    typed = page.get_by_label("Or type the move")
    typed.fill("Ke9")
    typed.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("“Ke9” is no move")
    typed.fill("nf6")
    typed.press("Enter")
    page.get_by_role("button", name="Take Nc6 away").click()
    expect(page.locator(".given")).to_have_text("Be7Take awayNf6Take away")
    page.get_by_role("button", name="Next").click()

    tap(page, "e7", "e8")
    look("homework, a promotion")
    page.get_by_role("button", name="e8=Q", exact=True).click()
    tap(page, "g1", "f1")
    expect(page.locator(".given")).to_have_text("Kf1Take away")
    page.get_by_role("button", name="Next").click()
    tap(page, "g5", "d8")
    page.get_by_role("button", name="Next").click()
    page.get_by_role("button", name="yes", exact=True).click()
    look("homework, yes or no")
    page.get_by_role("button", name="Next").click()
    page.get_by_role("button", name="nothing").click()
    page.get_by_role("button", name="To the end").click()

    expect(page.get_by_role("heading")).to_have_text("Is that all?")
    look("homework, all answers")
    page.get_by_role("button", name="Exercise 5 of 6").click()
    page.get_by_role("button", name="no", exact=True).click()
    page.get_by_role("button", name="All answers").click()
    page.get_by_role("button", name="Show my code").click()
    look("homework, the code")
    code = page.locator(".code").inner_text()
    assert "You can change nothing" not in page.inner_text("main")
    expect(page.locator(".given, form")).to_have_count(0)
    handed = hand_in_code(desk, code, made=MADE)
    assert handed.student == IVY
    assert [one.given_names for one in handed.results] == [
        "f7, g4",
        "Be7, Nf6",
        "Kf1",
        "Bxd8",
        "no",
        "none",
    ]
    # The page tells the student what marking tells the teacher.
    shown = page.locator("section.told").all()
    for section, result in zip(shown, handed.results, strict=True):
        sentences = section.locator("p:not(.answer)").all_inner_texts()[1:]
        assert tuple(sentences) == result.told
    page.get_by_role("button", name="Copy the code").click()
    expect(page.get_by_role("status")).to_have_text("The code is copied.")
    assert show(desk, told.row.number).students[0].hand_ins[0].verdicts[5] == "right"


def test_by_keys_alone_and_after_a_reload(desk: Store, offline: Page, tmp_path: Path) -> None:
    page = offline
    told = handed_out(desk, language("de"))
    opened(page, desk, told, tmp_path)
    keys = page.keyboard
    keys.press("Tab")
    keys.type(told.students[1].word)
    keys.press("Enter")
    expect(page.locator("h1")).to_be_focused()
    expect(page.locator("h1")).to_have_text("Aufgabe 1 von 6")
    keys.press("Tab")
    # The first square is a7; the board has Black below, so that a key up goes towards a1.
    focused = page.locator(":focus")
    assert re.match(r"a[78], Schwarz, ", focused.get_attribute("aria-label") or "")
    while (focused.get_attribute("data-square") or "")[1] != "4":
        keys.press("ArrowUp")
    while (focused.get_attribute("data-square") or "")[0] != "g":
        keys.press("ArrowLeft")
    keys.press("Enter")
    expect(focused).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_role("status")).to_have_text("Deine Antwort: g4.")
    while (focused.get_attribute("data-square") or "")[1] != "7":
        keys.press("ArrowDown")
    keys.press("ArrowRight")
    keys.press("Enter")
    expect(page.get_by_role("status")).to_have_text("Deine Antwort: f7, g4.")
    page.reload()
    keys.press("Tab")
    keys.press("Enter")
    for square in ("f7", "g4"):
        expect(page.locator(f'[data-square="{square}"]')).to_have_attribute("aria-pressed", "true")
    for number in range(2, 7):
        page.get_by_role("button", name="Weiter").press("Enter")
        expect(page.locator("h1")).to_have_text(f"Aufgabe {number} von 6")
    page.get_by_role("button", name="Zum Schluss").press("Enter")
    page.get_by_role("button", name="Meinen Code zeigen").press("Enter")
    expect(page.locator("h1")).to_have_text("Dein Code")
    handed = hand_in_code(desk, page.locator(".code").inner_text(), language("de"), made=MADE)
    assert [one.verdict for one in handed.results] == ["right", *["open"] * 5]


def test_nothing_in_the_source_says_what_is_right(desk: Store) -> None:
    told = handed_out(desk, language("en"))
    source = page_html(desk, told.row.number)
    answers = show(desk, told.row.number)
    for one in ("is not safe.", "keeps the material", "Nc6 loses", ">Right: ", '"Right: '):
        assert one not in source, one
    for student in answers.students:
        assert student.name.split(",")[0] not in source
        assert student.word not in source
    assert "http://" not in source.replace("http://www.w3.org/2000/svg", "")
    assert "https://" not in source
    assert len(source) < 400_000

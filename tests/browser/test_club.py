"""A club that is there: its students, groups, games and exercises, each page in each state."""

from __future__ import annotations

import shutil
import zipfile
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.looking import Look
from tests.browser.watch import Watch

pytestmark = [pytest.mark.xdist_group("browser: club"), pytest.mark.slow]


GERMAN = (
    ("/position?fen=4k3/8/8/3n4/4P3/8/8/4K3 b - - 0 1", "Springer auf d5"),
    ("/students", "Schüler"),
    ("/exercises", "Aufgaben"),
    ("/games/bring", "Partien hereinbringen"),
    ("/store", "Der Speicher"),
)
"""Pages, and what their headings say."""


@pytest.fixture(scope="module")
def store(filled: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Path(shutil.copy(filled, tmp_path_factory.mktemp("store") / "store.sqlite"))


def student(page: Page, name: str = "Weirwater, Ada") -> None:
    page.goto("/students")
    page.get_by_role("link", name=name).click()
    expect(page.get_by_role("heading", level=1)).to_have_text(name)


def part(page: Page, name: str) -> None:
    page.get_by_role("navigation", name="Parts of this page").get_by_role("link", name=name).click()


def undone(page: Page) -> None:
    page.get_by_role("button", name="Undo it").click()
    expect(page.get_by_role("button", name="Undo it")).to_be_hidden()


def test_contents(page: Page, look: Look) -> None:
    page.goto("/")
    expect(page.get_by_role("heading", level=1)).to_have_text("Contents")
    look("contents")


def test_students_are_added_and_moved(page: Page, look: Look) -> None:
    page.goto("/students")
    page.get_by_label("Name of the group").fill("Thursday")
    page.get_by_role("button", name="Add the group").click()
    expect(page.get_by_role("heading", name="Thursday")).to_be_visible()
    page.get_by_label("Name, as games write it").fill("Ropewalk, Pim")
    page.get_by_role("button", name="Add the student").click()
    page.get_by_label("The group of Ropewalk, Pim").select_option("Thursday")
    look("students")
    page.get_by_role("link", name="Ropewalk, Pim").click()
    expect(page.get_by_text("No game of this student is here yet")).to_be_visible()
    look("a student without games")


def test_a_record_and_the_coming_weeks(page: Page, look: Look) -> None:
    student(page)
    expect(page.get_by_role("button", name="PDF to print")).to_be_visible()
    look("a record")
    part(page, "The coming weeks")
    expect(page.get_by_text("Nothing stands out in 2 games yet")).to_be_visible()
    look("a student's coming weeks")


def test_a_report_in_ones_own_words(page: Page, look: Look) -> None:
    student(page)
    part(page, "For the student")
    look("a student's report")
    page.get_by_role("button", name="Put it in my own words").click()
    look("a report in my own words")
    page.get_by_label("Text").first.fill("For Ada")
    page.get_by_role("button", name="Done with the words").click()
    expect(page.get_by_role("heading", name="For Ada")).to_be_visible()
    expect(page.get_by_text("One text is yours")).to_be_visible()
    with page.expect_download() as fetched:
        page.get_by_role("button", name="PDF to print").click()
    assert Path(fetched.value.path()).read_bytes().startswith(b"%PDF")


def test_names_are_changed_and_changed_back(page: Page, look: Look) -> None:
    student(page, "Sluicegate, Ned")
    part(page, "Names and data")
    page.get_by_label("One more").fill("N. Sluicegate")
    page.get_by_role("button", name="Add the name").click()
    page.get_by_role("button", name="remove N. Sluicegate").click()
    expect(page.get_by_text("no longer means Sluicegate, Ned")).to_be_visible()
    look("a name removed")
    undone(page)
    expect(page.get_by_role("button", name="remove N. Sluicegate")).to_be_visible()


def test_erasing_waits_ten_seconds_and_can_be_stopped(page: Page, look: Look) -> None:
    student(page, "Paddlewheel, Hugo")
    part(page, "Names and data")
    page.get_by_label("Type the name").fill("Paddlewheel, Hugo")
    page.get_by_role("button", name="Erase the student").click()
    expect(page.get_by_text("Erasing in a moment.")).to_be_visible()
    page.get_by_role("button", name="Stop").click()
    expect(page.get_by_text("Stopped; nothing was erased.")).to_be_visible()
    look("an erasing stopped")
    page.get_by_label("Type the name").fill("Paddlewheel, Hugo")
    page.get_by_role("button", name="Erase the student").click()
    expect(page.get_by_text("Erasing in a moment.")).to_be_visible()
    page.reload()
    expect(page.get_by_text("Erasing in a moment.")).to_be_visible()
    look("an erasing begun")
    expect(page.get_by_role("heading", level=1)).to_have_text("Students")
    expect(page.get_by_role("link", name="Paddlewheel, Hugo")).to_be_hidden()


def test_a_group_its_lessons_and_its_removal(page: Page, look: Look) -> None:
    page.goto("/students")
    page.get_by_role("link", name="Monday").click()
    expect(page.get_by_text("Nothing stands out")).to_be_visible()
    look("a group's coming weeks")
    part(page, "Positions without names")
    expect(page.get_by_role("button", name="PDF to print")).to_be_visible()
    look("positions without names")
    part(page, "Lessons and slips")
    page.get_by_label("What was taught").fill("Pins")
    page.get_by_role("button", name="Note the lesson").click()
    page.get_by_role("button", name="remove Pins").click()
    look("a lesson removed")
    undone(page)
    expect(page.get_by_role("button", name="remove Pins")).to_be_visible()
    page.get_by_role("button", name="Remove the group").click()
    expect(page.get_by_text("The group “Monday” was removed")).to_be_visible()
    look("a group removed")
    undone(page)
    expect(page.get_by_role("heading", level=1)).to_have_text("Monday")


def test_games_one_by_one(page: Page, look: Look) -> None:
    page.goto("/games/list")
    look("games one by one")
    page.get_by_role("link", name="Millpondle, Tom – Weirwater, Ada").click()
    expect(page.get_by_role("heading", name="Places to look")).to_be_visible()
    look("a game")
    page.get_by_role("button", name="On", exact=True).click()


def test_an_exercise_and_ones_word_on_it(page: Page, look: Look) -> None:
    page.goto("/exercises")
    page.get_by_role("link", name="No. 1", exact=True).click()
    expect(page.get_by_role("heading", name="The answer")).to_be_visible()
    look("an exercise")
    page.get_by_label("Why, as it will be printed").fill("Too hard for Monday.")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_text("Your word on exercise 1 is kept.")).to_be_visible()
    look("an exercise struck")
    undone(page)
    expect(page.get_by_text("Struck: Too hard")).to_be_hidden()


def test_a_sheet_of_exercises(page: Page, look: Look) -> None:
    page.goto("/exercises")
    page.get_by_role("spinbutton").fill("3")
    page.get_by_role("button", name="be chosen").click()
    expect(page.get_by_text("3 exercises for the sheet")).to_be_visible()
    look("exercises chosen")
    page.get_by_role("link", name="Make the sheet").click()
    whole = page.get_by_role("button", name="All as PDF, with the answers")
    expect(whole).to_be_enabled()
    look("a sheet")
    with page.expect_download() as fetched:
        whole.click()
    with zipfile.ZipFile(fetched.value.path()) as files:
        assert all(files.read(name).startswith(b"%PDF") for name in files.namelist())
        assert any(name.startswith("Answers") for name in files.namelist())


def test_a_backup_is_put_in_place_and_that_is_undone(page: Page, look: Look) -> None:
    page.goto("/store")
    look("the store")
    with page.expect_download() as fetched:
        page.get_by_role("button", name="Fetch the backup").click()
    page.get_by_label("The backup", exact=True).set_input_files(fetched.value.path())
    page.get_by_role("button", name="Put it in place").click()
    expect(page.get_by_text("The backup is in place")).to_be_visible()
    look("a backup in place")
    undone(page)
    expect(page.get_by_text("6 games", exact=False).first).to_be_visible()


def test_what_is_no_backup_is_refused(page: Page, watch: Watch, look: Look, tmp_path: Path) -> None:
    watch.expected.add(409)
    wrong = tmp_path / "holiday.jpg"
    wrong.write_bytes(b"no backup")
    page.goto("/store")
    page.get_by_label("The backup", exact=True).set_input_files(wrong)
    page.get_by_role("button", name="Put it in place").click()
    expect(page.get_by_role("alert")).to_be_visible()
    look("no backup")


def test_the_pages_in_german(page: Page, look: Look) -> None:
    page.goto("/")
    page.get_by_label("Language").select_option("Deutsch")
    expect(page.get_by_role("heading", level=1)).to_have_text("Inhalt")
    expect(page.locator("html")).to_have_attribute("lang", "de")
    look("contents in German")
    for path, told in GERMAN:
        page.goto(path)
        expect(page.get_by_role("heading", level=1)).to_contain_text(told)
        expect(page.get_by_text("Es wird ermittelt")).to_be_hidden()
        look(f"{told} in German")

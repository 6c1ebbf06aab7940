"""The teacher's week around one lesson, from the week's positions to the practice set."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import opened, wait_for
from tests.browser.looking import Look
from tests.browser.watch import Watch
from tests.serving import free_port, serving

pytestmark = [pytest.mark.xdist_group("browser: lesson desk"), pytest.mark.slow]
PASSWORD = "the wheel turns"
LONG = 120_000
"""Milliseconds for work that is long."""
ASKED = "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1"
SAVED = "kept in the file"
STUDENT = "Flourdust, Ivy"


@pytest.fixture(scope="module")
def workbench(pages: Path, filled: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    assert pages.is_dir()
    store = shutil.copy(filled, tmp_path_factory.mktemp("store") / "store.sqlite")
    port = free_port()
    with serving(port, "--share", "--store", str(store), password=PASSWORD):
        wait_for(port)
        yield f"http://127.0.0.1:{port}"


@pytest.fixture
def other(browser: Browser, workbench: str) -> Iterator[Watch]:
    """The browser of the student."""
    with opened(browser, workbench) as watch:
        yield watch


def test_from_the_week_to_the_practice_set(page: Page, look: Look, other: Watch) -> None:
    page.goto("/lessons")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Come in").click()
    drafted(page, look)
    caught_and_mended(page, look)
    taught(page)
    link = handed_out(page, look)
    before = practice(page, look)
    done(other, link)
    marked(page, look)
    assert practice(page, look) != before
    answered(page, look)


def drafted(page: Page, look: Look) -> None:
    """The group's week, written, becomes a lesson."""
    page.get_by_role("link", name="The week").click()
    page.get_by_label("Group").select_option("Monday")
    page.get_by_role("button", name="Propose positions").click()
    expect(page.get_by_role("heading", name="1. The positions")).to_be_visible(timeout=LONG)
    page.get_by_role("button", name="Write the sheets").click()
    expect(page.get_by_role("button", name="All files in one")).to_be_visible(timeout=LONG)
    page.get_by_role("link", name="Lessons", exact=True).click()
    page.get_by_label("Name of the draft").fill("the week")
    choice = page.get_by_label("From")
    option = choice.get_by_role("option", name=re.compile("the week of Monday"))
    choice.select_option(option.get_attribute("value"))
    look("a lesson to draft")
    page.get_by_role("button", name="Draft it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("the week", timeout=LONG)


def caught_and_mended(page: Page, look: Look) -> None:
    """A claim is turned into a falsehood, told as one, and put right."""
    first = page.get_by_role("region", name="Position 1")
    claim = first.get_by_label("Claim 1", exact=True)
    expect(first.get_by_text("true", exact=True).first).to_be_visible(timeout=LONG)
    true = claim.input_value()
    assert true.startswith("unsafe: ")
    claim.fill(true.replace("unsafe", "safe", 1))
    expect(first.get_by_text("not true")).to_be_visible(timeout=LONG)
    look("a draft with a falsehood")
    claim.fill(true)
    expect(first.get_by_text("not true")).to_have_count(0, timeout=LONG)
    expect(page.get_by_text(SAVED)).to_be_visible()


def taught(page: Page) -> None:
    page.get_by_role("button", name="Teach it on the class board").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("the week", timeout=LONG)
    expect(page.get_by_role("heading", name="What stands here")).to_be_visible()
    page.goto("/students")
    page.get_by_role("link", name="Monday").first.click()
    page.get_by_role("link", name="Lessons and slips").click()
    page.get_by_label("What was taught").fill("The week's positions")
    page.get_by_role("group", name="Who was here").get_by_label(STUDENT).check()
    page.get_by_role("button", name="Note the lesson").click()
    expect(page.get_by_text("one was here")).to_be_visible()


def handed_out(page: Page, look: Look) -> str:
    """The path of the student's own link."""
    page.get_by_role("link", name="Lessons", exact=True).click()
    page.get_by_role("link", name="the week", exact=True).click()
    page.get_by_role("link", name="Homework from it").click()
    expect(page.get_by_label("Title")).to_have_value("the week")
    page.get_by_label("For whom").select_option(label="Monday")
    look("homework to hand out")
    page.get_by_role("button", name="Hand it out").click()
    expect(page.get_by_role("heading", name="What came back")).to_be_visible(timeout=LONG)
    look("homework, nothing came back")
    with page.expect_download() as slips:
        page.get_by_role("button", name="Slips to cut out").click()
    assert slips.value.suggested_filename.endswith(".pdf")
    link = page.get_by_role("row", name=STUDENT).get_by_role("link").get_attribute("href")
    assert link is not None
    return link


def practice(page: Page, look: Look) -> str:
    """What the student's practice for the week asks."""
    back = page.url
    page.goto("/students")
    page.get_by_role("link", name=STUDENT).click()
    page.get_by_role("link", name="Practice", exact=True).click()
    page.get_by_label("Minutes").fill("10")
    page.get_by_role("button", name="Choose this week’s practice").click()
    expect(page.get_by_role("button", name="Page and answers to print")).to_be_visible(timeout=LONG)
    look("a student's practice")
    told: str = page.locator("main").inner_text()
    page.goto(back)
    return told


def done(other: Watch, link: str) -> None:
    """The student does the homework by the link, leaves much open, and hands it in."""
    student = other.context.new_page()
    student.goto(link)
    Look(student, other.wrong)("a student's own homework")
    with other.context.expect_page() as opening:
        student.get_by_role("link", name="Do the homework").click()
    sheet = opening.value
    sheet.get_by_role("button", name="Begin").click()
    sheet.get_by_role("button", name="nothing", exact=True).first.click()
    end = sheet.get_by_role("button", name="To the end")
    while not end.is_visible():
        sheet.get_by_role("button", name="Next").click()
    end.click()
    sheet.get_by_role("button", name="Show my code").click()
    code = sheet.locator("#code, .code").first.inner_text()
    student.get_by_label("At its end stands a code").fill(code)
    student.get_by_role("button", name="Hand it in").click()
    expect(student.get_by_text("Your teacher has it. Well done.")).to_be_visible()
    expect(student.get_by_role("heading", name="Look at this once more")).to_be_visible()
    Look(student, other.wrong)("a student's result")


def marked(page: Page, look: Look) -> None:
    page.reload()
    row = page.get_by_role("row", name=STUDENT)
    expect(row.get_by_role("cell", name="not yet").first).to_be_visible()
    row.get_by_role("button", name="Show it").click()
    expect(page.get_by_role("region", name="Result")).to_contain_text("Your answer: none")
    look("homework that came back")


def answered(page: Page, look: Look) -> None:
    page.goto(f"/position?fen={ASKED}")
    page.get_by_role("link", name="A student asks about it").click()
    page.get_by_label("The question").fill("Is my bishop on e5 safe?")
    page.get_by_role("button", name="Draft a reply").click()
    text = page.get_by_label("The reply, to be changed")
    expect(text).to_have_value(re.compile("e5"), timeout=LONG)
    expect(page.get_by_role("img").first).to_be_visible()
    look("a reply")

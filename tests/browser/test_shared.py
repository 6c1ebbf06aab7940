"""A workbench on the club's network: the teacher, the student with a link, and a stranger."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import opened, wait_for
from tests.browser.looking import Look
from tests.browser.watch import Watch
from tests.serving import free_port, serving

pytestmark = [pytest.mark.xdist_group("browser: club"), pytest.mark.slow]
PASSWORD = "the wheel turns"
BOARD = "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"


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
    """The browser of somebody else."""
    with opened(browser, workbench) as watch:
        yield watch


def test_a_report_is_shared_and_withdrawn(
    page: Page, watch: Watch, look: Look, other: Watch
) -> None:
    watch.expected.add(403)
    other.expected.add(404)
    page.goto("/students")
    come_in(page, look)
    link = shared(page, look)
    student = other.context.new_page()
    reads(student, Look(student, other.wrong), link)
    refused(student, Look(student, other.wrong))
    slips(page, look)
    page.get_by_role("link", name="The store").click()
    look("the store, shared")
    page.get_by_role("button", name="Withdraw all links").click()
    expect(page.get_by_text("No link that was given out")).to_be_visible()
    student.goto(link)
    expect(student.get_by_role("alert")).to_contain_text("This link is not good")
    page.get_by_role("button", name="Log out").click()
    expect(page.get_by_label("Password")).to_be_visible()


def come_in(page: Page, look: Look) -> None:
    look("the password")
    page.get_by_label("Password").fill("the wheel stands")
    page.get_by_role("button", name="Come in").click()
    expect(page.get_by_role("alert")).to_contain_text("not the teacher's password")
    look("another password")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Come in").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Students")


def shared(page: Page, look: Look) -> str:
    """The path of a link to a student's report."""
    page.get_by_role("link", name="Flourdust, Ivy").click()
    page.get_by_role("link", name="For the student").click()
    page.get_by_role("button", name="Share it by a link").click()
    address = page.locator("code").first
    expect(address).to_contain_text("/s/")
    look("a link")
    return urlsplit(address.inner_text()).path


def reads(student: Page, look: Look, link: str) -> None:
    """The student sees the report, can print it, and is shown no way to anything else."""
    student.goto(link)
    expect(student.get_by_role("heading", level=1)).to_contain_text("Ivy")
    expect(student.get_by_role("navigation")).to_have_count(0)
    look("a shared report")
    with student.expect_download() as fetched:
        student.get_by_role("button", name="PDF to print").click()
    assert Path(fetched.value.path()).read_bytes().startswith(b"%PDF")


def refused(student: Page, look: Look) -> None:
    """With or without a link of one's own, all else asks for the password."""
    for path in ("/", "/students", "/students/1", "/games", "/week"):
        student.goto(path)
        expect(student.get_by_label("Password")).to_be_visible()
        assert "Weirwater" not in student.inner_text("body")
    assert student.request.get("/api/students").status == 401
    student.goto("/s/aaaaa-aaaaa-aaaaa-aaaaa")
    expect(student.get_by_role("alert")).to_contain_text("This link is not good")
    look("a bad link")


def slips(page: Page, look: Look) -> None:
    page.get_by_role("link", name="Monday").click()
    page.get_by_role("link", name="Lessons and slips").click()
    look("slips")
    with page.expect_download() as fetched:
        page.get_by_role("button", name="For the students").click()
    assert Path(fetched.value.path()).read_bytes().startswith(b"%PDF")


def test_the_class_follows_by_its_link_and_comes_no_further(page: Page, other: Watch) -> None:
    page.goto("/class")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Come in").click()
    page.get_by_label("Positions: a FEN or EPD on each line").fill(BOARD)
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.get_by_role("heading", name="What stands here")).to_be_visible()
    link = page.get_by_role("link", name="Open the class’s screen").get_attribute("href")
    screen = other.context.new_page()
    screen.goto(link or "")
    square = screen.get_by_role("gridcell", name="e5")
    expect(square).to_have_accessible_name("e5, black knight")
    page.keyboard.press("s")
    expect(square).to_have_accessible_name("e5, black knight, not safe")
    desk = urlsplit(page.url).path
    for path in (desk, "/class"):
        screen.goto(path)
        expect(screen.get_by_label("Password")).to_be_visible()
        expect(screen.get_by_role("grid")).to_have_count(0)
    assert screen.request.get(f"/api/classes/{desk.rsplit('/', 1)[1]}").status == 401

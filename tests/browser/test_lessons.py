"""A lesson is begun, changed into a falsehood, mended, and is the same file as text."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import FilePayload, Page, expect

from tests.browser.keys import Keys
from tests.browser.looking import Look
from tests.browser.watch import Watch

pytestmark = pytest.mark.xdist_group("browser: lessons")
PIN = "4k3/p4ppp/4b3/8/3P1P2/8/5P1P/4R1K1 b - - 0 1"
SAVED = "kept in the file"


def begun(page: Page, name: str) -> None:
    page.goto("/lessons")
    page.get_by_label("Its name").fill(name)
    page.get_by_role("button", name="Begin it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text(name)
    expect(page.get_by_text("true", exact=True)).to_have_count(9)


def test_a_falsehood_is_caught_and_mended(page: Page, look: Look, store: Path) -> None:
    page.goto("/lessons")
    look("lessons, none yet")
    begun(page, "guard or move")
    look("a lesson, all true")
    file = store.with_name("lessons") / "guard or move.md"
    before = file.read_bytes()
    first = page.get_by_role("region", name="Position 1")
    claim = first.get_by_label("Claim 5")
    expect(claim).to_have_value("falls: Re8 because fxe5")
    claim.fill("falls: Nc6 because fxe5")
    expect(first.get_by_text("cannot be read")).to_be_visible()
    claim.fill("falls: Nc6")
    expect(first.get_by_text("not true")).to_be_visible()
    expect(first.get_by_text("Nc6 keeps the material")).to_be_visible()
    look("a lesson with a falsehood")
    first.locator("button.line").first.click()
    expect(first.get_by_role("group", name="The line on the board")).to_be_visible()
    look("its line on the board")
    claim.fill("falls: Re8 because fxe5")
    expect(first.get_by_text("not true")).to_have_count(0)
    expect(page.get_by_text(SAVED)).to_be_visible()
    assert file.read_bytes() == before


def test_a_claim_is_tapped_and_offered(page: Page, look: Look, store: Path) -> None:
    begun(page, "tapped")
    second = page.get_by_role("region", name="Position 2")
    second.get_by_role("button", name="Write a claim").click()
    board = second.get_by_role("grid", name="The board to tap")
    board.get_by_role("gridcell", name="e6").click()
    expect(second.get_by_text("unsafe: e6", exact=True)).to_be_visible()
    look("a claim by squares")
    second.get_by_label("What you say").select_option("loses, because …")
    board.get_by_role("gridcell", name="e8").click()
    board.get_by_role("gridcell", name="d7").click()
    expect(board.get_by_role("gridcell", name="d7, black king")).to_be_visible()
    board.get_by_role("gridcell", name="e1").click()
    board.get_by_role("gridcell", name="a1").click()
    expect(second.get_by_text("falls: Kd7 because Ra1", exact=True)).to_be_visible()
    second.get_by_role("button", name="Add this claim").click()
    expect(second.get_by_label("Claim 5")).to_have_value("falls: Kd7 because Ra1")
    second.get_by_role("button", name="Say what is true here").click()
    second.get_by_role("button", name="mechanism: e6 trapped", exact=True).click()
    expect(second.get_by_label("Claim 6")).to_have_value("mechanism: e6 trapped")
    expect(second.get_by_text("true", exact=True)).to_have_count(6)
    look("what is true is offered")
    expect(page.get_by_text(SAVED)).to_be_visible()
    text = (store.with_name("lessons") / "tapped.md").read_text("utf-8")
    assert "line: pass f5\nfalls: Kd7 because Ra1\nmechanism: e6 trapped\n```" in text


def test_the_text_and_the_form_are_the_same_file(page: Page, store: Path, look: Look) -> None:
    text = f"# Ends of lines\r\n\r\n```position\r\n{PIN}\r\nunsafe:  e6 \r\n```\r\n\r\nThe end."
    payload: FilePayload = {
        "name": "ends.md",
        "mimeType": "text/markdown",
        "buffer": text.encode(),
    }
    page.goto("/lessons")
    page.get_by_label("Or bring in a file (Markdown)").set_input_files(payload)
    expect(page.get_by_role("heading", level=1)).to_have_text("ends")
    file = store.with_name("lessons") / "ends.md"
    assert file.read_bytes() == text.encode()
    page.get_by_label("Text 3").fill("\nAnother end.")
    expect(page.get_by_text(SAVED)).to_be_visible()
    assert file.read_bytes() == text.replace("The end.", "Another end.").encode()
    page.get_by_label("the file as plain text").check()
    whole = page.get_by_label("The whole lesson")
    look("a lesson as text")
    whole.fill(whole.input_value().replace("Ends of lines", "Lines"))
    page.get_by_label("the file as plain text").uncheck()
    expect(page.get_by_role("region", name="Position 1")).to_be_visible()
    expect(page.get_by_text(SAVED)).to_be_visible()
    assert b"# Lines\r\n\r\n```position\r\n" in file.read_bytes()


def test_what_was_changed_elsewhere_is_asked_about(page: Page, watch: Watch, store: Path) -> None:
    watch.expected.add(409)
    begun(page, "twice")
    file = store.with_name("lessons") / "twice.md"
    file.write_text("# Changed by an editor\n", "utf-8")
    page.get_by_label("Text 1").fill("Mine\n")
    expect(page.get_by_text("What you typed is still here.")).to_be_visible()
    assert file.read_text("utf-8") == "# Changed by an editor\n"
    page.get_by_role("button", name="Keep what stands here").click()
    expect(page.get_by_text(SAVED)).to_be_visible()
    assert file.read_text("utf-8").startswith("Mine\n")


def test_a_lesson_is_renamed_removed_and_put_back(page: Page, look: Look) -> None:
    begun(page, "first name")
    page.get_by_role("link", name="All lessons").click()
    page.get_by_role("button", name="Rename it: first name").click()
    look("a lesson's other name")
    page.get_by_label("Its new name").fill("second name")
    page.get_by_role("button", name="Keep it").click()
    page.get_by_role("button", name="Remove it: second name").click()
    expect(page.get_by_role("link", name="second name")).to_have_count(0)
    page.get_by_role("button", name="Undo it").click()
    expect(page.get_by_role("link", name="second name")).to_be_visible()


def test_a_claim_is_written_by_keys(page: Page) -> None:
    begun(page, "by keys")
    keys = Keys(page)
    second = page.get_by_role("region", name="Position 2")
    keys.to(second.get_by_role("button", name="Write a claim"))
    keys.press("Enter")
    keys.to(second.get_by_label("Squares: tap them, or type them"))
    page.keyboard.type("h7")
    keys.press("Enter")
    expect(second.get_by_label("Claim 5")).to_have_value("unsafe: h7")
    expect(second.get_by_text("not true")).to_be_visible()

"""The first time: nothing is there, and every page says what to begin with."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.looking import look

pytestmark = pytest.mark.xdist_group("browser: first run")


def test_the_first_page_says_what_to_begin_with(page: Page) -> None:
    page.goto("/")
    expect(page.get_by_role("heading", level=1)).to_have_text(
        "Pieces are lost because nobody noticed."
    )
    look(page, "first run")
    page.get_by_role("link", name="Your students’ games").click()
    expect(page.get_by_label("Drop files of games here, or choose them")).to_be_visible()

"""What these tests rely on is tried itself: that wrong things on a page are noticed."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.browser.keys import Keys
from tests.browser.looking import Look
from tests.browser.watch import Watch

pytestmark = pytest.mark.xdist_group("browser: first run")


def noticed(watch: Watch) -> str:
    told = "\n".join(watch.wrong)
    watch.wrong.clear()
    return told


@pytest.mark.parametrize(
    ("html", "told"),
    [
        ('<p style="color: #bbb; background: #ccc">pale</p>', "color-contrast"),
        ("<input>", "label"),
        ('<div style="width: 1500px">wide</div>', "wider than the window"),
        ('<button style="width: 9px; height: 9px; padding: 0; min-height: 0"></button>', "name"),
    ],
)
def test_a_broken_rule_is_noticed(
    page: Page, look: Look, watch: Watch, html: str, told: str
) -> None:
    page.goto("/position")
    page.get_by_role("textbox").wait_for()
    page.evaluate("(html) => document.body.insertAdjacentHTML('beforeend', html)", html)
    look("broken")
    assert told in noticed(watch)


def test_a_request_to_elsewhere_is_noticed(page: Page, watch: Watch) -> None:
    page.goto("/position")
    page.evaluate("fetch('http://192.0.2.1:9/').catch(() => null)")
    assert "Content Security Policy" in noticed(watch)
    with pytest.raises(Exception, match="ERR_"):
        page.goto("http://millrace.example/")
    assert "a request leaves the workbench" in noticed(watch)


def test_an_answer_that_is_no_success_and_an_error_are_noticed(page: Page, watch: Watch) -> None:
    page.goto("/students/99")
    page.get_by_role("alert").wait_for()
    assert "404 from" in noticed(watch)
    page.evaluate("setTimeout(() => { throw new Error('a fault') })")
    page.evaluate("new Promise((over) => setTimeout(over, 50))")
    assert "a fault" in noticed(watch)


def test_a_lost_or_hidden_focus_is_noticed(page: Page) -> None:
    page.goto("/position")
    keys = Keys(page)
    keys.to(page.get_by_role("textbox"))
    page.evaluate("document.activeElement.style.outline = 'none'")
    with pytest.raises(AssertionError, match="no ring"):
        keys.check()
    page.evaluate("document.activeElement.blur()")
    with pytest.raises(AssertionError, match="on nothing"):
        keys.check()

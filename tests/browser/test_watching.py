"""What these tests rely on is tried itself: that wrong things on a page are noticed."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.browser.keys import Keys
from tests.browser.looking import Look
from tests.browser.watch import Watch

pytestmark = pytest.mark.xdist_group("browser: first run")


ADD = """([html, style]) => {
  const where = document.createElement("div");
  where.innerHTML = html;
  for (const one of where.children) one.style.cssText = style;
  document.body.append(where);
}"""


def noticed(watch: Watch) -> str:
    told = "\n".join(watch.wrong)
    watch.wrong.clear()
    return told


@pytest.mark.parametrize(
    ("html", "style", "told"),
    [
        ("<p>pale</p>", "color: #bbb; background: #ccc", "slate: color-contrast"),
        ("<p>pale</p>", "color: #bbb; background: #ccc", "360 wide: color-contrast"),
        ("<input>", "", "200 %: label"),
        ("<p>wide</p>", "width: 400px", "360 wide: wider than the window"),
        ("<p>wide</p>", "width: 700px", "200 %: wider than the window"),
        ("<button>a</button><button>b</button>", "all: unset; width: 9px", "target-size"),
    ],
)
def test_a_broken_rule_is_noticed(
    page: Page, look: Look, watch: Watch, html: str, style: str, told: str
) -> None:
    page.goto("/position")
    page.get_by_role("textbox").wait_for()
    page.evaluate(ADD, [html, style])
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

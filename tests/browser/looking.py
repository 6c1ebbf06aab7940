"""Looking at a page as it stands: by the rules of WCAG 2.2 AA, on paper and slate, small and large.

The rules are axe's (axe-core, from the front end's lock file). Zoom to 200 % is a window half as
wide and high with twice as many points to each of its units: that is what a browser makes of it.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

from playwright.sync_api import Page

AXE = Path(__file__).parents[2] / "frontend" / "node_modules" / "axe-core" / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@dataclass(frozen=True, slots=True)
class View:
    """A window: its width and height, paper or slate."""

    name: str
    width: int
    height: int
    scheme: Literal["light", "dark"] = "light"


DESK = View("paper", 1280, 900)
POINTS = 2
"""Points to each unit of a window."""
VIEWS = (
    View("slate", 1280, 900, scheme="dark"),
    View("360 wide", 360, 740),
    View("200 %", 640, 450),
    DESK,
)


@cache
def axe() -> str:
    assert AXE.is_file(), "axe is not there; it comes with the front end's packages: make front"
    return AXE.read_text(encoding="utf-8")


class Look:
    """Called with the name of a state: whatever is wrong with the page as it stands is noted.

    The page is left as it is on the desk. Where FASTNESS_PICTURES names a folder, a picture of
    each view is kept there.
    """

    def __init__(self, page: Page, wrong: list[str]) -> None:
        self._page, self._wrong = page, wrong
        self._pictures = os.environ.get("FASTNESS_PICTURES")

    def __call__(self, state: str) -> None:
        if not self._page.evaluate("'axe' in window"):
            self._page.evaluate(axe())
        for view in VIEWS:
            put(self._page, view)
            found = [*broken(self._page), *wide(self._page)]
            self._wrong += [f"{state}, {view.name}: {one}" for one in found]
            if self._pictures:
                file = Path(self._pictures) / f"{state} - {view.name}.png".replace("/", "_")
                self._page.screenshot(path=file, full_page=True)


def put(page: Page, view: View) -> None:
    """See the page in a view."""
    page.emulate_media(color_scheme=view.scheme)
    page.set_viewport_size({"width": view.width, "height": view.height})


SETTLED = """() => {
  const moving = document.getAnimations().map((one) => one.finished.catch(() => null));
  return Promise.all(moving).then(() => null);
}"""


def broken(page: Page) -> list[str]:
    """The rules of axe that are broken, each with where."""
    # A page that has not come wholly in has other colours.
    page.evaluate(SETTLED)
    found: dict[str, Any] = page.evaluate(
        "(rules) => axe.run(document, { runOnly: rules, resultTypes: ['violations'] })", RULES
    )
    return [
        f"{one['id']} ({one['help']}): {node['html'][:160]}"
        for one in found["violations"]
        for node in one["nodes"]
    ]


WIDE = """() => {
  const width = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= width) return [];
  const out = (one) => one.getBoundingClientRect().right > width + 0.5;
  const all = [...document.body.querySelectorAll("*")].filter(out);
  const last = all.filter((one) => ![...one.children].some(out));
  return last.slice(0, 3).map((one) => one.outerHTML.slice(0, 160));
}"""


def wide(page: Page) -> list[str]:
    """What makes the page wider than the window."""
    found: list[str] = page.evaluate(WIDE)
    return [f"wider than the window: {one}" for one in found]

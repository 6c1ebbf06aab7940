"""Looking at a page as it stands: by the rules of WCAG 2.2 AA, on paper and slate, small and large.

The rules are axe's (axe-core, from the front end's lock file). Zoom to 200 % is a window half as
wide and high with twice as many points to each: that is what a browser makes of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

from playwright.sync_api import Page

AXE = Path(__file__).parents[2] / "frontend" / "node_modules" / "axe-core" / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@dataclass(frozen=True, slots=True)
class View:
    """A window: its width and height, points to each of its units, paper or slate."""

    name: str
    width: int
    height: int
    points: int = 1
    scheme: Literal["light", "dark"] = "light"


DESK = View("paper", 1280, 900)
VIEWS = (
    View("slate", 1280, 900, scheme="dark"),
    View("360 wide", 360, 740, 2),
    View("200 %", 640, 450, 2),
    DESK,
)


@cache
def axe() -> str:
    assert AXE.is_file(), "axe is not there; it comes with the front end's packages: make front"
    return AXE.read_text(encoding="utf-8")


def look(page: Page, state: str) -> None:
    """Nothing on the page as it stands breaks a rule, in any view; it is left as on the desk."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(axe())
    wrong = []
    for view in VIEWS:
        put(page, view)
        wrong += [f"{state}, {view.name}: {one}" for one in [*broken(page), *wide(page)]]
    assert wrong == []


def put(page: Page, view: View) -> None:
    """See the page in a view."""
    page.emulate_media(color_scheme=view.scheme)
    size = {"width": view.width, "height": view.height}
    client = page.context.new_cdp_session(page)
    client.send(
        "Emulation.setDeviceMetricsOverride",
        {**size, "deviceScaleFactor": view.points, "mobile": False},
    )
    client.detach()
    page.wait_for_function("([width]) => innerWidth === width", arg=[view.width])


def broken(page: Page) -> list[str]:
    """The rules of axe that are broken, each with where."""
    # A page that has not come wholly in has other colours.
    page.wait_for_function("document.getAnimations().length === 0")
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
  const out = [...document.body.querySelectorAll("*")].filter(
    (one) => one.getBoundingClientRect().right > width + 0.5,
  );
  return out.map((one) => one.outerHTML.slice(0, 160));
}"""


def wide(page: Page) -> list[str]:
    """What makes the page wider than the window."""
    found: list[str] = page.evaluate(WIDE)
    return [f"wider than the window: {one}" for one in found]

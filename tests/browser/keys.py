"""A reader who uses the keyboard alone: on by Tab, and the focus always to be seen."""

from __future__ import annotations

from playwright.sync_api import Locator, Page

MOST = 400
"""Presses of Tab after which something cannot be reached."""

FOCUS = """() => {
  const one = document.activeElement;
  if (!one || one === document.body) return "the focus is on nothing";
  const told = one.outerHTML.slice(0, 160);
  // The head of a page takes the focus to be read from, and cannot be pressed.
  if (one.matches("main, h1")) return "";
  const style = getComputedStyle(one);
  const ringed = style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
  if (!ringed) return `no ring: ${told}`;
  const box = one.getClientRects()[0];
  const spots = [0.05, 0.5, 0.95].flatMap((x) =>
    [0.1, 0.5, 0.9].map((y) => [box.left + x * box.width, box.top + y * box.height]),
  );
  const seen = spots.some(([x, y]) => {
    const top = document.elementFromPoint(x, y);
    return top && (one.contains(top) || top.contains(one));
  });
  return seen ? "" : `out of sight: ${told}`;
}"""


class Keys:
    """Presses keys on a page. Raises AssertionError where the focus is lost or cannot be seen."""

    def __init__(self, page: Page) -> None:
        self._page = page

    def check(self) -> None:
        """The focus is on something, with a ring around it, and in sight."""
        wrong = self._page.evaluate(FOCUS)
        assert not wrong, wrong

    def to(self, wanted: Locator) -> None:
        """Press Tab until something has the focus."""
        wanted.wait_for()
        for _ in range(MOST):
            self._page.keyboard.press("Tab")
            self.check()
            if wanted.evaluate("(one) => one === document.activeElement"):
                return
        raise AssertionError(f"{wanted} is not reached by Tab")

    def press(self, key: str) -> None:
        """Press a key; the focus is not lost by it."""
        self._page.keyboard.press(key)
        self._page.evaluate("new Promise(requestAnimationFrame)")
        self.check()

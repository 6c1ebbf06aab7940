"""What goes wrong in a browser beside what a test looks at: errors, and requests to elsewhere."""

from __future__ import annotations

from collections import Counter

from playwright.sync_api import BrowserContext, ConsoleMessage, Request, Response, WebError

REFUSED = "Failed to load resource"
"""How Chromium tells of an answer that is no success; those are watched as answers."""
OFTEN = 60
"""Requests of one address by which a page goes in a circle."""


class Watch:
    """Collects in `wrong` all that no page may do. `expected` are answers that a test provokes."""

    def __init__(self, context: BrowserContext, workbench: str) -> None:
        self.context = context
        self.wrong: list[str] = []
        self.expected: set[int] = set()
        self._workbench = workbench
        self._asked_for: Counter[str] = Counter()
        context.on("request", self._asked)
        context.on("response", self._answered)
        context.on("console", self._told)
        context.on("weberror", self._broke)

    def _asked(self, request: Request) -> None:
        here = (f"{self._workbench}/", f"blob:{self._workbench}/", "data:")
        if not request.url.startswith(here):
            self.wrong.append(f"a request leaves the workbench: {request.url}")
        self._asked_for[request.url] += 1
        if self._asked_for[request.url] == OFTEN:
            self.wrong.append(f"asked for again and again: {request.url}")

    def _answered(self, response: Response) -> None:
        if response.status >= 400 and response.status not in self.expected:
            self.wrong.append(f"{response.status} from {response.url}")

    def _told(self, message: ConsoleMessage) -> None:
        if message.type in ("error", "warning") and not message.text.startswith(REFUSED):
            self.wrong.append(f"the console says: {message.text}")

    def _broke(self, error: WebError) -> None:
        self.wrong.append(f"an error on the page: {error.error}")

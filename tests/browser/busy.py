"""A workbench that has enough to do, so that what is begun besides waits for its turn."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Page

from tests.web.conftest import CHANGE

POSITION = "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"
SEARCHES = 16
"""Two are worked on at once, and each takes some seconds."""


@contextmanager
def busy(page: Page) -> Iterator[None]:
    """While searches are worked on and waited for, so that whatever else is begun waits too."""
    asked = {"fen": POSITION, "count": 5, "seconds": 120}
    jobs = []
    for _ in range(SEARCHES):
        answer = page.request.post("/api/twins", data=asked, headers=CHANGE)
        assert answer.status == 202
        jobs.append(answer.json()["id"])
    try:
        yield
    finally:
        for job in jobs:
            page.request.delete(f"/api/jobs/{job}", headers=CHANGE)

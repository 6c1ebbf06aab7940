"""`fastness record`: what a student's games show."""

from __future__ import annotations

from fastness.cli.places import StorePlace, opened
from fastness.workflows.record_page import record_page
from fastness.workflows.recording import record_of


def record(name: str, *, store: StorePlace = None) -> None:
    """Say what a student's games show, and what to teach next; for the teacher.

    Args:
        name: the student.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    with opened(store) as place:
        print(record_page(record_of(place, name)), end="")

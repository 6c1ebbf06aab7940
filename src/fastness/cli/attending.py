"""`fastness group attended`, `fastness group lessons`: who was there, and who was not."""

from __future__ import annotations

import datetime

from fastness.cli.places import StorePlace, opened
from fastness.errors import InputError
from fastness.store import Store
from fastness.workflows.attending import (
    Attended,
    lesson_on,
    lessons_of,
    note_absence,
    note_attendance,
)


def attended(
    group: str,
    *present: str,
    absent: list[str] | None = None,
    everybody: bool = False,
    date: datetime.date | None = None,
    theme: str = "",
    store: StorePlace = None,
) -> None:
    """Note who was there at a lesson, in place of what was noted before.

    Name who was there; or with --absent, once for each, who was not; or say --everybody.

    Args:
        group: the group.
        present: who was there; guests of other groups may be named.
        absent: who of the group was not there, while all others were.
        everybody: nobody of the group was away.
        date: the day of the lesson, that of the last one if not given.
        theme: what it was about, where there were several that day.
        store: the store's file or URL.
    """
    if (bool(present), bool(absent), everybody).count(True) != 1:
        raise InputError("Name who was there, or --absent who was not, or say --everybody.")
    with opened(store) as place:
        lesson = lesson_on(place, group, date, theme).lesson
        print(_told(_noted(place, lesson, present, absent or ())))


def _noted(
    place: Store, lesson: int, present: tuple[str, ...], absent: list[str] | tuple[()]
) -> Attended:
    if present:
        return note_attendance(place, lesson, present)
    return note_absence(place, lesson, absent)


def lessons(group: str, *, store: StorePlace = None) -> None:
    """List the lessons of a group, the last first, and who was away.

    Args:
        group: the group.
        store: the store's file or URL.
    """
    with opened(store) as place:
        found = lessons_of(place, group)
        for one in found:
            print(_told(one))
        if not found:
            print('No lessons yet. Note one: fastness group lesson "GROUP" "THEME"')


def _told(one: Attended) -> str:
    """``Monday, 2026-09-07, Pins: 5 were there; absent: Millpondle, Tom``."""
    head = f"{one.group}, {one.held}, {one.theme}"
    if one.absent is None:
        return f"{head}: who was there is not noted"
    there = len(one.present) - len(one.guests)
    parts = [f"{there} of the group {'was' if there == 1 else 'were'} there"]
    parts.append(f"absent: {'; '.join(one.absent)}" if one.absent else "nobody was away")
    parts += [f"guests: {'; '.join(one.guests)}"] if one.guests else []
    return f"{head}: {'; '.join(parts)}"

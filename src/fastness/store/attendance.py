"""Lessons in the store, and who was there."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.errors import InputError, MissingError
from fastness.store.students import lessons
from fastness.store.tables import Attendance, Group, Lesson, Student


def lesson_numbered(session: Session, number: int) -> Lesson:
    """The lesson of this number. Raises MissingError where there is none."""
    found = session.get(Lesson, number)
    if found is None:
        raise MissingError(f"there is no lesson {number}")
    return found


def lesson_on(
    session: Session, group: Group, held: datetime.date | None = None, theme: str = ""
) -> Lesson:
    """The lesson of a group on a day, or its last one; `theme` where there were several that day.

    Raises MissingError where there was none, InputError where more than one is meant.
    """
    every = lessons(session, group)
    if not every:
        raise MissingError(
            f"no lesson of {group.name} is noted; note it first: fastness group lesson"
        )
    day = held or every[0].held
    asked = theme.strip().casefold()
    found = [one for one in every if one.held == day and asked in ("", one.theme.casefold())]
    if not found:
        of_theme = f' "{theme}"' if theme else ""
        there = "; ".join(f"{one.held} {one.theme}" for one in every[:5])
        raise MissingError(f"{group.name} had no lesson{of_theme} on {day}; noted is {there}")
    if len(found) > 1:
        themes = "; ".join(one.theme for one in found)
        raise InputError(f"{group.name} had {len(found)} lessons on {day}; name one: {themes}")
    return found[0]


def present(lesson: Lesson) -> list[Student]:
    """Who was there, by name; nobody where that was not noted."""
    return sorted((one.student for one in lesson.attendance), key=lambda one: one.name)


def note(session: Session, lesson: Lesson, students: Sequence[Student]) -> None:
    """Keep who was there, in place of what was noted before. Raises InputError for nobody."""
    if not students:
        raise InputError("nobody is named; name who was there")
    wanted = {one.id: one for one in students}
    lesson.attendance = [one for one in lesson.attendance if one.student_id in wanted]
    known = {one.student_id for one in lesson.attendance}
    for number, student in wanted.items():
        if number not in known:
            lesson.attendance.append(Attendance(student=student))
    session.flush()


def absent(session: Session, lesson: Lesson) -> list[Student]:
    """Who is in the group now and was not there, by name.

    Raises InputError where it was not noted who was there.
    """
    if not lesson.attendance:
        raise InputError(
            f"who was there on {lesson.held} ({lesson.theme}) is not noted; note it first:"
            " fastness group attended"
        )
    there = {one.student_id for one in lesson.attendance}
    of_group = select(Student).where(Student.group_id == lesson.group_id).order_by(Student.name)
    return [one for one in session.scalars(of_group) if one.id not in there]

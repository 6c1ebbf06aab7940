"""Who was there at a lesson, and who was not: by names, as the teacher notes it."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy.orm import Session

from fastness.errors import InputError, MissingError
from fastness.language import ENGLISH, Language
from fastness.store import Store, attendance, students
from fastness.store.naming import Naming
from fastness.store.tables import Lesson


@dataclass(frozen=True, slots=True)
class Attended:
    """A lesson and who was there, by name.

    `absent` are those who are in the group now and were not there; None where it was not noted
    who was. `guests` are those present who are not in the group.
    """

    lesson: int
    group: str
    held: datetime.date
    theme: str
    present: tuple[str, ...]
    guests: tuple[str, ...]
    absent: tuple[str, ...] | None


def lessons_of(store: Store, group: str) -> list[Attended]:
    """The lessons of a group, the last first. Raises StudentError where there is no group."""
    with store.reading() as session:
        found = students.group_named(session, group)
        return [_told(session, one) for one in students.lessons(session, found)]


def lesson_on(
    store: Store, group: str, held: datetime.date | None = None, theme: str = ""
) -> Attended:
    """The lesson of a group on a day, or its last; `theme` tells several of one day apart.

    Raises StudentError where there is no group, MissingError where there was no such lesson,
    InputError where there were several.
    """
    with store.reading() as session:
        found = students.group_named(session, group)
        return _told(session, attendance.lesson_on(session, found, held, theme))


def lesson_numbered(store: Store, group: int, lesson: int) -> Attended:
    """A lesson of a group, both by their numbers. Raises MissingError where it is not there."""
    with store.reading() as session:
        found = attendance.lesson_numbered(session, lesson)
        if found.group_id != group:
            raise MissingError("This group has no such lesson.")
        return _told(session, found)


def note_attendance(store: Store, lesson: int, present: Sequence[str]) -> Attended:
    """Note who was there, in place of what was noted before; guests of other groups may be named.

    Raises StudentError where a name is nobody's, MissingError where there is no such lesson,
    InputError where nobody is named. Nothing is changed then.
    """
    with store.writing() as session:
        found = attendance.lesson_numbered(session, lesson)
        there = [students.student_named(session, name) for name in present]
        attendance.note(session, found, there)
        return _told(session, found)


def note_absence(store: Store, lesson: int, absent: Sequence[str]) -> Attended:
    """Note that all of the group were there but these; none where everybody was.

    Raises as `note_attendance` does, and InputError for a name that is not of the group.
    """
    with store.writing() as session:
        found = attendance.lesson_numbered(session, lesson)
        away = {students.student_named(session, name).id: name for name in absent}
        every = students.students(session, found.group)
        strange = sorted(set(away) - {one.id for one in every})
        if strange:
            raise InputError(
                f"{away[strange[0]]} is not in {found.group.name}; name who of the group was away"
            )
        attendance.note(session, found, [one for one in every if one.id not in away])
        return _told(session, found)


def absent(store: Store, lesson: int) -> list[str]:
    """Who is in the group now and was not there, by name.

    Raises MissingError where there is no such lesson, InputError where it was not noted.
    """
    with store.reading() as session:
        found = attendance.lesson_numbered(session, lesson)
        return [one.name for one in attendance.absent(session, found)]


def theme_without_names(store: Store, theme: str, language: Language = ENGLISH) -> str:
    """A theme with "a student" in place of every student's name, for a page that others read."""
    with store.reading() as session:
        names = [one.name for student in students.students(session) for one in student.aliases]
    return Naming(names, ()).without(theme, language.say("a student"), parts=True)


def _told(session: Session, lesson: Lesson) -> Attended:
    there = attendance.present(lesson)
    return Attended(
        lesson=lesson.id,
        group=lesson.group.name,
        held=lesson.held,
        theme=lesson.theme,
        present=tuple(one.name for one in there),
        guests=tuple(one.name for one in there if one.group_id != lesson.group_id),
        absent=tuple(one.name for one in attendance.absent(session, lesson)) if there else None,
    )

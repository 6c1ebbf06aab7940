"""Students and groups as a page lists and keeps them, by their numbers in the store."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy.orm import Session

from fastness.errors import MissingError, StudentError
from fastness.store import Store, attendance, students, tables
from fastness.store.browsing import games_counted, group_numbered, student_numbered


@dataclass(frozen=True, slots=True)
class LessonTold:
    """A day that a group was taught, and what.

    `present` are the numbers of the students who were there, empty where that was not noted.
    """

    id: int
    held: datetime.date
    theme: str
    present: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class GroupTold:
    """A group, how many students are in it, and its lessons, the last first."""

    id: int
    name: str
    club: str
    students: int
    lessons: tuple[LessonTold, ...]


@dataclass(frozen=True, slots=True)
class StudentTold:
    """A student, the other names that games have for them, and how many games there are.

    `last` is the date of the last game, as PGN has it, empty where none is known.
    """

    id: int
    name: str
    names: tuple[str, ...]
    group: int | None
    group_name: str | None
    games: int
    last: str


def list_groups(store: Store) -> list[GroupTold]:
    """All groups by name."""
    with store.reading() as session:
        return [_group(session, one) for one in students.groups(session)]


def list_students(store: Store, group: int | None = None) -> list[StudentTold]:
    """All students by name, or those of a group. Raises MissingError where there is no group."""
    with store.reading() as session:
        where = None if group is None else group_numbered(session, group)
        counted = games_counted(session)
        return [_student(one, counted) for one in students.students(session, where)]


def tell_student(store: Store, number: int) -> StudentTold:
    """One student. Raises MissingError where there is none."""
    with store.reading() as session:
        return _student(student_numbered(session, number), games_counted(session))


def tell_group(store: Store, number: int) -> GroupTold:
    """One group. Raises MissingError where there is none."""
    with store.reading() as session:
        return _group(session, group_numbered(session, number))


def add_group(store: Store, name: str, club: str = "") -> GroupTold:
    """A new group. Raises StudentError where the club has one of this name."""
    with store.writing() as session:
        return _group(session, students.add_group(session, name, club))


def remove_group(store: Store, number: int) -> list[int]:
    """Remove a group; its students stay, without one. Their numbers are given.

    Raises MissingError where there is no such group.
    """
    with store.writing() as session:
        group = group_numbered(session, number)
        members = [one.id for one in group.students]
        for one in list(group.students):
            one.group = None
        session.flush()
        session.delete(group)
        return members


def add_student(store: Store, name: str, group: int | None = None) -> StudentTold:
    """A new student. Raises StudentError where there is one of this name, MissingError as usual."""
    with store.writing() as session:
        where = None if group is None else group_numbered(session, group)
        return _student(students.add_student(session, name, where), {})


def move_students(store: Store, numbers: Sequence[int], group: int | None) -> None:
    """Put students into a group, or into none. Raises MissingError where one is not there."""
    with store.writing() as session:
        where = None if group is None else group_numbered(session, group)
        for number in numbers:
            student_numbered(session, number).group = where


def rename_student(store: Store, number: int, name: str) -> StudentTold:
    """Give a student another name; the old one goes on to mean them in games.

    Raises StudentError where another student has the name, MissingError where there is none.
    """
    with store.writing() as session:
        student = student_numbered(session, number)
        tidy = " ".join(name.split())
        students.add_alias(session, student, tidy)
        same = [one for one in students.students(session) if one.name == tidy]
        if any(one.id != student.id for one in same):
            raise StudentError(f'there is a student "{tidy}" already')
        student.name = tidy
        session.flush()
        return _student(student, games_counted(session))


def add_name(store: Store, number: int, name: str) -> StudentTold:
    """Let another name in games mean a student.

    Raises StudentError where it means another one, MissingError where there is no such student.
    """
    with store.writing() as session:
        student = student_numbered(session, number)
        students.add_alias(session, student, " ".join(name.split()))
        session.refresh(student)
        return _student(student, games_counted(session))


def remove_name(store: Store, number: int, name: str) -> StudentTold:
    """Let a name in games no longer mean a student.

    Raises MissingError where it does not; StudentError where it is the student's own name.
    """
    with store.writing() as session:
        student = student_numbered(session, number)
        if name == student.name:
            raise StudentError(f'"{name}" is the name the student goes by; give another one first')
        found = [one for one in student.aliases if one.name == name]
        if not found:
            raise MissingError(f'"{name}" is no name of {student.name}.')
        for one in found:
            student.aliases.remove(one)
        session.flush()
        return _student(student, games_counted(session))


def add_lesson(
    store: Store, group: int, theme: str, held: datetime.date, present: Sequence[int] = ()
) -> LessonTold:
    """Note that a group was taught something, and who of its students was there, if that is known.

    Raises MissingError where there is no group, or no student of a number.
    """
    with store.writing() as session:
        lesson = tables.Lesson(group_id=group_numbered(session, group).id, held=held, theme=theme)
        session.add(lesson)
        session.flush()
        if present:
            attendance.note(session, lesson, [student_numbered(session, one) for one in present])
        return _lesson(lesson)


def remove_lesson(store: Store, group: int, number: int) -> LessonTold:
    """Remove a note of a lesson; what it said is given, so that it can be noted again.

    Raises MissingError where the group has none such.
    """
    with store.writing() as session:
        found = session.get(tables.Lesson, number)
        if found is None or found.group_id != group:
            raise MissingError(f"Group {group} has no lesson {number}.")
        told = _lesson(found)
        session.delete(found)
        return told


def _lesson(lesson: tables.Lesson) -> LessonTold:
    present = tuple(sorted(one.student_id for one in lesson.attendance))
    return LessonTold(lesson.id, lesson.held, lesson.theme, present)


def _group(session: Session, group: tables.Group) -> GroupTold:
    lessons = tuple(_lesson(one) for one in students.lessons(session, group))
    members = len(students.students(session, group))
    return GroupTold(group.id, group.name, group.club, members, lessons)


def _student(student: tables.Student, counted: Mapping[int, tuple[int, str]]) -> StudentTold:
    games, last = counted.get(student.id, (0, ""))
    return StudentTold(
        id=student.id,
        name=student.name,
        names=tuple(sorted({one.name for one in student.aliases} - {student.name})),
        group=student.group_id,
        group_name=student.group.name if student.group else None,
        games=games,
        last=last,
    )

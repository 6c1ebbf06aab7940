"""Homework in the store: handed out, looked for by its number, handed in."""

from __future__ import annotations

import datetime
import secrets
from collections.abc import Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.errors import InputError, MissingError
from fastness.store import shelf
from fastness.store.homework_tables import HandIn, Homework, HomeworkExercise, HomeworkStudent
from fastness.store.tables import Group, Student

Answers = Sequence[Sequence[str] | None]
"""One entry for each exercise in its order; None where it was left open."""


def hand_out(
    session: Session,
    title: str,
    exercises: Sequence[int],
    given_to: Sequence[tuple[Student, int, str]],
    *,
    number: int,
    due: datetime.date,
    made: datetime.date,
    language: str,
    group: Group | None = None,
) -> Homework:
    """Keep a homework with its exercises in order, and each student with a number and a key.

    Raises MissingError where one of the exercises is not on the shelf.
    """
    homework = Homework(
        number=number,
        title=title,
        made=made,
        due=due,
        language=language,
        salt=secrets.token_hex(16),
        group=group,
    )
    for place, one in enumerate(exercises):
        exercise = shelf.numbered(session, one)
        homework.asked.append(HomeworkExercise(exercise=exercise, place=place))
    for student, own, key in given_to:
        homework.students.append(HomeworkStudent(student=student, number=own, key=key))
    session.add(homework)
    session.flush()
    return homework


def numbers(session: Session) -> set[int]:
    """The numbers that are in use."""
    return set(session.scalars(select(Homework.number)))


def every(session: Session) -> list[Homework]:
    """All homework, the newest first."""
    return list(
        session.scalars(select(Homework).order_by(Homework.made.desc(), Homework.id.desc()))
    )


def find(session: Session, number: int) -> Homework | None:
    """The homework of this number, or None."""
    return session.scalar(select(Homework).where(Homework.number == number))


def numbered(session: Session, number: int) -> Homework:
    """The homework of this number. Raises MissingError where there is none."""
    found = find(session, number)
    if found is None:
        raise MissingError(f"there is no homework {number}")
    return found


def given_to(homework: Homework, student: Student) -> HomeworkStudent:
    """The student's part of a homework. Raises InputError where it was not given to that one."""
    for one in homework.students:
        if one.student_id == student.id:
            return one
    names = "; ".join(one.student.name for one in homework.students) or "nobody"
    raise InputError(
        f"homework {homework.number} was not given to {student.name}; it was given to {names}"
    )


def hand_in(
    session: Session, given: HomeworkStudent, answers: Answers, *, way: str, made: datetime.date
) -> tuple[HandIn, bool]:
    """Keep what was handed in, and whether it was new: the same answers are kept once.

    Raises InputError where there are not as many answers as exercises.
    """
    plain = [None if one is None else list(one) for one in answers]
    count = len(given.homework.asked)
    if len(plain) != count:
        raise InputError(f"{len(plain)} answers for {count} exercises; give one for each")
    for known in given.hand_ins:
        if known.answers == plain:
            return known, False
    kept = HandIn(made=made, way=way, answers=plain)
    given.hand_ins.append(kept)
    session.flush()
    return kept, True

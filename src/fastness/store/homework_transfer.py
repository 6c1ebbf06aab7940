"""What exporting, bringing back and erasing do with homework."""

from __future__ import annotations

import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.store.homework import every, find
from fastness.store.homework_tables import HandIn, Homework, HomeworkExercise, HomeworkStudent
from fastness.store.naming import Naming
from fastness.store.shelf_tables import ShelvedExercise
from fastness.store.students import find_student
from fastness.store.tables import Group, Student


def told(session: Session, only: Student | None = None) -> dict[str, Any]:
    """The homework; with `only` what that student was given, and nobody else's part of it."""
    found = []
    for homework in reversed(every(session)):
        mine = [one for one in homework.students if only is None or one.student_id == only.id]
        if mine or only is None:
            found.append(_homework(homework, mine))
    return {"homework": found}


def asked_of(session: Session, student: Student) -> set[int]:
    """The exercises (by their rows) that a student was given."""
    rows = (
        select(HomeworkExercise.exercise_id)
        .join(HomeworkStudent, HomeworkStudent.homework_id == HomeworkExercise.homework_id)
        .where(HomeworkStudent.student_id == student.id)
    )
    return set(session.scalars(rows))


def _homework(homework: Homework, students: list[HomeworkStudent]) -> dict[str, Any]:
    return {
        "number": homework.number,
        "title": homework.title,
        "made": homework.made.isoformat(),
        "due": homework.due.isoformat(),
        "language": homework.language,
        "salt": homework.salt,
        "group": homework.group.name if homework.group else None,
        "club": homework.group.club if homework.group else None,
        "exercises": [one.exercise.identity for one in homework.asked],
        "students": [
            {
                "student": one.student.name,
                "number": one.number,
                "key": one.key,
                "hand_ins": [
                    {"made": kept.made.isoformat(), "way": kept.way, "answers": kept.answers}
                    for kept in one.hand_ins
                ],
            }
            for one in students
        ],
    }


def bring_back(session: Session, record: dict[str, Any]) -> None:
    """Add the homework of an export, its exercises being on the shelf; what is there stays.

    A homework of which an exercise is missing is left out, since its codes could not be read.
    """
    for one in record.get("homework", ()):
        homework = find(session, one["number"]) or _new(session, one)
        if homework is not None and homework.salt == one["salt"]:
            for student in one["students"]:
                _bring_student(session, homework, student)


def _new(session: Session, one: dict[str, Any]) -> Homework | None:
    exercises = [
        session.scalar(select(ShelvedExercise).where(ShelvedExercise.identity == identity))
        for identity in one["exercises"]
    ]
    kept = [exercise for exercise in exercises if exercise is not None]
    if len(kept) < len(exercises):
        return None
    group = session.scalar(
        select(Group).where(Group.name == one["group"], Group.club == (one["club"] or ""))
    )
    plain = {name: one[name] for name in ("number", "title", "language", "salt")}
    homework = Homework(**plain, made=_day(one["made"]), due=_day(one["due"]), group=group)
    for place, exercise in enumerate(kept):
        homework.asked.append(HomeworkExercise(exercise=exercise, place=place))
    session.add(homework)
    session.flush()
    return homework


def _bring_student(session: Session, homework: Homework, told: dict[str, Any]) -> None:
    student = find_student(session, told["student"])
    if student is None:
        return
    given = next((one for one in homework.students if one.student_id == student.id), None)
    if given is None:
        if any(one.number == told["number"] for one in homework.students):
            return
        given = HomeworkStudent(student=student, number=told["number"], key=told["key"])
        homework.students.append(given)
    for kept in told["hand_ins"]:
        if all(known.answers != kept["answers"] for known in given.hand_ins):
            made = _day(kept["made"])
            given.hand_ins.append(HandIn(made=made, way=kept["way"], answers=kept["answers"]))
    session.flush()


def _day(text: str) -> datetime.date:
    return datetime.date.fromisoformat(text)


def take_out(session: Session, naming: Naming, nobody: str) -> None:
    """Leave no name of an erased student in a title; what was handed in went with the student."""
    for homework in session.scalars(select(Homework)):
        homework.title = naming.without(homework.title, nobody)[:200]

"""What exporting and bringing back do with lessons and with who was there."""

from __future__ import annotations

import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.store.attendance import present
from fastness.store.naming import Naming
from fastness.store.students import find_student, group_or_new
from fastness.store.tables import Alias, Attendance, Lesson, Student

SOMEBODY = "a student"
"""Stands in a theme for somebody else's name, in what is told of one student."""


def told(session: Session, only: Student | None = None) -> dict[str, Any]:
    """The lessons; with `only` those that this student was at, and nobody else's name."""
    asked = select(Lesson).order_by(Lesson.id)
    if only is None:
        return {
            "lessons": [_lesson(one, one.theme, present(one)) for one in session.scalars(asked)]
        }
    asked = asked.join(Attendance).where(Attendance.student_id == only.id)
    own = session.scalars(select(Alias.name).where(Alias.student_id == only.id)).all()
    others = session.scalars(select(Alias.name).where(Alias.student_id != only.id)).all()
    naming = Naming(others, own)
    return {
        "lessons": [
            _lesson(one, naming.without(one.theme, SOMEBODY, parts=True), [only])
            for one in session.scalars(asked)
        ]
    }


def _lesson(lesson: Lesson, theme: str, students: list[Student]) -> dict[str, Any]:
    return {
        "group": lesson.group.name,
        "club": lesson.group.club,
        "held": lesson.held.isoformat(),
        "theme": theme,
        "present": [one.name for one in students],
    }


def bring_back(session: Session, record: dict[str, Any]) -> None:
    """Add the lessons of an export, its students being there; what is there already stays."""
    for one in record["lessons"]:
        _bring_lesson(session, one)


def _bring_lesson(session: Session, told: dict[str, Any]) -> None:
    group = group_or_new(session, told["group"], told["club"])
    held = datetime.date.fromisoformat(told["held"])
    asked = select(Lesson).where(
        Lesson.group_id == group.id, Lesson.held == held, Lesson.theme == told["theme"]
    )
    lesson = session.scalars(asked).first()
    if lesson is None:
        lesson = Lesson(group_id=group.id, held=held, theme=told["theme"])
        session.add(lesson)
        session.flush()
    for name in told.get("present", ()):
        student = find_student(session, name)
        if student is not None and all(one.student_id != student.id for one in lesson.attendance):
            lesson.attendance.append(Attendance(student=student))
            session.flush()

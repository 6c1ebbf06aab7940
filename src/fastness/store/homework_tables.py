"""The tables of homework: what was handed out, to whom, and what came back."""

from __future__ import annotations

import datetime

from sqlalchemy import JSON, ForeignKey, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from fastness.store.shelf_tables import ShelvedExercise
from fastness.store.tables import Group, Student, Table


class Homework(Table):
    """Homework handed out to a group or to some students.

    `number` stands in the codes that come back, and is kept through an export; `salt` (hex) is
    what the explanations on the page are sealed with. `language` is that of the page.
    """

    __tablename__ = "homework"

    id: Mapped[int] = mapped_column(primary_key=True)
    number: Mapped[int] = mapped_column(unique=True)
    title: Mapped[str] = mapped_column(String(200))
    made: Mapped[datetime.date]
    due: Mapped[datetime.date]
    language: Mapped[str] = mapped_column(String(5))
    salt: Mapped[str] = mapped_column(String(32))
    group_id: Mapped[int | None] = mapped_column(
        ForeignKey("student_group.id", ondelete="SET NULL"), index=True
    )
    group: Mapped[Group | None] = relationship()
    asked: Mapped[list[HomeworkExercise]] = relationship(
        cascade="all, delete-orphan", passive_deletes=True, order_by="HomeworkExercise.place"
    )
    students: Mapped[list[HomeworkStudent]] = relationship(
        back_populates="homework",
        cascade="all, delete-orphan",
        passive_deletes=True,
        order_by="HomeworkStudent.number",
    )


class HomeworkExercise(Table):
    """An exercise of a homework; `place` counts from 0."""

    __tablename__ = "homework_exercise"
    __table_args__ = (UniqueConstraint("homework_id", "place"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    homework_id: Mapped[int] = mapped_column(ForeignKey("homework.id", ondelete="CASCADE"))
    exercise_id: Mapped[int] = mapped_column(
        ForeignKey("exercise.id", ondelete="CASCADE"), index=True
    )
    place: Mapped[int]
    exercise: Mapped[ShelvedExercise] = relationship()


class HomeworkStudent(Table):
    """A student who was given a homework.

    `number` stands in the student's code; `key` is the secret part of the word on the slip, by
    which no other student can hand in under this number.
    """

    __tablename__ = "homework_student"
    __table_args__ = (
        UniqueConstraint("homework_id", "number"),
        UniqueConstraint("homework_id", "student_id"),
    )

    id: Mapped[int] = mapped_column(primary_key=True)
    homework_id: Mapped[int] = mapped_column(ForeignKey("homework.id", ondelete="CASCADE"))
    student_id: Mapped[int] = mapped_column(
        ForeignKey("student.id", ondelete="CASCADE"), index=True
    )
    number: Mapped[int]
    key: Mapped[str] = mapped_column(String(3))
    homework: Mapped[Homework] = relationship(back_populates="students")
    student: Mapped[Student] = relationship()
    hand_ins: Mapped[list[HandIn]] = relationship(
        back_populates="given_to",
        cascade="all, delete-orphan",
        passive_deletes=True,
        order_by="HandIn.id",
    )


class HandIn(Table):
    """What a student handed in; `way` is code, paper or page.

    `answers` has an entry for each exercise in its order: the answers as the shelf writes them,
    or None where the exercise was left open.
    """

    __tablename__ = "hand_in"

    id: Mapped[int] = mapped_column(primary_key=True)
    homework_student_id: Mapped[int] = mapped_column(
        ForeignKey("homework_student.id", ondelete="CASCADE"), index=True
    )
    made: Mapped[datetime.date]
    way: Mapped[str] = mapped_column(String(10))
    answers: Mapped[list[list[str] | None]] = mapped_column(JSON)
    given_to: Mapped[HomeworkStudent] = relationship(back_populates="hand_ins")

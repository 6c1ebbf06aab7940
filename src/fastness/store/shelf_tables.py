"""The tables of the shelf: exercises, the attempts at them, and the teacher's corrections."""

from __future__ import annotations

import datetime
from typing import Any

from sqlalchemy import JSON, ForeignKey, String, Text
from sqlalchemy.orm import Mapped, mapped_column, relationship

from fastness.store.tables import Student, Table


class ShelvedExercise(Table):
    """An exercise, once however often it is found.

    `identity` is made of the kind, the position and the move asked about. `survey`, `replies` and
    `firm_units` are the proof; `source` says where the position came from, `made` how. `estimate`
    is the difficulty in logits before anybody tried it, `difficulty` the one fitted from attempts
    with its standard `error`, or the estimate and None. `holding` counts the moves that hold.
    """

    __tablename__ = "exercise"

    id: Mapped[int] = mapped_column(primary_key=True)
    identity: Mapped[str] = mapped_column(String(64), unique=True)
    kind: Mapped[str] = mapped_column(String(20))
    fen: Mapped[str] = mapped_column(String(100))
    asked: Mapped[str | None] = mapped_column(String(5))
    accepted: Mapped[list[str]] = mapped_column(JSON)
    not_judged: Mapped[list[str]] = mapped_column(JSON)
    survey: Mapped[dict[str, Any]] = mapped_column(JSON)
    firm_units: Mapped[bool]
    replies: Mapped[dict[str, list[str]]] = mapped_column(JSON)
    made: Mapped[str] = mapped_column(String(10))
    source: Mapped[dict[str, Any]] = mapped_column(JSON)
    pattern: Mapped[str] = mapped_column(String(64), index=True)
    estimate: Mapped[float]
    difficulty: Mapped[float]
    error: Mapped[float | None]
    level: Mapped[str] = mapped_column(String(10), index=True)
    phase: Mapped[str] = mapped_column(String(10))
    reach: Mapped[int | None]
    holding: Mapped[int]
    traits: Mapped[list[Trait]] = relationship(
        cascade="all, delete-orphan", passive_deletes=True, order_by="Trait.id"
    )
    corrections: Mapped[list[ExerciseCorrection]] = relationship(
        cascade="all, delete-orphan", passive_deletes=True, order_by="ExerciseCorrection.id"
    )


class Trait(Table):
    """What an exercise can be looked for by and may have several of.

    `name` is mechanism, way or unit.
    """

    __tablename__ = "exercise_trait"

    id: Mapped[int] = mapped_column(primary_key=True)
    exercise_id: Mapped[int] = mapped_column(
        ForeignKey("exercise.id", ondelete="CASCADE"), index=True
    )
    name: Mapped[str] = mapped_column(String(10))
    value: Mapped[str] = mapped_column(String(30))


class ExerciseCorrection(Table):
    """The teacher's last word on an exercise: struck, commented on, or an answer overruled.

    For an overruled `answer` the `verdict` is right, wrong or not judged.
    """

    __tablename__ = "exercise_correction"

    id: Mapped[int] = mapped_column(primary_key=True)
    exercise_id: Mapped[int] = mapped_column(
        ForeignKey("exercise.id", ondelete="CASCADE"), index=True
    )
    action: Mapped[str] = mapped_column(String(10))
    answer: Mapped[str | None] = mapped_column(String(10))
    verdict: Mapped[str | None] = mapped_column(String(10))
    reason: Mapped[str] = mapped_column(Text)
    made: Mapped[datetime.date]


class Attempt(Table):
    """A student's answer to an exercise, and how long it took in seconds if that is known."""

    __tablename__ = "attempt"

    id: Mapped[int] = mapped_column(primary_key=True)
    student_id: Mapped[int] = mapped_column(
        ForeignKey("student.id", ondelete="CASCADE"), index=True
    )
    exercise_id: Mapped[int] = mapped_column(
        ForeignKey("exercise.id", ondelete="CASCADE"), index=True
    )
    made: Mapped[datetime.date]
    answer: Mapped[list[str]] = mapped_column(JSON)
    verdict: Mapped[str] = mapped_column(String(10))
    seconds: Mapped[float | None]
    student: Mapped[Student] = relationship()
    exercise: Mapped[ShelvedExercise] = relationship()

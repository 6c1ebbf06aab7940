"""The shelf: exercises put there once, looked for, tried by students, corrected by the teacher."""

from __future__ import annotations

import datetime
import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, get_args

from sqlalchemy import ColumnElement, Select, delete, exists, func, or_, select
from sqlalchemy.orm import Session

from fastness.errors import InputError, MissingError
from fastness.store.shelf_tables import Attempt, ExerciseCorrection, ShelvedExercise, Trait
from fastness.store.tables import Student
from fastness.survey.position import position_key

AT_ONCE = 100
"""Positions asked for in one query."""
Verdict = Literal["right", "wrong", "not judged"]
Action = Literal["strike", "comment", "overrule"]
"""Strike: it is given to nobody. Comment: a remark. Overrule: an answer has another verdict."""


@dataclass(frozen=True, slots=True)
class Entry:
    """An exercise as it is put on the shelf; `ShelvedExercise` says what the fields mean.

    `traits` are pairs of mechanism, way or unit and its value.
    """

    kind: str
    fen: str
    asked: str | None
    accepted: tuple[str, ...]
    not_judged: tuple[str, ...]
    survey: dict[str, Any]
    firm_units: bool
    replies: dict[str, list[str]]
    made: str
    source: dict[str, Any]
    pattern: str
    estimate: float
    level: str
    phase: str
    reach: int | None
    holding: int
    traits: tuple[tuple[str, str], ...]

    @property
    def identity(self) -> str:
        """The same for the same question about the same position, whatever the count of moves."""
        words = (self.kind, position_key(self.fen), self.asked or "")
        return hashlib.sha256(" ".join(words).encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class Wanted:
    """What to look for on the shelf; an empty field asks for nothing.

    Within a field one value is enough, all fields must fit. `holding` is the least and the most
    number of moves that hold, None for no bound.
    """

    mechanism: Sequence[str] = ()
    way: Sequence[str] = ()
    unit: Sequence[str] = ()
    reach: Sequence[int] = ()
    phase: Sequence[str] = ()
    level: Sequence[str] = ()
    kind: Sequence[str] = ()
    made: Sequence[str] = ()
    holding: tuple[int | None, int | None] = field(default=(None, None))
    struck: bool = False
    """Those that the teacher struck, too."""


def put(session: Session, entry: Entry) -> tuple[ShelvedExercise, bool]:
    """Put an exercise on the shelf, and whether it was new.

    One that is there keeps its number, source, attempts, corrections and fitted difficulty; its
    answers and proof are those of the entry, which is the newer.
    """
    found = session.scalar(
        select(ShelvedExercise).where(ShelvedExercise.identity == entry.identity)
    )
    if found is None:
        found = ShelvedExercise(identity=entry.identity, made=entry.made, source=entry.source)
        session.add(found)
        new = True
    else:
        new = False
    found.kind, found.fen, found.asked = entry.kind, entry.fen, entry.asked
    found.accepted, found.not_judged = list(entry.accepted), list(entry.not_judged)
    found.survey, found.replies = entry.survey, entry.replies
    found.firm_units, found.pattern = entry.firm_units, entry.pattern
    found.phase, found.reach, found.holding = entry.phase, entry.reach, entry.holding
    found.estimate = entry.estimate
    if new or found.error is None:
        found.difficulty, found.error, found.level = entry.estimate, None, entry.level
    traits = [(trait.name, trait.value) for trait in found.traits]
    if traits != list(entry.traits):
        found.traits = [Trait(name=name, value=value) for name, value in entry.traits]
    session.flush()
    return found, new


def numbered(session: Session, number: int) -> ShelvedExercise:
    """The exercise of this number. Raises MissingError where there is none."""
    found = session.get(ShelvedExercise, number)
    if found is None:
        raise MissingError(f"there is no exercise {number} on the shelf")
    return found


def find(
    session: Session, wanted: Wanted | None = None, *, after: int = 0, most: int | None = None
) -> list[ShelvedExercise]:
    """The exercises that fit, by number; all of them, or `most` from the one after `after` on."""
    asked = _fitting(wanted or Wanted()).order_by(ShelvedExercise.id)
    return list(session.scalars(asked.offset(after).limit(most)))


def at_positions(session: Session, keys: Sequence[str]) -> list[ShelvedExercise]:
    """The exercises of some positions (`position_key`) by number, but those that were struck."""
    found: list[ShelvedExercise] = []
    for begin in range(0, len(keys), AT_ONCE):
        some = keys[begin : begin + AT_ONCE]
        fits = or_(*(ShelvedExercise.fen.startswith(f"{key} ", autoescape=True) for key in some))
        found += session.scalars(_fitting(Wanted()).where(fits))
    return sorted(found, key=lambda one: one.id)


def count(session: Session, wanted: Wanted | None = None) -> int:
    """How many exercises fit."""
    fitting = _fitting(wanted or Wanted()).with_only_columns(ShelvedExercise.id)
    return session.scalar(select(func.count()).select_from(fitting.subquery())) or 0


def _fitting(wanted: Wanted) -> Select[ShelvedExercise]:
    asked = select(ShelvedExercise)
    for column, values in (
        (ShelvedExercise.reach, wanted.reach),
        (ShelvedExercise.phase, wanted.phase),
        (ShelvedExercise.level, wanted.level),
        (ShelvedExercise.kind, wanted.kind),
        (ShelvedExercise.made, wanted.made),
    ):
        if values:
            asked = asked.where(column.in_(values))
    for name in ("mechanism", "way", "unit"):
        values = getattr(wanted, name)
        if values:
            asked = asked.where(_has(name, values))
    least, most = wanted.holding
    if least is not None:
        asked = asked.where(ShelvedExercise.holding >= least)
    if most is not None:
        asked = asked.where(ShelvedExercise.holding <= most)
    if not wanted.struck:
        asked = asked.where(~_struck())
    return asked


def _has(name: str, values: Sequence[str]) -> ColumnElement[bool]:
    return exists().where(
        Trait.exercise_id == ShelvedExercise.id, Trait.name == name, Trait.value.in_(values)
    )


def _struck() -> ColumnElement[bool]:
    return exists().where(
        ExerciseCorrection.exercise_id == ShelvedExercise.id, ExerciseCorrection.action == "strike"
    )


def correct(
    session: Session,
    exercise: ShelvedExercise,
    action: Action,
    reason: str,
    *,
    answer: str | None = None,
    verdict: Verdict | None = None,
) -> ExerciseCorrection:
    """Keep a correction; one of the same kind, about the same answer, is replaced.

    Raises InputError where no reason is given, or an overruling names no answer or no verdict.
    """
    if not reason.strip():
        raise InputError("a correction needs its reason: it is printed with it")
    if action == "overrule" and not answer:
        raise InputError("say which answer is overruled, as a move in UCI notation or a square")
    if action == "overrule" and verdict not in get_args(Verdict):
        raise InputError(f"an answer is {', '.join(get_args(Verdict))}, not {verdict}")
    overrules = action == "overrule"
    made = ExerciseCorrection(
        action=action,
        answer=answer if overrules else None,
        verdict=verdict if overrules else None,
        reason=reason.strip(),
        made=datetime.date.today(),
    )
    kept = [
        one for one in exercise.corrections if (one.action, one.answer) != (action, made.answer)
    ]
    exercise.corrections = [*kept, made]
    session.flush()
    return made


def take_back(session: Session, exercise: ShelvedExercise, correction: int) -> None:
    """Remove a correction by its number. Raises MissingError where the exercise has none such."""
    kept = [one for one in exercise.corrections if one.id != correction]
    if len(kept) == len(exercise.corrections):
        raise MissingError(f"exercise {exercise.id} has no correction {correction}")
    exercise.corrections = kept
    session.flush()


def record_attempt(
    session: Session,
    student: Student,
    exercise: ShelvedExercise,
    answer: Sequence[str],
    verdict: Verdict,
    *,
    made: datetime.date | None = None,
    seconds: float | None = None,
) -> Attempt:
    """Keep an attempt, of today if no day is given.

    Raises InputError where the verdict is none, or the seconds are negative.
    """
    if verdict not in get_args(Verdict):
        raise InputError(f"an answer is {', '.join(get_args(Verdict))}, not {verdict}")
    if seconds is not None and not seconds >= 0:
        raise InputError(f"an attempt takes 0 seconds or more, not {seconds}")
    attempt = Attempt(
        student=student,
        exercise=exercise,
        made=made or datetime.date.today(),
        answer=list(answer),
        verdict=verdict,
        seconds=seconds,
    )
    session.add(attempt)
    session.flush()
    return attempt


def attempts(session: Session, student: Student | None = None) -> list[Attempt]:
    """The attempts of a student, or of all, in the order they were kept."""
    asked = select(Attempt).order_by(Attempt.id)
    if student is not None:
        asked = asked.where(Attempt.student_id == student.id)
    return list(session.scalars(asked))


def first_judged(session: Session) -> list[tuple[int, int, bool]]:
    """Student, exercise and whether right: each student's first judged answer to each exercise.

    Later ones were given by somebody who knew the answer, and say little about how hard it is.
    Those that the teacher struck are left out.
    """
    asked = (
        select(Attempt.student_id, Attempt.exercise_id, Attempt.verdict)
        .join(Attempt.exercise)
        .where(Attempt.verdict != "not judged", ~_struck())
        .order_by(Attempt.made, Attempt.id)
    )
    first: dict[tuple[int, int], bool] = {}
    for student, exercise, verdict in session.execute(asked):
        first.setdefault((student, exercise), verdict == "right")
    return [(student, exercise, right) for (student, exercise), right in first.items()]


def erase_attempts(session: Session, student: Student) -> None:
    """Remove all attempts of a student."""
    session.execute(delete(Attempt).where(Attempt.student_id == student.id))

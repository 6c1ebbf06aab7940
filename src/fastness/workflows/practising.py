"""A student's practice for a week: chosen from the shelf by what was tried before."""

from __future__ import annotations

import datetime
import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import cast

from sqlalchemy.orm import Session

from fastness.errors import InputError
from fastness.exercises.exercise import Kind
from fastness.exercises.rasch import Answered, fit
from fastness.exercises.shelving import as_candidate
from fastness.practice.scheduling import RETENTION, SECONDS, Tried, schedule
from fastness.practice.weekly import Item, Student, WeekSet, week_set
from fastness.store import Store, shelf, tables
from fastness.store.shelf_tables import Attempt, ShelvedExercise
from fastness.store.students import group_named, student_named
from fastness.workflows.recording import record_of

TIMED = 5
"""Timed answers to a kind of question from which on their median counts."""


@dataclass(frozen=True, slots=True)
class Practice:
    """A student's set for the week that begins on `week`."""

    student: str
    week: datetime.date
    set: WeekSet


def practice_for(
    store: Store,
    student: str,
    minutes: float,
    *,
    week: datetime.date | None = None,
    retention: float = RETENTION,
) -> Practice:
    """A student's set of about so many minutes for the week from `week` on, today if not given.

    The same store and the same week give the same set. Raises StudentError where there is no such
    student, InputError where the minutes or the retention cannot be, or the shelf is empty.
    """
    begins = week or datetime.date.today()
    weak = tuple(finding.name for finding in record_of(store, student).diagnosis.told)
    with store.reading() as session:
        rows = shelf.find(session)
        if not rows:
            raise InputError("The shelf is empty. Put exercises on it first, with fastness mine.")
        items = [_item(row) for row in rows]
        known = _known(session, student_named(session, student), weak, begins, retention)
        took = _seconds(shelf.attempts(session))
    made = week_set(items, known, begins, minutes, lambda item: took[item.exercise.kind])
    if not made.asked:
        raise InputError(
            f"Nothing is due for {student}, and nothing on the shelf is new. Put more exercises on"
            " it, with fastness mine."
        )
    return Practice(student, begins, made)


def practice_of_group(
    store: Store, group: str, minutes: float, *, week: datetime.date | None = None
) -> list[Practice]:
    """The sets of a group's students, by name. Raises as `practice_for`, and for a group."""
    with store.reading() as session:
        names = [student.name for student in group_named(session, group).students]
    return [practice_for(store, name, minutes, week=week) for name in names]


def _item(row: ShelvedExercise) -> Item:
    of = row.source.get("of", "") if row.made == "twin" else ""
    return Item(as_candidate(row), row.difficulty, of)


def _known(
    session: Session,
    student: tables.Student,
    weak: tuple[str, ...],
    week: datetime.date,
    retention: float,
) -> Student:
    before = [one for one in shelf.attempts(session, student) if one.made <= week]
    met = {
        trait.value
        for one in before
        for trait in one.exercise.traits
        if trait.name in ("mechanism", "way")
    }
    return Student(
        scheduled=schedule(_tried(before), retention),
        tried=frozenset(one.exercise_id for one in before),
        ability=_ability(session, student),
        weak=weak,
        met=frozenset(met),
    )


def _tried(attempts: Sequence[Attempt]) -> list[Tried]:
    took = _seconds(attempts)
    return [
        Tried(
            one.exercise.pattern,
            one.made,
            one.verdict == "right",
            one.seconds,
            took[cast("Kind", one.exercise.kind)],
        )
        for one in attempts
        if one.verdict != "not judged"
    ]


def _seconds(attempts: Sequence[Attempt]) -> Mapping[Kind, float]:
    """How long each kind of question takes: the median, where enough answers were timed."""
    timed: dict[str, list[float]] = {}
    for one in attempts:
        if one.seconds is not None:
            timed.setdefault(one.exercise.kind, []).append(one.seconds)
    return {
        kind: statistics.median(timed[kind]) if len(timed.get(kind, ())) >= TIMED else usual
        for kind, usual in SECONDS.items()
    }


def _ability(session: Session, student: tables.Student) -> float:
    """The student's ability in logits among all that were answered; 0 where nothing was."""
    answers = [Answered(*row) for row in shelf.first_judged(session)]
    if not any(one.student == student.id for one in answers):
        return 0.0
    estimates = {row.id: row.estimate for row in shelf.find(session)}
    answers = [one for one in answers if one.exercise in estimates]
    return fit(answers, estimates).abilities[student.id].logits

"""What exporting, bringing back and erasing do with the shelf."""

from __future__ import annotations

import dataclasses
import datetime
import re
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.store import shelf
from fastness.store.homework_transfer import asked_of
from fastness.store.shelf_tables import Attempt, ExerciseCorrection, ShelvedExercise
from fastness.store.students import find_student
from fastness.store.tables import Student

NOBODY = "a game of a former student"
_PLAIN = [one.name for one in dataclasses.fields(shelf.Entry) if one.name != "traits"]


def told(session: Session, only: Student | None = None) -> dict[str, Any]:
    """The shelf and the attempts; with `only` that student's attempts and what they were at.

    A student's own part does not say whose game an exercise is from, nor what the teacher
    remarked about it.
    """
    attempts = shelf.attempts(session, only)
    tried = {attempt.exercise_id for attempt in attempts}
    if only is not None:
        # Homework cannot be brought back without what it asks.
        tried |= asked_of(session, only)
    every = session.scalars(select(ShelvedExercise).order_by(ShelvedExercise.id))
    return {
        "exercises": [
            _exercise(one, whole=only is None) for one in every if only is None or one.id in tried
        ],
        "attempts": [_attempt(one) for one in attempts],
    }


def _exercise(exercise: ShelvedExercise, *, whole: bool) -> dict[str, Any]:
    plain = {name: getattr(exercise, name) for name in _PLAIN}
    if not whole:
        plain["source"] = {**exercise.source, "game": ""}
    return {
        **plain,
        "identity": exercise.identity,
        "traits": [[trait.name, trait.value] for trait in exercise.traits],
        "difficulty": exercise.difficulty,
        "error": exercise.error,
        "corrections": [
            {
                "action": one.action,
                "answer": one.answer,
                "verdict": one.verdict,
                "reason": one.reason,
                "made": one.made.isoformat(),
            }
            for one in (exercise.corrections if whole else ())
        ],
    }


def _attempt(attempt: Attempt) -> dict[str, Any]:
    return {
        "student": attempt.student.name,
        "exercise": attempt.exercise.identity,
        "made": attempt.made.isoformat(),
        "answer": attempt.answer,
        "verdict": attempt.verdict,
        "seconds": attempt.seconds,
    }


def bring_back(session: Session, record: dict[str, Any]) -> None:
    """Add the shelf and the attempts of an export; what is there already stays."""
    for one in record.get("exercises", ()):
        _bring_exercise(session, one)
    for one in record.get("attempts", ()):
        _bring_attempt(session, one)


def _identified(session: Session, identity: str) -> ShelvedExercise | None:
    return session.scalar(select(ShelvedExercise).where(ShelvedExercise.identity == identity))


def _bring_exercise(session: Session, one: dict[str, Any]) -> None:
    if _identified(session, one["identity"]) is not None:
        return
    traits = tuple((name, value) for name, value in one["traits"])
    entry = shelf.Entry(**{name: one[name] for name in _PLAIN}, traits=traits)
    exercise, _ = shelf.put(session, entry)
    exercise.difficulty, exercise.error = one["difficulty"], one["error"]
    for correction in one["corrections"]:
        made = datetime.date.fromisoformat(correction["made"])
        exercise.corrections.append(ExerciseCorrection(**{**correction, "made": made}))
    session.flush()


def _bring_attempt(session: Session, one: dict[str, Any]) -> None:
    student = find_student(session, one["student"])
    exercise = _identified(session, one["exercise"])
    if student is None or exercise is None:
        return
    known = select(Attempt).where(
        Attempt.student_id == student.id, Attempt.exercise_id == exercise.id
    )
    if any(
        _attempt(attempt) == {**one, "student": student.name} for attempt in session.scalars(known)
    ):
        return
    made = datetime.date.fromisoformat(one["made"])
    shelf.record_attempt(
        session, student, exercise, one["answer"], one["verdict"], made=made, seconds=one["seconds"]
    )


def forget(session: Session, student: Student, known: set[str]) -> None:
    """Leave nothing of a student on the shelf: attempts, and the name in sources and remarks.

    `known` are the forms of the student's names. The exercises stay, since no name is in them.
    """
    shelf.erase_attempts(session, student)
    for exercise in session.scalars(select(ShelvedExercise)):
        if _names(str(exercise.source.get("game", "")), known):
            exercise.source = {**exercise.source, "game": NOBODY}
        kept = [one for one in exercise.corrections if not _names(one.reason, known)]
        if len(kept) != len(exercise.corrections):
            exercise.corrections = kept


def _names(text: str, known: set[str]) -> bool:
    """Whether all words of a name are in a text, in any order and whatever the capitals."""
    words = _words(text)
    return any(form and _words(form) <= words for form in known)


def _words(text: str) -> set[str]:
    return set(re.findall(r"\w+", text.casefold()))

"""Homework as the command and the pages show it: rows, exercises, students, what came back."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from fastness.exercises.exercise import Exercise
from fastness.exercises.marking import judge
from fastness.exercises.overruling import Overruling
from fastness.exercises.shelving import as_exercise
from fastness.language import ENGLISH, Language
from fastness.practice.choices import Given
from fastness.practice.code import word_of
from fastness.practice.explaining import Outcome, question_on_page
from fastness.store.homework_tables import HandIn, Homework, HomeworkStudent
from fastness.workflows.shelf_page import said_of


@dataclass(frozen=True, slots=True)
class HomeworkRow:
    """A homework in a list; `handed_in` counts the students from whom something came back."""

    number: int
    title: str
    made: datetime.date
    due: datetime.date
    group: str | None
    exercises: int
    students: int
    handed_in: int


@dataclass(frozen=True, slots=True)
class AskedTold:
    """An exercise of a homework; `label` is its number in it, `asked` the move (UCI)."""

    shelf_number: int
    label: str
    kind: str
    level: str
    question: str
    fen: str
    asked: str | None


@dataclass(frozen=True, slots=True)
class HandInTold:
    """Something handed in, by `way`; the first one `counts`. An outcome for each exercise."""

    made: datetime.date
    way: str
    counts: bool
    verdicts: tuple[Outcome, ...]


@dataclass(frozen=True, slots=True)
class GivenTold:
    """A student with the word on the slip, and what was handed in, the first of it first."""

    name: str
    word: str
    hand_ins: tuple[HandInTold, ...]


@dataclass(frozen=True, slots=True)
class HomeworkTold:
    """A homework with its exercises and students."""

    row: HomeworkRow
    language: str
    exercises: tuple[AskedTold, ...]
    students: tuple[GivenTold, ...]


@dataclass(frozen=True, slots=True)
class ExerciseResult:
    """What a student answered to an exercise, the outcome, and sentences for the student.

    `fen` is the position answered in, after the move asked about where a reply is; `flip`: Black is
    below there. `given` is None where it was left open, `given_names` how it is written on paper.
    """

    label: str
    question: str
    fen: str
    flip: bool
    asked: str | None
    kind: str
    given: tuple[str, ...] | None
    given_names: str
    verdict: Outcome
    told: tuple[str, ...]
    right: str


@dataclass(frozen=True, slots=True)
class HandedIn:
    """A homework handed in and marked.

    `new` is false where the same answers were there before, so that nothing was kept. The first
    hand-in `counts`; `later`: it came after the day it was due.
    """

    homework: int
    title: str
    student: str
    made: datetime.date
    new: bool
    counts: bool
    later: bool
    results: tuple[ExerciseResult, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """An exercise as the teacher has overruled it, with what the teacher said of it."""

    exercise: Exercise
    said: tuple[Overruling, ...]


def asked_in(homework: Homework, language: Language = ENGLISH) -> list[Asked]:
    """The exercises of a homework in their order."""
    rows = [one.exercise for one in homework.asked]
    return [Asked(as_exercise(row), said_of(row, language)) for row in rows]


def row_of(homework: Homework) -> HomeworkRow:
    """A homework as a list shows it."""
    return HomeworkRow(
        number=homework.number,
        title=homework.title,
        made=homework.made,
        due=homework.due,
        group=homework.group.name if homework.group else None,
        exercises=len(homework.asked),
        students=len(homework.students),
        handed_in=sum(bool(one.hand_ins) for one in homework.students),
    )


def homework_told(homework: Homework, language: Language = ENGLISH) -> HomeworkTold:
    """A homework with its exercises, its students and the outcomes of what came back."""
    asked = asked_in(homework, language)
    return HomeworkTold(
        row=row_of(homework),
        language=homework.language,
        exercises=tuple(
            AskedTold(
                shelf_number=one.exercise_id,
                label=str(at),
                kind=known.exercise.kind,
                level=one.exercise.level,
                question=question_on_page(known.exercise, language),
                fen=known.exercise.fen,
                asked=known.exercise.asked,
            )
            for at, (one, known) in enumerate(zip(homework.asked, asked, strict=True), 1)
        ),
        students=tuple(
            _student(one, [known.exercise for known in asked])
            for one in sorted(homework.students, key=lambda one: one.student.name)
        ),
    )


def _student(given: HomeworkStudent, exercises: Sequence[Exercise]) -> GivenTold:
    hand_ins = tuple(
        HandInTold(kept.made, kept.way, at == 0, outcomes(exercises, answers_of(kept)))
        for at, kept in enumerate(given.hand_ins)
    )
    return GivenTold(given.student.name, word_of(given.number, given.key), hand_ins)


def answers_of(kept: HandIn) -> tuple[Given, ...]:
    """The answers that were handed in."""
    return tuple(None if one is None else tuple(one) for one in kept.answers)


def outcomes(exercises: Sequence[Exercise], answers: Sequence[Given]) -> tuple[Outcome, ...]:
    """An outcome for each exercise, without words."""
    return tuple(
        "open" if given is None else judge(exercise, given).verdict
        for exercise, given in zip(exercises, answers, strict=True)
    )

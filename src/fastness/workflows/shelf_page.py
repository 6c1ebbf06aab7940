"""The shelf as a page shows it: some of the exercises at a time, and one with its answer."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from fastness.exercises.difficulty import terms
from fastness.exercises.exercise import Exercise
from fastness.exercises.overruling import Overruling
from fastness.exercises.shelving import as_exercise
from fastness.exercises.words import TEACHER, answer_name, answer_names, question
from fastness.language import ENGLISH, Language
from fastness.publish.answers import answer_in_words, ringed
from fastness.store import Store, shelf
from fastness.store.shelf import Action, Verdict, Wanted
from fastness.store.shelf_tables import ExerciseCorrection, ShelvedExercise
from fastness.survey.reading import ToldLine, told_line
from fastness.workflows.shelving import as_answer


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """An exercise in a list. `asked` is the move (UCI) that the question is about."""

    number: int
    level: str
    kind: str
    question: str
    fen: str
    asked: str | None
    reach: int | None
    holding: int
    units: tuple[str, ...]
    mechanisms: tuple[str, ...]
    ways: tuple[str, ...]
    phase: str
    made: str
    struck: bool


@dataclass(frozen=True, slots=True)
class ShelfList:
    """Some of the exercises that fit, and how many there are."""

    count: int
    exercises: tuple[ShelfRow, ...]


@dataclass(frozen=True, slots=True)
class ExerciseSaid:
    """What the teacher said of an exercise or of one answer to it."""

    id: int
    action: str
    answer: str | None
    answer_name: str | None
    verdict: str | None
    reason: str
    made: datetime.date


@dataclass(frozen=True, slots=True)
class DifficultyTerm:
    """What makes an exercise hard or easy, in logits."""

    name: str
    logits: float


@dataclass(frozen=True, slots=True)
class ExerciseTold:
    """An exercise with its answer.

    `right` are the right answers as they are written on paper, `not_judged` those that do not
    count. `told` says what is right and why the natural wrong answers are wrong. `lines` are the
    proof of what is not safe, or of why the move asked about fails. `difficulty` is in logits;
    `tried` tells whether it was fitted from attempts.
    """

    row: ShelfRow
    ringed: tuple[str, ...]
    right: str
    not_judged: str
    told: tuple[str, ...]
    lines: tuple[ToldLine, ...]
    source: str
    of: str
    difficulty: float
    tried: bool
    terms: tuple[DifficultyTerm, ...]
    said: tuple[ExerciseSaid, ...]


def list_shelf(
    store: Store,
    wanted: Wanted,
    *,
    after: int = 0,
    most: int = 100,
    language: Language = ENGLISH,
) -> ShelfList:
    """The exercises that fit by number, from the one after `after` on."""
    with store.reading() as session:
        count = shelf.count(session, wanted)
        rows = shelf.find(session, wanted, after=after, most=most)
        return ShelfList(count, tuple(row_of(row, language) for row in rows))


def rows_at(
    store: Store, positions: Sequence[str], language: Language = ENGLISH
) -> tuple[ShelfRow, ...]:
    """The exercises of some positions (`position_key`) by number, but those that were struck."""
    with store.reading() as session:
        return tuple(row_of(row, language) for row in shelf.at_positions(session, positions))


def tell_exercise(store: Store, number: int, language: Language = ENGLISH) -> ExerciseTold:
    """One exercise with its answer. Raises MissingError where there is none of this number."""
    with store.reading() as session:
        row = shelf.numbered(session, number)
        exercise = as_exercise(row)
        survey = exercise.proved.survey
        summed = () if row.error is not None else terms(survey, exercise.kind, exercise.asked)
        return ExerciseTold(
            row=row_of(row, language),
            ringed=ringed(exercise),
            right=answer_names(exercise, exercise.accepted, language),
            not_judged=answer_names(exercise, exercise.not_judged, language),
            told=answer_in_words(exercise, said_of(row, language), language),
            lines=_lines(exercise, language),
            source=exercise.proved.source.game,
            of=exercise.proved.source.of,
            difficulty=round(row.difficulty, 2),
            tried=row.error is not None,
            terms=tuple(DifficultyTerm(one.name, round(one.logits, 2)) for one in summed),
            said=tuple(_said(exercise, one, language) for one in row.corrections),
        )


@dataclass(frozen=True, slots=True)
class SaidNow:
    """What was said of an exercise, and what it took the place of."""

    made: ExerciseSaid
    replaced: tuple[ExerciseSaid, ...]


def say(
    store: Store,
    number: int,
    action: Action,
    reason: str,
    *,
    answer: str | None = None,
    verdict: Verdict | None = None,
    language: Language = ENGLISH,
) -> SaidNow:
    """Strike an exercise, comment on it, or overrule one answer.

    `answer` is a move as a player writes it, a square, yes or no. Raises InputError where it cannot
    be one, no reason is given, or an overruling is not whole; MissingError where there is no such
    exercise.
    """
    with store.writing() as session:
        row = shelf.numbered(session, number)
        exercise = as_exercise(row)
        before = [_said(exercise, one, language) for one in row.corrections]
        known = None if answer is None else as_answer(exercise, answer)
        made = shelf.correct(session, row, action, reason, answer=known, verdict=verdict)
        left = {one.id for one in row.corrections}
        replaced = tuple(one for one in before if one.id not in left)
        return SaidNow(_said(exercise, made, language), replaced)


def unsay(store: Store, number: int, correction: int, language: Language = ENGLISH) -> ExerciseSaid:
    """Take back what was said; it is given, so that it can be said again.

    Raises MissingError where there is no such exercise or correction.
    """
    with store.writing() as session:
        row = shelf.numbered(session, number)
        said = {one.id: _said(as_exercise(row), one, language) for one in row.corrections}
        shelf.take_back(session, row, correction)
        return said[correction]


def said_of(row: ShelvedExercise, language: Language = ENGLISH) -> tuple[Overruling, ...]:
    """What the teacher said of a shelved exercise, as sheets print it."""
    found, teacher = [], language.say(TEACHER)
    for one in row.corrections:
        if one.action == "overrule":
            found.append(Overruling(teacher, one.reason, one.answer or "", _counts(one)))
        elif one.action == "comment":
            found.append(Overruling(teacher, one.reason))
    return tuple(found)


def _counts(one: ExerciseCorrection) -> Verdict:
    return next(known for known in ("right", "wrong", "not judged") if known == one.verdict)


def _lines(exercise: Exercise, language: Language) -> tuple[ToldLine, ...]:
    survey = exercise.proved.survey
    if exercise.asked:
        line = exercise.proved.verdict(exercise.asked)["line"]
        found = [line] if line else []
    else:
        found = [
            unit["line"]
            for unit in survey["units"]
            if unit["line"] and unit["square"] in ringed(exercise)
        ]
    unique = list(dict.fromkeys(tuple(line) for line in found))
    return tuple(told_line(survey["fen"], line, language) for line in unique)


def row_of(one: ShelvedExercise, language: Language = ENGLISH) -> ShelfRow:
    """A shelved exercise as a list shows it."""
    named = {
        name: tuple(sorted(trait.value for trait in one.traits if trait.name == name))
        for name in ("unit", "mechanism", "way")
    }
    return ShelfRow(
        number=one.id,
        level=one.level,
        kind=one.kind,
        question=question(as_exercise(one), language),
        fen=one.fen,
        asked=one.asked,
        reach=one.reach,
        holding=one.holding,
        units=named["unit"],
        mechanisms=named["mechanism"],
        ways=named["way"],
        phase=one.phase,
        made=one.made,
        struck=is_struck(one),
    )


def is_struck(one: ShelvedExercise) -> bool:
    """Whether the teacher struck an exercise, so that it is given to nobody."""
    return any(found.action == "strike" for found in one.corrections)


def _said(exercise: Exercise, one: ExerciseCorrection, language: Language) -> ExerciseSaid:
    name = answer_name(exercise, one.answer, language) if one.answer else None
    return ExerciseSaid(one.id, one.action, one.answer, name, one.verdict, one.reason, one.made)

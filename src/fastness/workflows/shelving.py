"""What a teacher does with the shelf: look at it, correct it, and fit it to the attempts."""

from __future__ import annotations

from typing import TypedDict, cast

import chess

from fastness.errors import InputError
from fastness.exercises.difficulty import level_of
from fastness.exercises.exercise import Exercise, Kind, Level
from fastness.exercises.rasch import Answered, fit
from fastness.exercises.shelving import as_entry, as_exercise
from fastness.store import Store, shelf
from fastness.store.shelf import Verdict, Wanted
from fastness.store.shelf_tables import ShelvedExercise


class ShelvedRow(TypedDict):
    """An exercise in a list, as data; `reach` is None where nothing has to be looked ahead for."""

    number: int
    level: Level
    kind: Kind
    reach: int | None
    holding: int
    units: list[str]
    mechanisms: list[str]
    ways: list[str]
    phase: str
    made: str
    difficulty: float
    fen: str
    asked: str | None
    struck: bool


def shelve(store: Store, exercises: list[Exercise]) -> int:
    """Put exercises on the shelf; how many were new."""
    with store.writing() as session:
        return sum(shelf.put(session, as_entry(exercise))[1] for exercise in exercises)


def listed(store: Store, wanted: Wanted) -> list[ShelvedRow]:
    """The exercises that fit, a row of plain values each."""
    with store.reading() as session:
        return [_row(one) for one in shelf.find(session, wanted)]


def _row(one: ShelvedExercise) -> ShelvedRow:
    named = {
        name: sorted(trait.value for trait in one.traits if trait.name == name)
        for name in ("unit", "mechanism", "way")
    }
    return {
        "number": one.id,
        "level": cast("Level", one.level),
        "kind": cast("Kind", one.kind),
        "reach": one.reach,
        "holding": one.holding,
        "units": named["unit"],
        "mechanisms": named["mechanism"],
        "ways": named["way"],
        "phase": one.phase,
        "made": one.made,
        "difficulty": round(one.difficulty, 2),
        "fen": one.fen,
        "asked": one.asked,
        "struck": any(found.action == "strike" for found in one.corrections),
    }


def correct(
    store: Store,
    number: int,
    action: shelf.Action,
    reason: str,
    *,
    answer: str | None = None,
    verdict: Verdict | None = None,
) -> None:
    """Keep a correction of an exercise. Raises InputError where its answer cannot be one."""
    with store.writing() as session:
        row = shelf.numbered(session, number)
        known = None if answer is None else as_answer(as_exercise(row), answer)
        shelf.correct(session, row, action, reason, answer=known, verdict=verdict)


def take_back(store: Store, number: int, correction: int) -> None:
    """Remove a correction of an exercise."""
    with store.writing() as session:
        shelf.take_back(session, shelf.numbered(session, number), correction)


def as_answer(exercise: Exercise, answer: str) -> str:
    """An answer as the shelf keeps it, from a move as a player writes it, a square, yes or no."""
    if exercise.kind == "is it safe":
        if answer in ("yes", "no"):
            return answer
        raise InputError(f'the answer is yes or no, not "{answer}"')
    if exercise.kind == "which unit":
        squares = [unit["square"] for unit in exercise.proved.survey["units"]]
        if answer in squares:
            return answer
        raise InputError(f'"{answer}" is no square of a unit of the side to move')
    board = chess.Board(exercise.fen)
    if exercise.kind == "why it fails" and exercise.asked:
        board.push_uci(exercise.asked)
    for read in (board.parse_san, board.parse_uci):
        try:
            return read(answer).uci()
        except ValueError:
            continue
    raise InputError(f'"{answer}" is no legal move here; write it as Nf3 or g1f3')


def fit_difficulties(store: Store) -> tuple[int, int]:
    """Fit every exercise that was tried; how many, and from how many first answers."""
    with store.writing() as session:
        every = {one.id: one for one in shelf.find(session, Wanted(struck=True))}
        answers = [Answered(*found) for found in shelf.first_judged(session)]
        fitted = fit(answers, {number: one.estimate for number, one in every.items()})
        tried = {answer.exercise for answer in answers}
        for number, one in every.items():
            found = fitted.difficulties[number]
            one.difficulty, one.error = found.logits, found.error if number in tried else None
            one.level = level_of(found.logits)
    return len(tried), len(answers)

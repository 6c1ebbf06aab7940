"""What may be answered to an exercise, and a student's answers as one number.

Only what the rules allow goes into it, every legal move and every own unit: what may be answered
says nothing about what is right.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import comb

import chess

from fastness.errors import CodeError, InputError
from fastness.exercises.exercise import Exercise, Kind
from fastness.exercises.marking import ASKS_ALL
from fastness.exercises.words import board_of_answers

SEVERAL: tuple[Kind, ...] = ASKS_ALL
"""The questions that may have several answers; to the first of them there may be none at all."""

Given = tuple[str, ...] | None
"""The answers given to an exercise, in the order of its choices; None where it was left open."""


def choices_of(exercise: Exercise) -> tuple[str, ...]:
    """All that may be answered, as `Exercise.accepted` is written: in the order of the alphabet."""
    board = board_of_answers(exercise)
    if exercise.kind == "is it safe":
        return ("no", "yes")
    if exercise.kind == "which unit":
        own = chess.SquareSet(board.occupied_co[board.turn])
        return tuple(sorted(chess.square_name(square) for square in own))
    return tuple(sorted(move.uci() for move in board.legal_moves))


def in_order(exercise: Exercise, given: Sequence[str] | None) -> Given:
    """The answers given, each once and in the order of the choices; None for none at all.

    On paper there may be several where one is asked for. Raises InputError where one is no choice.
    """
    if given is None:
        return None
    choices = choices_of(exercise)
    for one in given:
        if one not in choices:
            raise InputError(f'"{one}" cannot be answered here ({exercise.fen})')
    ordered = tuple(one for one in choices if one in given)
    if not ordered and exercise.kind != "which unit":
        return None
    return ordered


def as_one_number(exercises: Sequence[Exercise], answers: Sequence[Given]) -> int:
    """All answers as one number.

    For each exercise how many were given (0 where it was left open, else one more than there
    are), and which of the choices: the place of that choice of so many among all of that size.

    Raises InputError where there are several answers and one is asked for.
    """
    number = 0
    for exercise, given in reversed(list(zip(exercises, answers, strict=True))):
        choices = choices_of(exercise)
        count = 0 if given is None else len(given) + 1
        if count >= _counts(exercise, choices):
            raise InputError(f"one answer is asked for, and {', '.join(given or ())} were given")
        if given:
            taken = [choices.index(one) for one in given]
            number = number * comb(len(choices), len(taken)) + _rank(taken)
        number = number * _counts(exercise, choices) + count
    return number


def read_number(exercises: Sequence[Exercise], number: int) -> tuple[Given, ...]:
    """The answers that `as_one_number` made a number of. Raises CodeError where it is none."""
    answers: list[Given] = []
    for exercise in exercises:
        choices = choices_of(exercise)
        number, count = divmod(number, _counts(exercise, choices))
        if count == 0:
            answers.append(None)
            continue
        if count == 1 and exercise.kind != "which unit":
            raise CodeError("the code says what no page can say; ask for the page again")
        number, rank = divmod(number, comb(len(choices), count - 1))
        answers.append(tuple(choices[at] for at in _unranked(rank, count - 1)))
    if number:
        raise CodeError("the code is longer than its homework; is it of this homework?")
    return tuple(answers)


def _counts(exercise: Exercise, choices: Sequence[str]) -> int:
    """How many different counts of answers there can be: left open, none, one and so on."""
    return len(choices) + 2 if exercise.kind in SEVERAL else 3


def _rank(taken: Sequence[int]) -> int:
    """The place of some numbers, in rising order, among all choices of so many.

    The combinatorial number system (Knuth, The Art of Computer Programming 4A, 7.2.1.3; from
    memory).
    """
    return sum(comb(one, at) for at, one in enumerate(taken, 1))


def _unranked(rank: int, count: int) -> list[int]:
    taken = []
    for at in range(count, 0, -1):
        one = at - 1
        while comb(one + 1, at) <= rank:
            one += 1
        taken.append(one)
        rank -= comb(one, at)
    return taken[::-1]

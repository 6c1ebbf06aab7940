"""What the teacher says of an exercise's answers, which comes before what was computed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import chess

from fastness.errors import OptionError
from fastness.exercises.exercise import Exercise
from fastness.exercises.words import answer_name, question

Counts = Literal["right", "wrong", "not judged"]


@dataclass(frozen=True, slots=True)
class Overruling:
    """An answer that counts as the teacher says, or a remark on the exercise where `answer` is "".

    `answer` is written as in `Exercise.accepted`; `by` is who says it, and `reason` is printed.
    """

    by: str
    reason: str
    answer: str = ""
    counts: Counts = "wrong"


def overrule(exercise: Exercise, said: Sequence[Overruling]) -> Exercise:
    """The exercise with its answers as the teacher has overruled them; the last word counts.

    Raises OptionError where one of them is no answer to the question.
    """
    accepted, aside = list(exercise.accepted), list(exercise.not_judged)
    for one in said:
        if not one.answer:
            continue
        _check(exercise, one.answer)
        for answers in (accepted, aside):
            if one.answer in answers:
                answers.remove(one.answer)
        if one.counts == "right":
            accepted.append(one.answer)
        elif one.counts == "not judged":
            aside.append(one.answer)
    return replace(exercise, accepted=tuple(accepted), not_judged=tuple(aside))


def _check(exercise: Exercise, answer: str) -> None:
    if exercise.kind == "which unit":
        possible = answer in chess.SQUARE_NAMES
    elif exercise.kind == "is it safe":
        possible = answer in ("yes", "no")
    else:
        try:
            possible = bool(answer_name(exercise, answer))
        except ValueError:
            possible = False
    if not possible:
        raise OptionError(
            f'"{answer}" is no answer to "{question(exercise)}" ({exercise.fen}); '
            "give a square, a move in UCI notation that can be played there, or yes or no"
        )

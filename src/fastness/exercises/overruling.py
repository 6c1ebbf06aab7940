"""What the teacher says of an exercise's answers, which comes before what was computed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from fastness.exercises.exercise import Exercise

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
    """The exercise with its answers as the teacher has overruled them; the last word counts."""
    accepted, aside = list(exercise.accepted), list(exercise.not_judged)
    for one in said:
        if not one.answer:
            continue
        for answers in (accepted, aside):
            if one.answer in answers:
                answers.remove(one.answer)
        if one.counts == "right":
            accepted.append(one.answer)
        elif one.counts == "not judged":
            aside.append(one.answer)
    return replace(exercise, accepted=tuple(accepted), not_judged=tuple(aside))

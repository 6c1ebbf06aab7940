"""How firm "firm" is: verdicts of exercises at two reaches more than their own."""

from __future__ import annotations

import statistics
import time
from collections import Counter
from collections.abc import Sequence

from fastness import core
from fastness.core.shapes import Survey
from fastness.exercises.exercise import KINDS, Exercise
from fastness.survey.tries import loss
from fastness.survey.words import THRESHOLD


def turned(exercise: Exercise, reach: int) -> tuple[int, list[str]]:
    """How many answers of an exercise count, and which of them have another verdict at `reach`.

    Of "better way" only whether the moves hold is looked at, since the rest is an opinion.
    """
    survey = exercise.proved.survey
    aside = set(exercise.not_judged)
    if exercise.kind == "which unit":
        own = {unit["square"] for unit in survey["units"]} - aside
        there = set(core.unsafe_units(exercise.fen, reach=reach))
        return len(own), sorted((there ^ set(exercise.accepted)) & own)
    if exercise.kind == "why it fails" and exercise.asked:
        # The reply is the first of the opponent's moves that are searched.
        after = core.survey(exercise.fen, moves=[exercise.asked], reach=reach - 1)
        wins = {move["uci"] for move in after["moves"] if -loss(move) >= THRESHOLD}
        legal = {move["uci"] for move in after["moves"]} - aside
        return len(legal), sorted((wins ^ set(exercise.accepted)) & legal)
    deeper, told = _holding(core.survey(exercise.fen, reach=reach)), _holding(survey)
    asked = {exercise.asked} if exercise.kind == "is it safe" else set(told) - aside
    return len(asked), sorted(uci for uci in asked if uci and deeper[uci] != told[uci])


def _holding(survey: Survey) -> dict[str, bool]:
    return {move["uci"]: move["holds"] for move in survey["moves"]}


def report_deeper(exercises: Sequence[Exercise]) -> None:
    """Print the share of answers and of exercises that change, and the time of each."""
    answers, changed, spoiled, times = 0, 0, Counter[str](), list[float]()
    kinds = Counter(exercise.kind for exercise in exercises)
    for exercise in exercises:
        reach = exercise.proved.survey["reach"] + 2
        start = time.perf_counter()
        number, other = turned(exercise, reach)
        times.append(time.perf_counter() - start)
        answers, changed = answers + number, changed + len(other)
        spoiled[exercise.kind] += bool(other)
        if other:
            asked = f" {exercise.asked}" if exercise.asked else ""
            print(f"at reach {reach}: {exercise.kind}{asked}: {', '.join(other)}: {exercise.fen}")
    bad = sum(spoiled.values())
    print(f"at two reaches more: {changed} of {answers} answers change ({changed / answers:.2%})")
    share = bad / len(exercises)
    print(f"exercises with one that changes: {bad} of {len(exercises)} ({share:.1%})")
    told = ", ".join(f"{kind} {spoiled[kind]} of {kinds[kind]}" for kind in KINDS)
    print(f"of each kind: {told}")
    print(f"seconds an exercise: median {statistics.median(times):.1f}, most {max(times):.1f}")

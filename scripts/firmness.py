"""How firm "firm" is: verdicts of exercises at two reaches more than their own."""

from __future__ import annotations

import json
import statistics
import time
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from fastness import core
from fastness.core.shapes import Survey
from fastness.exercises.exercise import KINDS, Exercise
from fastness.survey.tries import loss
from fastness.survey.words import THRESHOLD

Row = dict[str, Any]
"""An exercise as a file of rows has it."""


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


def deeper(numbered: Sequence[tuple[int, Exercise]], kept: Path, threads: int) -> list[Row]:
    """Exercises at two reaches more than their own; those in the file are not judged again."""
    done = read_rows(kept)
    waiting = [(number, one) for number, one in numbered if number not in done]
    with ThreadPoolExecutor(threads) as pool, kept.open("a", encoding="utf-8") as file:
        for row in pool.map(_judged, waiting):
            done[row["number"]] = row
            file.write(json.dumps(row) + "\n")
            file.flush()
    return [done[number] for number, _ in numbered]


def _judged(numbered: tuple[int, Exercise]) -> Row:
    number, one = numbered
    reach = one.proved.survey["reach"] + 2
    start = time.perf_counter()
    answers, other = turned(one, reach)
    return {
        "number": number,
        "kind": one.kind,
        "fen": one.fen,
        "asked": one.asked,
        "reach": reach,
        "answers": answers,
        "turned": other,
        "seconds": round(time.perf_counter() - start, 2),
    }


def read_rows(kept: Path) -> dict[int, Row]:
    """The rows of a file by the number of the exercise; a line cut short is taken away."""
    if not kept.exists():
        return {}
    text = kept.read_text("utf-8")
    whole = text[: text.rfind("\n") + 1]
    if whole != text:
        kept.write_text(whole, "utf-8")
    return {row["number"]: row for row in map(json.loads, whole.splitlines())}


def report_deeper(rows: Sequence[Row]) -> None:
    """Print the share of answers and of exercises that change, and the time of each."""
    spoiled = [row for row in rows if row["turned"]]
    for row in spoiled:
        asked = f" {row['asked']}" if row["asked"] else ""
        told = ", ".join(row["turned"])
        print(f"at reach {row['reach']}: {row['kind']}{asked}: {told}: {row['fen']}")
    answers, changed = sum(row["answers"] for row in rows), sum(len(row["turned"]) for row in rows)
    print(f"at two reaches more: {changed} of {answers} answers change ({changed / answers:.2%})")
    share = len(spoiled) / len(rows)
    print(f"exercises with one that changes: {len(spoiled)} of {len(rows)} ({share:.1%})")
    every, some = (Counter(row["kind"] for row in each) for each in (rows, spoiled))
    print("of each kind: " + ", ".join(f"{kind} {some[kind]} of {every[kind]}" for kind in KINDS))
    times = [row["seconds"] for row in rows]
    print(f"seconds an exercise: median {statistics.median(times):.1f}, most {max(times):.1f}")

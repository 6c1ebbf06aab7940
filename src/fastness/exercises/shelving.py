"""Between an exercise and its place on the shelf."""

from __future__ import annotations

import dataclasses
from typing import Any, cast

import chess

from fastness.core.shapes import Survey
from fastness.exercises.choice import Candidate
from fastness.exercises.difficulty import attack_to_see, estimate, is_unsafe, level_of
from fastness.exercises.exercise import Exercise, Kind, Level, Proved, Source
from fastness.exercises.overruling import Counts, Overruling, overrule
from fastness.exercises.patterns import pattern_key
from fastness.record.episode import phase_of
from fastness.store.shelf import Entry
from fastness.store.shelf_tables import ExerciseCorrection, ShelvedExercise


def as_entry(exercise: Exercise) -> Entry:
    """An exercise as the shelf keeps it, with its estimate, pattern and what it is found by."""
    proved = exercise.proved
    survey = proved.survey
    logits = estimate(survey, exercise.kind, exercise.asked)
    attack = attack_to_see(survey, exercise.kind, exercise.asked)
    return Entry(
        kind=exercise.kind,
        fen=exercise.fen,
        asked=exercise.asked,
        accepted=exercise.accepted,
        not_judged=exercise.not_judged,
        survey=cast("dict[str, Any]", survey),
        firm_units=proved.firm_units,
        replies={move: list(replies) for move, replies in proved.replies.items()},
        made=proved.source.made,
        source=dataclasses.asdict(proved.source),
        pattern=pattern_key(exercise),
        estimate=logits,
        level=level_of(logits),
        phase=phase_of(chess.Board(exercise.fen)),
        reach=attack.reach if attack else None,
        holding=sum(move["holds"] for move in survey["moves"]),
        traits=_traits(survey),
    )


def _traits(survey: Survey) -> tuple[tuple[str, str], ...]:
    unsafe = [unit for unit in survey["units"] if is_unsafe(unit)]
    found: set[tuple[str, str]] = {("unit", unit["unit"]) for unit in unsafe}
    found |= {("mechanism", name) for unit in unsafe for name in unit["mechanisms"]}
    ways = {move["ways"][0] for move in survey["moves"] if move["holds"] and move["ways"]}
    return tuple(sorted({*found, *(("way", str(way)) for way in ways)}))


def as_exercise(row: ShelvedExercise) -> Exercise:
    """An exercise from the shelf, with the teacher's overruled answers in their places."""
    replies = {move: tuple(found) for move, found in row.replies.items()}
    proved = Proved(
        cast("Survey", row.survey),
        row.firm_units,
        replies,
        Source(**row.source),
        firm_better=row.kind == "better way",
    )
    exercise = Exercise(
        kind=cast("Kind", row.kind),
        proved=proved,
        accepted=tuple(row.accepted),
        not_judged=tuple(row.not_judged),
        asked=row.asked,
    )
    return overrule(exercise, [_said(one) for one in row.corrections if one.action == "overrule"])


def _said(correction: ExerciseCorrection) -> Overruling:
    counts = cast("Counts", correction.verdict)
    return Overruling("", correction.reason, correction.answer or "", counts)


def as_candidate(row: ShelvedExercise) -> Candidate:
    """An exercise from the shelf as a choice looks at it."""
    return Candidate(
        number=row.id,
        fen=row.fen,
        kind=cast("Kind", row.kind),
        level=cast("Level", row.level),
        unsafe=any(trait.name == "unit" for trait in row.traits),
        mechanisms=tuple(trait.value for trait in row.traits if trait.name == "mechanism"),
        ways=tuple(trait.value for trait in row.traits if trait.name == "way"),
        pattern=row.pattern,
    )

"""Composes positions on request: real or generated ones as they stand, or with one detail changed.

Many are looked at shortly, few are proved. The time given is kept to; within it the same positions
in the same order give the same answers.
"""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Generator, Iterable, Iterator
from dataclasses import dataclass, field

from fastness import core
from fastness.core.shapes import Survey
from fastness.errors import PositionError
from fastness.exercises.admission import exercises_of
from fastness.exercises.difficulty import estimate, level_of
from fastness.exercises.edits import Edit, edits
from fastness.exercises.exercise import Exercise, Proved, Source
from fastness.exercises.patterns import pattern_key
from fastness.exercises.proving import prove
from fastness.exercises.request import Request, unmet

QUICK_REACH = 2
"""Opponent moves of the short look, where the danger asked for is seen by it."""
EDITED = 96
"""Changes of one position that are looked at."""
BATCH = 32
"""Changes looked at in one call of the core."""
MOST_UNMET = 2
"""Parts of the request that a change of one detail is hoped to mend."""
MOST_PROVED = 2
"""Positions proved of one start, the start itself included."""


@dataclass(frozen=True, slots=True)
class Start:
    """A position to begin with, where it came from, and which of the games that was."""

    fen: str
    source: Source
    game: int = 0


@dataclass(frozen=True, slots=True)
class Composed:
    """A proved position as asked for, and its exercises; `edit` is what was changed in it."""

    proved: Proved
    exercises: tuple[Exercise, ...]
    edit: Edit | None


@dataclass(slots=True)
class Tally:
    """How the search went: positions looked at and proved, and how often each part was missing.

    `missing` counts only positions that missed a single part; `ended` is False where time was up.
    """

    looked: int = 0
    proved: int = 0
    missing: Counter[str] = field(default_factory=Counter)
    ended: bool = True


def compose(
    starts: Iterable[Start],
    request: Request,
    tally: Tally,
    *,
    seconds: float = 60,
    reach: int = 3,
    values: str = "classical",
    rank_nodes: int = core.RANK_NODES,
    clock: Callable[[], float] = time.monotonic,
) -> Generator[Composed, None, None]:
    """Positions that meet a request, from the starts in order, near-duplicates left out.

    Each game gives one position at most, so that they differ.

    `tally` is kept up while the search goes on. The search stops when `seconds` are over; what is
    being proved then is finished.
    """
    end = clock() + seconds
    quick = max(QUICK_REACH, request.reach or 0)
    seen: set[str] = set()
    done = -1
    for start in starts:
        if start.game == done:
            continue
        if clock() >= end:
            tally.ended = False
            return
        found = _near(start, request, tally, quick, values)
        for fen, source, edit in _first(found, MOST_PROVED):
            if clock() >= end:
                tally.ended = False
                return
            tally.proved += 1
            proved = prove(fen, source, reach=reach, values=values, rank_nodes=rank_nodes)
            composed = _as_asked(proved, request, edit, tally)
            keys = {pattern_key(one) for one in composed.exercises} if composed else set()
            if composed and not keys & seen:
                seen |= keys
                done = start.game
                yield composed
                break


_Found = tuple[str, Source, Edit | None]


def _first(found: Iterator[_Found], count: int) -> Iterator[_Found]:
    for _, one in zip(range(count), found, strict=False):
        yield one


def _near(
    start: Start, request: Request, tally: Tally, reach: int, values: str
) -> Iterator[_Found]:
    """The start, if the short look says that it fits, else its changes that do."""
    survey = core.survey(start.fen, reach=reach, values=values)
    tally.looked += 1
    lacks = unmet(request, survey)
    if not lacks:
        yield start.fen, start.source, None
        return
    if len(lacks) == 1:
        tally.missing[lacks[0]] += 1
    if len(lacks) > MOST_UNMET or "side" in lacks:
        return
    changes = edits(start.fen)[:EDITED]
    for place in range(0, len(changes), BATCH):
        for edit, answer in _looked(changes[place : place + BATCH], reach, values):
            tally.looked += 1
            if not unmet(request, answer):
                yield edit.fen, _composed_of(start), edit


def _looked(changes: list[Edit], reach: int, values: str) -> Iterator[tuple[Edit, Survey]]:
    rows: list[tuple[str, tuple[str, ...]]] = [(edit.fen, ()) for edit in changes]
    for edit, answer in zip(
        changes, core.survey_many(rows, reach=reach, values=values), strict=True
    ):
        if not isinstance(answer, PositionError):
            yield edit, answer


def _composed_of(start: Start) -> Source:
    return Source("composed", start.source.game, start.source.ply, start.fen)


def _as_asked(proved: Proved, request: Request, edit: Edit | None, tally: Tally) -> Composed | None:
    """The position with its exercises, where the full reach bears out what was asked for."""
    lacks = unmet(request, proved.survey)
    if lacks:
        if len(lacks) == 1:
            tally.missing[lacks[0]] += 1
        return None
    exercises = exercises_of(proved)
    if not exercises or not proved.firm_units:
        tally.missing["firm"] += 1
        return None
    if request.level is not None:
        exercises = [one for one in exercises if _level(one) == request.level]
        if not exercises:
            tally.missing["level"] += 1
            return None
    return Composed(proved, tuple(exercises), edit)


def _level(exercise: Exercise) -> str:
    survey = exercise.proved.survey
    return level_of(estimate(survey, exercise.kind, exercise.asked))

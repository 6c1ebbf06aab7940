"""Twins: positions that differ in one detail and want another answer.

Many changes are screened by a short look, few are proved: at the full reach, one move deeper, and
with the ranks of the moves that hold.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from fastness import core
from fastness.core.shapes import Survey
from fastness.errors import PositionError
from fastness.exercises.edits import Edit, edits
from fastness.exercises.remedy import Remedy, remedy_of
from fastness.exercises.twin import Twin, proved_twin, strain, turns

REACH = 3
"""Opponent moves to which a twin is judged; one more makes it firm."""
SCREEN = 2
"""Opponent moves of the short look, where the danger is seen by it."""
BATCH = 32
"""Changes screened in one call of the core."""
PROVED_AT_ONCE = 2
MOST_PROVED = 12
"""Changes that are proved for one position at most, so that its time does not depend on luck."""
SCREENING = 0.5
"""The part of the time that the short look may take."""


@dataclass(frozen=True, slots=True)
class Search:
    """What the search for twins of one position found.

    `changes` are natural ones, of which `screened` were looked at, `turning` seemed to want
    another answer, and `proved` were judged in full. `ended` is False where the time was up.
    """

    twins: tuple[Twin, ...]
    changes: int
    screened: int
    turning: int
    proved: int
    ended: bool


def find_twins(
    survey: Survey,
    *,
    count: int = 3,
    seconds: float = 20,
    threads: int = 0,
    clock: Callable[[], float] = time.monotonic,
) -> Search:
    """Twins of the position of a firm and ranked survey, the smallest and most natural first.

    At most `count`, each by a change of another unit. The search stops when `seconds` are over
    (what is being proved is finished); within them the same position gives the same twins. The
    core works in so many `threads`, 0 for one a core.

    Raises TwinError where the position has no remedy to turn.
    """
    remedy = remedy_of(survey)
    start = clock()
    changes = edits(survey["fen"])

    def in_time() -> bool:
        return clock() - start < SCREENING * seconds

    judge = _Judge(remedy, survey["values"], threads)
    turning, screened = judge.screen(changes, in_time)
    twins: list[Twin] = []
    proved = 0
    ended = screened == len(changes)
    waiting = list(turning)
    while waiting and len(twins) < count and proved < MOST_PROVED:
        if clock() - start >= seconds:
            ended = False
            break
        taken = waiting[:PROVED_AT_ONCE]
        del waiting[:PROVED_AT_ONCE]
        likely = [edit for edit, _ in judge.turned(taken, REACH)]
        proved += len(likely)
        twins += judge.proved(likely)
        changed = {_subject(twin.edit) for twin in twins}
        waiting = [edit for edit in waiting if _subject(edit) not in changed]
    return Search(
        tuple(_one_for_each(twins)[:count]), len(changes), screened, len(turning), proved, ended
    )


@dataclass(frozen=True, slots=True)
class _Judge:
    """Asks the core about changed positions."""

    remedy: Remedy
    values: str
    threads: int

    def screen(
        self, changes: Sequence[Edit], in_time: Callable[[], bool]
    ) -> tuple[list[Edit], int]:
        """The changes that turn it by the short look, the best first; how many were seen."""
        reach = max(SCREEN, self.remedy.reach)
        found: list[tuple[int, str, Edit]] = []
        screened = 0
        while screened < len(changes) and in_time():
            batch = changes[screened : screened + BATCH]
            screened += len(batch)
            for edit, seen in self.turned(batch, reach):
                size = edit.size + strain(self.remedy, edit, seen)
                found.append((size, edit.fen, edit))
        return [edit for _, _, edit in sorted(found, key=lambda one: one[:2])], screened

    def turned(self, changes: Sequence[Edit], reach: int) -> Iterator[tuple[Edit, Survey]]:
        """The changes that turn the remedy in material, with their surveys."""
        for edit, answer in self._surveys(changes, reach):
            if turns(self.remedy, edit, answer):
                yield edit, answer

    def proved(self, changes: Sequence[Edit]) -> Iterator[Twin]:
        """The twins among the changes."""
        for edit, answer in self._surveys(changes, REACH, rank_nodes=core.RANK_NODES):
            twin = proved_twin(self.remedy, edit, answer)
            if twin:
                yield twin

    def _surveys(
        self, changes: Sequence[Edit], reach: int, rank_nodes: int = 0
    ) -> Iterator[tuple[Edit, Survey]]:
        """Firm where they are ranked; a position that the core refuses is left out."""
        rows: list[tuple[str, Sequence[str]]] = [(edit.fen, ()) for edit in changes]
        answers = core.survey_many(
            rows,
            reach=reach,
            firm=rank_nodes > 0,
            values=self.values,
            rank_nodes=rank_nodes,
            threads=self.threads,
        )
        for edit, answer in zip(changes, answers, strict=True):
            if not isinstance(answer, PositionError):
                yield edit, answer


def _subject(edit: Edit) -> tuple[str, str | None]:
    """What a change is about: the unit changed, or for one added its letter."""
    return edit.units[0].unit, edit.units[0].before


def _one_for_each(twins: Sequence[Twin]) -> list[Twin]:
    """Of twins by changes of the same unit the first."""
    found: dict[tuple[str, str | None], Twin] = {}
    for twin in twins:
        found.setdefault(_subject(twin.edit), twin)
    return list(found.values())

"""Twins: positions that differ in one detail and want another answer.

Many changes are screened by a short look, few are proved: at the full reach, one move deeper, and
with the ranks of the moves that hold.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import chess

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey, Unit, Way
from fastness.errors import PositionError
from fastness.exercises.edits import Edit, edits
from fastness.exercises.exercise import verdict_of
from fastness.exercises.remedy import (
    Remedy,
    endangered_squares,
    in_centipawns,
    remedy_of,
    wants_answer,
)
from fastness.survey.tries import in_danger
from fastness.survey.words import THRESHOLD

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
CLEARLY = 75
"""Centipawns of the evaluation by which the new best way must be ahead of the old one."""
CLUTTER = 5
"""What each pawn's worth more in danger or to be taken adds to the size of a change."""
BEHIND = 10
"""What it adds that the old best move still holds: less is to be seen than where it falls."""
GIFT = 30
"""What it adds that the unit changed can now be won itself: that looks made up."""
A_PIECE = 3
"""Pawns' worth that no change may give away."""
WORTH = {"pawn": 1, "knight": 3, "bishop": 3, "rook": 5, "queen": 9, "king": 9}
"""Pawns' worth of a unit in danger, for `CLUTTER`; a king in danger is like a queen."""


@dataclass(frozen=True, slots=True)
class Twin:
    """A changed position in which another way is best, proved and firm.

    `survey` is that of the twin, firm and ranked. `lead` (UCI) was best in the position at `of`;
    in the twin it `falls`, or holds but is clearly behind. `better` (UCI) are the twin's own moves
    of the first rank, `way` how the first of them works.
    """

    of: str
    edit: Edit
    survey: Survey
    lead: str
    falls: bool
    better: tuple[str, ...]
    way: Way

    @property
    def fen(self) -> str:
        """The position of the twin."""
        return self.survey["fen"]

    def verdict(self, uci: str) -> MoveVerdict:
        """What the twin's survey says of a move; raises KeyError where it is not legal."""
        return verdict_of(self.survey, uci)


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
    clock: Callable[[], float] = time.monotonic,
) -> Search:
    """Twins of the position of a firm and ranked survey, the smallest and most natural first.

    At most `count`, each by a change of another unit. The search stops when `seconds` are over
    (what is being proved is finished); within them the same position gives the same twins.

    Raises TwinError where the position has no remedy to turn.
    """
    remedy = remedy_of(survey)
    start = clock()
    changes = edits(survey["fen"])

    def in_time() -> bool:
        return clock() - start < SCREENING * seconds

    turning, screened = _screen(remedy, changes, survey, in_time)
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
        likely = [edit for edit, _ in _turned(remedy, taken, survey, REACH)]
        proved += len(likely)
        twins += _proved(remedy, likely, survey)
        changed = {_subject(twin.edit) for twin in twins}
        waiting = [edit for edit in waiting if _subject(edit) not in changed]
    return Search(
        tuple(_one_for_each(twins)[:count]), len(changes), screened, len(turning), proved, ended
    )


def _screen(
    remedy: Remedy, changes: Sequence[Edit], survey: Survey, in_time: Callable[[], bool]
) -> tuple[list[Edit], int]:
    """The changes that turn the remedy by the short look, the best first; how many were seen."""
    reach = max(SCREEN, remedy.reach)
    found: list[tuple[int, str, Edit]] = []
    screened = 0
    while screened < len(changes) and in_time():
        batch = changes[screened : screened + BATCH]
        screened += len(batch)
        for edit, seen in _turned(remedy, batch, survey, reach):
            size = edit.size + _strain(remedy, edit, seen)
            found.append((size, edit.fen, edit))
    return [edit for _, _, edit in sorted(found, key=lambda one: one[:2])], screened


def _turned(
    remedy: Remedy, changes: Sequence[Edit], survey: Survey, reach: int
) -> Iterator[tuple[Edit, Survey]]:
    rows: list[tuple[str, Sequence[str]]] = [(edit.fen, ()) for edit in changes]
    answers = core.survey_many(rows, reach=reach, values=survey["values"])
    for edit, answer in zip(changes, answers, strict=True):
        if not isinstance(answer, PositionError) and turns(remedy, edit, answer):
            yield edit, answer


def _proved(remedy: Remedy, changes: Sequence[Edit], survey: Survey) -> Iterator[Twin]:
    rows: list[tuple[str, Sequence[str]]] = [(edit.fen, ()) for edit in changes]
    answers = core.survey_many(
        rows, reach=REACH, firm=True, values=survey["values"], rank_nodes=core.RANK_NODES
    )
    for edit, answer in zip(changes, answers, strict=True):
        if not isinstance(answer, PositionError):
            twin = proved_twin(remedy, edit, answer)
            if twin:
                yield twin


def turns(remedy: Remedy, edit: Edit, survey: Survey) -> bool:
    """Whether the best remedy is no longer best in material after a change.

    `survey` is that of the changed position. The same unit must be in danger as before, the same
    move be there to be tried, something else hold, and nothing be given away.
    """
    if not wants_answer(survey) or not _same_danger(remedy, edit, survey):
        return False
    if not _same_move(remedy, edit.fen) or _gives_away(remedy, edit, survey):
        return False
    best = max(in_centipawns(move["net"]) for move in survey["moves"] if move["holds"])
    return not any(
        move["holds"] and in_centipawns(move["net"]) > best - THRESHOLD
        for move in survey["moves"]
        if move["uci"] in remedy.leading
    )


def proved_twin(remedy: Remedy, edit: Edit, survey: Survey) -> Twin | None:
    """The twin, if a firm and ranked survey of the changed position bears it out."""
    if not turns(remedy, edit, survey):
        return None
    lead = verdict_of(survey, remedy.lead)
    better = [move for move in survey["moves"] if move["rank"] == 1]
    advised = {move["uci"] for move in survey["moves"] if move["advised"]}
    if not better or not all(move["firm"] for move in [lead, *better]):
        return None
    if advised & set(remedy.leading):
        return None
    first = next((move for move in better if move["uci"] == survey["best"]), better[0])
    way: Way = first["ways"][0] if first["ways"] else "other"
    if lead["holds"] and (way == remedy.way or not _ahead(first, lead)):
        return None
    moves = (first["uci"], *(move["uci"] for move in better if move is not first))
    return Twin(remedy.fen, edit, survey, lead["uci"], not lead["holds"], moves, way)


def _ahead(better: MoveVerdict, lead: MoveVerdict) -> bool:
    if in_centipawns(better["net"]) - in_centipawns(lead["net"]) >= THRESHOLD:
        return True
    one, other = better["evaluation"], lead["evaluation"]
    return (
        one is not None
        and other is not None
        and in_centipawns(one) - in_centipawns(other) >= CLEARLY
    )


def _same_danger(remedy: Remedy, edit: Edit, survey: Survey) -> bool:
    """What was in danger still is; where nothing was, as with a promotion, nothing need be."""
    gone = {unit.before: unit.now for unit in edit.units}
    before = {gone.get(square, square) for square in remedy.unsafe}
    return not before or bool(before & endangered_squares(survey))


def _same_move(remedy: Remedy, fen: str) -> bool:
    """Whether the lead is legal in the changed position, by the same unit, taking the same."""
    move = chess.Move.from_uci(remedy.lead)
    before, after = chess.Board(remedy.fen), chess.Board(fen)
    if move not in after.legal_moves:
        return False
    return all(
        before.piece_at(square) == after.piece_at(square)
        for square in (move.from_square, move.to_square)
    )


def _gives_away(remedy: Remedy, edit: Edit, survey: Survey) -> bool:
    """Whether a piece, or the unit changed, can be won now and could not be before.

    Nobody would have put it there, and to take it is no other remedy but the end of the matter.
    """
    changed = {unit.now for unit in edit.units}
    return any(
        unit["square"] in changed or WORTH[unit["unit"]] >= A_PIECE
        for unit in _new(remedy, edit, survey["takings"])
    )


def _strain(remedy: Remedy, edit: Edit, survey: Survey) -> int:
    """How much besides the change distracts: what else is in danger or can be taken now."""
    more = _new(remedy, edit, [*in_danger(survey), *survey["takings"]])
    strain = CLUTTER * sum(WORTH[unit["unit"]] for unit in more)
    changed = {unit.now for unit in edit.units}
    strain += GIFT * any(unit["square"] in changed for unit in more)
    return strain + BEHIND * verdict_of(survey, remedy.lead)["holds"]


def _new(remedy: Remedy, edit: Edit, units: Sequence[Unit]) -> list[Unit]:
    """The units that were neither in danger nor to be taken before the change."""
    gone = {unit.before: unit.now for unit in edit.units}
    known = {gone.get(square, square) for square in remedy.unsafe | remedy.takings}
    return [unit for unit in units if unit["square"] not in known]


def _subject(edit: Edit) -> tuple[str, str | None]:
    """What a change is about: the unit changed, or for one added its letter."""
    return edit.units[0].unit, edit.units[0].before


def _one_for_each(twins: Sequence[Twin]) -> list[Twin]:
    """Of twins by changes of the same unit the first."""
    found: dict[tuple[str, str | None], Twin] = {}
    for twin in twins:
        found.setdefault(_subject(twin.edit), twin)
    return list(found.values())

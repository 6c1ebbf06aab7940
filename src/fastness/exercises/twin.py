"""What a twin is: a change of one detail that is proved to want another answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import chess

from fastness.core.shapes import MoveVerdict, Survey, Unit, Way
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

CLEARLY = 75
"""Centipawns of the evaluation by which the new best way must be ahead of the old one."""
CLUTTER = 5
"""What each pawn's worth more in danger or to be taken adds to the size of a change."""
BEHIND = 10
"""What it adds that the old best move still holds: less is to be seen than where it falls."""
SHORT = 4
LONG = 4
"""What each ply of the refutation beyond the first `SHORT` adds: it must be seen at a glance."""
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


def twin_again(of: Survey, survey: Survey) -> Twin | None:
    """The twin that a survey is of, from the firm and ranked surveys of both positions alone.

    None where the one is no twin of the other.
    """
    for edit in edits(of["fen"]):
        if edit.fen == survey["fen"]:
            return proved_twin(remedy_of(of), edit, survey)
    return None


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


def strain(remedy: Remedy, edit: Edit, survey: Survey) -> int:
    """How much besides the change distracts: what else is in danger or can be taken now."""
    more = _new(remedy, edit, [*in_danger(survey), *survey["takings"]])
    strain = CLUTTER * sum(WORTH[unit["unit"]] for unit in more)
    changed = {unit.now for unit in edit.units}
    strain += GIFT * any(unit["square"] in changed for unit in more)
    lead = verdict_of(survey, remedy.lead)
    if lead["holds"]:
        return strain + BEHIND
    return strain + LONG * max(0, len(lead["line"] or ()) - SHORT)


def _new(remedy: Remedy, edit: Edit, units: Sequence[Unit]) -> list[Unit]:
    """The units that were neither in danger nor to be taken before the change."""
    gone = {unit.before: unit.now for unit in edit.units}
    known = {gone.get(square, square) for square in remedy.unsafe | remedy.takings}
    return [unit for unit in units if unit["square"] not in known]

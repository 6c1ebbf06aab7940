"""What units cost, and which of them fall after others, and what stands behind."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import chess

from fastness.core.shapes import Survey, Unit
from fastness.survey.lines import taken_at


def cost(unit: Unit) -> int:
    """What a unit costs its side in centipawns; mate is beyond any material."""
    loses = unit["loses"]
    return loses if isinstance(loses, int) else 0 if loses is None else 1_000_000


def falls_after(survey: Survey, unit: Unit, units: Sequence[Unit]) -> bool:
    """Whether `unit` falls only in a line in which one of `units` that is worth more has fallen."""
    line = unit["line"] or []
    own = taken_at(survey["fen"], line, unit["square"])
    for other in units:
        if own is not None and cost(other) > cost(unit):
            first = taken_at(survey["fen"], line, other["square"])
            if first is not None and first < own:
                return True
    return False


def bear_behind(board: chess.Board, square: str, front: Iterable[str]) -> tuple[str, ...]:
    """The squares of units that bear on `square` only through one of those on `front`."""
    target = chess.parse_square(square)
    first = {chess.parse_square(name) for name in front}
    found: set[int] = set()
    for at in first:
        opened = board.copy(stack=False)
        taker = opened.remove_piece_at(at)
        if taker:
            found |= set(opened.attackers(taker.color, target)) - first
    return tuple(chess.square_name(at) for at in sorted(found))

"""What a quiet move of the opponent's puts in danger beside what it wins in the end."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

import chess

from fastness import core
from fastness.core.shapes import Survey
from fastness.survey.claim import AtStake, Falls, Loss, Unsafe
from fastness.survey.words import CENTIPAWNS

_TELLING = {
    "fork",
    "skewer",
    "pin",
    "discovered attack",
    "discovered check",
    "double check",
    "mate threat",
    "trapped",
    "back rank",
    "promotion",
}
"""Causes that say themselves what else is in danger."""
_UNTOLD = ("lost further on", "two units attacked", "uncovers another unit")
"""Reasons that may leave open why something is lost."""


def staked_by_threat(
    survey: Survey, fall: Unsafe, mechanisms: Collection[str]
) -> Iterator[AtStake]:
    """What else is in danger once the quiet move of a threat is played, where no cause tells it."""
    if not _TELLING & set(mechanisms):
        yield from _staked(survey, fall.line, fall.loses)


def staked_by_answer(survey: Survey, falls: Falls) -> Iterator[AtStake]:
    """What the quiet answer to a natural try puts in danger, where the reason may not tell it."""
    if falls.tries and falls.reason in _UNTOLD:
        yield from _staked(survey, falls.line, falls.loses)


def _staked(survey: Survey, line: Sequence[str], loses: Loss) -> Iterator[AtStake]:
    """Nothing where the opponent takes or checks, or where nothing dearer is in danger then."""
    reach = survey["reach"] - 1
    if len(line) < 2 or loses == "mate" or reach < 1:
        return
    board = chess.Board(survey["fen"])
    board.push_uci(line[0])
    move = chess.Move.from_uci(line[1])
    if board.is_capture(move) or move.promotion or board.gives_check(move):
        return
    board.push(move)
    unsafe = core.unsafe_units(board.fen(), reach=reach, values=survey["values"])
    before = {unit["square"] for unit in survey["units"] if unit["status"].startswith("unsafe")}
    moved = {line[0][2:4]} if line[0][:2] in before else set()
    new = [at for at in unsafe if at not in before | moved and _worth(board, at) > loses]
    if new:
        new.sort(key=lambda at: -_worth(board, at))
        yield AtStake(tuple(line[:2]), tuple(new), reach)


def _worth(board: chess.Board, square: str) -> int:
    return CENTIPAWNS.get(board.piece_type_at(chess.parse_square(square)) or 0, 0)

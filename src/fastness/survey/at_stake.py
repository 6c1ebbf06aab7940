"""What a quiet move of the opponent's puts in danger beside what it wins in the end."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

import chess

from fastness import core
from fastness.core.shapes import Survey
from fastness.survey.claim import AtStake, Falls, Loss, Unsafe
from fastness.survey.lines import PASS
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
    before = {unit["square"] for unit in survey["units"] if unit["status"].startswith("unsafe")}
    if line[0][:2] in before:
        before.add(line[0][2:4])
    if line[0] != PASS and not board.is_check():
        before.update(_unsafe(survey, board, chess.Move.null(), reach))
    unsafe = _unsafe(survey, board, move, reach)
    board.push(move)
    new = [at for at in unsafe if at not in before and _worth(board, at) > loses]
    if new:
        new.sort(key=lambda at: -_worth(board, at))
        yield AtStake(tuple(line[:2]), tuple(new), reach)


def _unsafe(survey: Survey, board: chess.Board, move: chess.Move, reach: int) -> tuple[str, ...]:
    """What is in danger after a move of the opponent's, or if the opponent passes."""
    after = board.copy(stack=False)
    after.push(move)
    return core.unsafe_units(after.fen(), reach=reach, values=survey["values"])


def _worth(board: chess.Board, square: str) -> int:
    return CENTIPAWNS.get(board.piece_type_at(chess.parse_square(square)) or 0, 0)

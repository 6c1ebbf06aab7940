"""The mate that a line of captures passes by, once every legal move is no longer tried."""

from __future__ import annotations

from collections.abc import Iterator

import chess

from fastness.core.shapes import Survey
from fastness.survey.claim import Falls, MatesInstead
from fastness.survey.scene import play


def mates_instead(survey: Survey, falls: Falls) -> Iterator[MatesInstead]:
    """The first mate in one move that the opponent has in the line of a try that loses less.

    Beyond the reach a line has captures, promotions and answers to check alone, so that a quiet
    move that mates is not seen.
    """
    if falls.loses == "mate":
        return
    steps = play(survey["fen"], falls.line)
    for place, step in enumerate(steps):
        if step.after.is_checkmate():
            return
        if place % 2 and (mate := _mate(step.before)):
            yield MatesInstead(falls.move, (*falls.line[:place], mate))
            return


def _mate(board: chess.Board) -> str:
    """A move that mates (UCI), the first by name; empty where there is none."""
    mates = []
    for move in board.legal_moves:
        if board.gives_check(move):
            after = board.copy(stack=False)
            after.push(move)
            if after.is_checkmate():
                mates.append(move.uci())
    return min(mates, default="")

"""What seems to win something back where the line of a natural try ends, and does not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import chess

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey
from fastness.survey.claim import Falls, TakesInVain
from fastness.survey.scene import material_won, play
from fastness.survey.tries import loss
from fastness.survey.words import THRESHOLD


def taken_in_vain(survey: Survey, falls: Falls) -> Iterator[TakesInVain]:
    """The capture that promises most where the line of a natural try ends, and what answers it.

    By the exchange count it wins half a pawn or more. The answer is looked for as far as the try
    was, one move of the opponent's at least. Nothing where no capture promises as much, or no
    answer shows that it wins less.
    """
    if falls.tries is None or falls.loses == "mate":
        return
    board, values = chess.Board(survey["fen"]), survey["values"]
    own = board.turn
    for uci in falls.line:
        board.push_uci(uci)
    if board.turn is not own or board.is_check():
        return
    counts = core.exchange_counts(board.fen(), values=values)
    capture = max(counts, key=lambda uci: (counts[uci], uci), default="")
    if not capture or counts[capture] < THRESHOLD:
        return
    reach = max(1, survey["reach"] - len(falls.line) // 2)
    replies = core.survey(board.fen(), moves=[capture], reach=reach, values=values)["moves"]
    # Counted from before the capture: a reply that holds leaves nothing won by it.
    for reply in sorted(filter(_holds, replies), key=_best_first):
        answered = (capture, *(reply["line"] or [reply["uci"]]))
        if _spoils(board, answered):
            yield TakesInVain(falls.move, (*falls.line, *answered), len(falls.line))
            return


def _holds(reply: MoveVerdict) -> bool:
    return reply["holds"]


def _best_first(reply: MoveVerdict) -> tuple[int, int, str]:
    """The shortest of the mates."""
    mate = len(reply["line"] or ()) if reply["net"] == "mates" else 0
    return loss(reply), mate, reply["san"]


def _spoils(board: chess.Board, line: Sequence[str]) -> bool:
    """Whether where a line ends its first mover has won less than half a pawn, or is mated."""
    steps = play(board.fen(), line)
    end = steps[-1].after
    mated = end.turn is board.turn and end.is_checkmate()
    return mated or material_won(steps, board.turn) < THRESHOLD

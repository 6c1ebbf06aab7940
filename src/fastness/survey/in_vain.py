"""What seems to win something back where a line ends, and does not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import chess

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey
from fastness.survey.claim import Falls, TakesInVain, Unsafe
from fastness.survey.lines import PASS
from fastness.survey.scene import material_won, play
from fastness.survey.tries import loss
from fastness.survey.words import THRESHOLD


def tried_in_vain(survey: Survey, falls: Falls) -> Iterator[TakesInVain]:
    """The capture that a reader misses most in the line of a natural try, and what answers it.

    It takes back at once what the opponent takes first, where the line does not, or is that which
    promises most where the line ends: by the exchange count it wins half a pawn or more. The answer
    is looked for as far as the try was, one move of the opponent's at least. Nothing where no
    capture promises as much, or no answer shows that it wins less.
    """
    if falls.tries is None or falls.loses == "mate":
        return
    first = falls.line[:2]
    board = _end(survey, first)
    if board is not None and falls.line[2:3] and falls.line[2][2:4] != first[1][2:4]:
        counts = _counts(survey, board)
        back = max(_backs(counts, first), key=counts.__getitem__, default="")
        if back and counts[back] >= THRESHOLD:
            answered = list(_answered(survey, first, board, back))
            yield from answered
            if answered:
                return
    board = _end(survey, falls.line)
    if board is not None and (capture := _promising(survey, board)):
        yield from _answered(survey, falls.line, board, capture)


def saved_in_vain(survey: Survey, fall: Unsafe) -> Iterator[TakesInVain]:
    """Taking back where the line ends by which a unit falls, if that is legal, and the answer.

    Taking back at once what takes the unit is told of by `retaken`.
    """
    if fall.together or fall.loses == "mate" or len(fall.line) < 3 or fall.line[0] != PASS:
        return
    board = _end(survey, fall.line)
    if board is None:
        return
    counts = _counts(survey, board)
    back = max(_backs(counts, fall.line), key=counts.__getitem__, default="")
    if back:
        yield from _answered(survey, fall.line, board, back)


def _backs(captures: Iterable[str], line: Sequence[str]) -> list[str]:
    """The captures that land where the last move of a line did."""
    return [capture for capture in captures if capture[2:4] == line[-1][2:4]]


def _end(survey: Survey, line: Sequence[str]) -> chess.Board | None:
    """Where a line ends; None where the other side is to move, or the side to move is in check."""
    board = chess.Board(survey["fen"])
    own = board.turn
    for uci in line:
        board.push(chess.Move.from_uci(uci))
    return board if board.turn is own and not board.is_check() else None


def _counts(survey: Survey, board: chess.Board) -> dict[str, int]:
    return core.exchange_counts(board.fen(), values=survey["values"])


def _promising(survey: Survey, board: chess.Board) -> str:
    """The capture that wins most by the exchange count; empty if none wins half a pawn."""
    counts = _counts(survey, board)
    capture = max(counts, key=lambda uci: (counts[uci], uci), default="")
    return capture if counts.get(capture, 0) >= THRESHOLD else ""


def _answered(
    survey: Survey, line: tuple[str, ...], board: chess.Board, capture: str
) -> Iterator[TakesInVain]:
    """The best answer to a capture that shows how it wins less than half a pawn."""
    reach = max(1, survey["reach"] - len(line) // 2)
    after = core.survey(board.fen(), moves=[capture], reach=reach, values=survey["values"])
    # Counted from before the capture: a reply that holds leaves nothing won by it.
    for reply in sorted((one for one in after["moves"] if one["holds"]), key=_best_first):
        answered = (capture, *(reply["line"] or [reply["uci"]]))
        if _spoils(board, answered):
            yield TakesInVain(line[0], (*line, *answered), len(line))
            return


def _best_first(reply: MoveVerdict) -> tuple[int, int, str]:
    """What leaves the opponent most; the shortest of the mates."""
    mate = len(reply["line"] or ()) if reply["net"] == "mates" else 0
    return loss(reply), mate, reply["san"]


def _spoils(board: chess.Board, line: Sequence[str]) -> bool:
    """Whether where a line ends its first mover has won less than half a pawn, or is mated."""
    steps = play(board.fen(), line)
    end = steps[-1].after
    mated = end.turn is board.turn and end.is_checkmate()
    return mated or material_won(steps, board.turn) < THRESHOLD

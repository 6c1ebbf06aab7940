"""What taking allows: taking back what took a unit, and taking a unit that moved to safety."""

from __future__ import annotations

from collections.abc import Iterator

import chess

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey, Unit
from fastness.survey.claim import IfCarriedOut, IfTaken, Retaken, Taking, Unsafe
from fastness.survey.lines import PASS
from fastness.survey.scene import play
from fastness.survey.tries import in_danger, loss
from fastness.survey.units import cost
from fastness.survey.words import THRESHOLD


def retaken(survey: Survey, fall: Unsafe | Taking) -> Iterator[Retaken]:
    """The answer to taking back what takes a unit at once, where the proof line does not do so.

    Nothing where no unit can take back, where taking back costs less than the unit itself (a
    longer look finds it better then), or where the unit falls later in the line.
    """
    opening, moves = _split(fall.line)
    if fall.together or fall.loses == "mate" or not moves:
        return
    square = fall.unit.square
    if moves[0][2:4] != square or (len(moves) > 1 and moves[1][2:4] == square):
        return
    board = chess.Board(survey["fen"])
    for uci in opening:
        board.push(chess.Move.from_uci(uci))
    start = board.fen()
    board.push_uci(moves[0])
    if not any(chess.square_name(move.to_square) == square for move in board.legal_moves):
        return
    backs = [move for move in _landing(survey, start, moves[0]) if not move["holds"]]
    if backs and all(_no_better(move, fall.loses) for move in backs):
        best = min(backs, key=lambda move: (loss(move), move["san"]))
        line = (*opening, moves[0], *(best["line"] or ()))
        if len(line) > len(opening) + 2:
            yield Retaken(fall.unit, line, "mate" if best["net"] == "mated" else loss(best))


def _split(line: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The pass at the head of a line, if there is one, and the moves after it."""
    return (line[:1], line[1:]) if line[:1] == (PASS,) else ((), line)


def _no_better(move: MoveVerdict, loses: int | str) -> bool:
    return isinstance(loses, int) and loss(move) >= loses


def if_taken(survey: Survey, verdict: MoveVerdict) -> Iterator[IfTaken]:
    """The answer to taking the unit that a holding move puts where it can be taken.

    Nothing where it cannot be taken, or where taking it loses nothing and promises nothing by the
    exchange count either; after a trade, unless a check or a capture answers. Where taking it is
    stalemate, nothing has to answer.
    """
    board, square = chess.Board(survey["fen"]), verdict["uci"][2:4]
    board.push_uci(verdict["uci"])
    if not any(chess.square_name(move.to_square) == square for move in board.legal_moves):
        return
    takes = _landing(survey, survey["fen"], verdict["uci"])
    best = min(takes, key=lambda move: (loss(move), move["san"]))
    line = (verdict["uci"], *(best["line"] or [best["uci"]]))
    steps = play(survey["fen"], line)
    if not (len(line) > 2 or steps[-1].after.is_stalemate()):
        return
    count = core.exchange_counts(board.fen(), values=survey["values"])[best["uci"]]
    forces = any(step.takes or step.after.is_check() for step in steps[2:3])
    traded = _promised(survey, verdict["uci"], count) < THRESHOLD
    traded = traded and not (forces or steps[-1].after.is_stalemate())
    promises = count >= THRESHOLD and not traded
    if loss(best) >= THRESHOLD or (promises and loss(best) > -THRESHOLD):
        yield IfTaken(verdict["uci"], line)


def seems_lost(survey: Survey, verdict: MoveVerdict) -> bool:
    """Whether taking the unit that moved wins more by the exchange count than the move took."""
    board = chess.Board(survey["fen"])
    board.push_uci(verdict["uci"])
    counts = core.exchange_counts(board.fen(), values=survey["values"])
    most = max((counts[uci] for uci in counts if uci[2:4] == verdict["uci"][2:4]), default=0)
    return _promised(survey, verdict["uci"], most) >= THRESHOLD


def _promised(survey: Survey, uci: str, count: int) -> int:
    """What taking the unit that moved wins by the exchange count, less what the move took."""
    taken = core.exchange_counts(survey["fen"], values=survey["values"]).get(uci)
    return count if taken is None else -taken


def if_carried_out(survey: Survey, verdict: MoveVerdict) -> Iterator[IfCarriedOut]:
    """What a holding move has ready for the threat: to take, to check, or to move what it is after.

    The threat is the first move of what proves the dearest danger; if it takes something, the best
    way to take there. Nothing where it cannot be played any more, or takes the unit that moved,
    which `if_taken` tells.
    """
    move = verdict["uci"]
    threatened = max(filter(_proved, in_danger(survey)), key=cost, default=None)
    board = chess.Board(survey["fen"])
    board.push_uci(move)
    if threatened is None or board.is_check():
        return
    threat, at = (threatened["line"] or [])[1], threatened["square"]
    if threat[2:4] == move[2:4]:
        return
    if not board.is_legal(chess.Move.from_uci(threat)) or leaves(survey["fen"], move, threat):
        return
    landing = _landing(survey, survey["fen"], move, threat[2:4])
    takes = board.is_capture(chess.Move.from_uci(threat))
    ways = [one for one in landing if takes or one["uci"] == threat]
    played = min(ways, key=lambda one: (loss(one), one["uci"] != threat, one["san"]))
    line = played["line"] or ()
    if len(line) < 2 or loss(played) <= -THRESHOLD:
        return
    board.push_uci(played["uci"])
    answer, saves = chess.Move.from_uci(line[1]), line[1][:2] == at != move[:2]
    if board.is_capture(answer) or board.gives_check(answer) or saves:
        yield IfCarriedOut(move, (move, *line))


def _proved(unit: Unit) -> bool:
    """Whether the fall of a unit is proved by a move after a pass."""
    line = unit["line"] or []
    return len(line) > 1 and line[0] == PASS


def leaves(fen: str, move: str, threat: str) -> bool:
    """Whether what a threat would take is no longer where it would be taken after a move."""
    target, before = chess.parse_square(threat[2:4]), chess.Board(fen)
    after = before.copy(stack=False)
    after.push_uci(move)
    return before.color_at(target) is not None and after.color_at(target) is None


def _landing(survey: Survey, fen: str, uci: str, square: str = "") -> list[MoveVerdict]:
    """The answers to a move that land where it lands, or on a square, each with its verdict."""
    after = core.survey(
        fen,
        moves=[uci],
        reach=survey["reach"],
        values=survey["values"],
        landing=square or uci[2:4],
    )
    return after["moves"]

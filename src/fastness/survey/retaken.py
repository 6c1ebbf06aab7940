"""What taking allows: taking back what took a unit, and taking a unit that moved to safety."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import chess

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey
from fastness.survey.claim import IfCheckMet, IfOtherTaken, IfTaken, Retaken, Taking, Unsafe
from fastness.survey.lines import PASS
from fastness.survey.scene import material_won, play
from fastness.survey.tries import is_quiet, loss
from fastness.survey.words import THRESHOLD, WAYS


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
    backs = [move for move in landing(survey, start, moves[0]) if not move["holds"]]
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
    takes = landing(survey, survey["fen"], verdict["uci"])
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


def if_other_taken(survey: Survey, verdict: MoveVerdict) -> Iterator[IfOtherTaken]:
    """The answer to the capture elsewhere that promises most, though it wins nothing.

    By the exchange count it wins half a pawn or more beyond what the holding move takes. Nothing
    where there is none, or in check.
    """
    board, played = chess.Board(survey["fen"]), verdict["uci"]
    takes_first = material_won(play(survey["fen"], (played,)), board.turn)
    board.push_uci(played)
    counts = core.exchange_counts(board.fen(), values=survey["values"])
    tempting = {
        uci: count
        for uci, count in counts.items()
        if uci[2:4] != played[2:4]
        and count >= takes_first + THRESHOLD
        and board.is_capture(chess.Move.from_uci(uci))
    }
    if not tempting or board.is_check():
        return
    most = min(tempting, key=lambda uci: (-tempting[uci], uci))
    takes = landing(survey, survey["fen"], played, most[2:4])
    best = min(takes, key=lambda move: (loss(move), move["san"]))
    if best["net"] == "mates" or loss(best) <= -THRESHOLD or tempting.get(best["uci"]) is None:
        return
    rest = tuple(best["line"] or ())[1:] or best_answer(survey, (played, best["uci"]))
    if rest and gained(survey, (played, best["uci"], *rest)) > -THRESHOLD:
        yield IfOtherTaken(played, (played, best["uci"], *rest))


def if_check_met(survey: Survey, verdict: MoveVerdict) -> Iterator[IfCheckMet]:
    """What is ready for the likely answer to a check that takes nothing, where no line tells it."""
    move, board = verdict["uci"], chess.Board(survey["fen"])
    check = board.gives_check(chess.Move.from_uci(move)) and not board.is_capture(
        chess.Move.from_uci(move)
    )
    lines = [verdict["line"] or [], verdict.get("likely") or []]
    answers = [line[1] for line in reversed(lines) if len(line) > 1]
    if not check or any(len(line) > 2 for line in lines) or not answers:
        return
    played = (move, answers[0])
    rest = best_answer(survey, played)
    if rest:
        yield IfCheckMet(move, (*played, *rest))


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


def leaves(fen: str, move: str, threat: str) -> bool:
    """Whether what a threat would take is no longer where it would be taken after a move."""
    target, before = chess.parse_square(threat[2:4]), chess.Board(fen)
    after = before.copy(stack=False)
    after.push_uci(move)
    return before.color_at(target) is not None and after.color_at(target) is None


def landing(
    survey: Survey, fen: str, moves: str | Sequence[str], square: str = ""
) -> list[MoveVerdict]:
    """The answers to moves that land where the last one lands, or on a square, with verdicts."""
    played = [moves] if isinstance(moves, str) else list(moves)
    after = core.survey(
        fen,
        moves=played,
        reach=survey["reach"],
        values=survey["values"],
        landing=square or played[-1][2:4],
    )
    return after["moves"]


def best_answer(survey: Survey, played: Sequence[str]) -> tuple[str, ...]:
    """The best line against the last of these moves; empty where nothing is in danger after it."""
    fen = survey["fen"]
    after = core.survey(fen, moves=list(played), reach=survey["reach"], values=survey["values"])
    best = min(after["moves"], key=_place, default=None)
    if best is None or not best["line"]:
        return ()
    rest, steps = list(best["line"]), play(fen, (*played, *best["line"]))
    # What ends quietly shows no more than the move before it.
    while len(rest) > 1 and is_quiet(steps[len(played) + len(rest) - 1].before, rest[-1]):
        rest.pop()
    return tuple(rest) if gained(survey, (*played, *rest)) > -THRESHOLD else ()


def _place(move: MoveVerdict) -> tuple[int, int, str]:
    """What loses least first, then by the usual order of ways."""
    return loss(move), WAYS.index((move["ways"] or ["other"])[0]), move["san"]


def gained(survey: Survey, line: Sequence[str]) -> int:
    """Centipawns by which a line leaves the side to move better off than the position."""
    return material_won(play(survey["fen"], line), survey["side"] == "white")

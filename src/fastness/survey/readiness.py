"""By what a move is ready for a threat that can still be played: what it leaves, opens or plans."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import chess
from chess import KING

from fastness.survey.claim import Holds, Line, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.lines import PASS, squares_left
from fastness.survey.nouns import on_square, on_squares
from fastness.survey.scene import play

How = Literal["leaves", "no check", "opens", "attacks", "guards from", "between"]
"""How a move is ready: it leaves where a threat takes, takes the check out of it, lets a slider
take, attacks what the answer takes, or prepares an answer that guards or steps in between."""

SLIDERS = (chess.BISHOP, chess.ROOK, chess.QUEEN)
"""The units that a line can be opened for."""


@dataclass(frozen=True, slots=True)
class Readiness:
    """How a move is ready, the square that it is about, and what else takes part.

    `unit` is what is taken or guarded, `by` the slider that a line is opened for, `threat` the line
    up to the move that comes to nothing.
    """

    how: How
    square: str = ""
    unit: str = ""
    by: str = ""
    threat: Line = ()


def readiness(found: Findings, one: Holds) -> Readiness | None:
    """By what a move is ready for the threat; None where that does not show."""
    for look in (_leaves, _no_check, _opens, _attacks, _prepares):
        if shown := look(found, one):
            return shown
    return None


def ready_in_words(found: Findings, one: Holds) -> str:
    """``leaves e3, so that 16...Nxe3 takes nothing``; that it is ready where nothing shows."""
    say, board, ready = found.language.say, found.board, readiness(found, one)
    if ready is None:
        return say("is ready for the threat")
    if ready.how == "leaves":
        threat = found.last_of(ready.threat)
        return say(
            "leaves {square}, so that {threat} takes nothing", square=ready.square, threat=threat
        )
    if ready.how == "no check":
        return say("takes the check out of {threat}", threat=found.last_of(ready.threat))
    unit = on_squares(board, [ready.unit], found.language) if ready.unit else ""
    if ready.how == "opens":
        slider = on_square(board, ready.by, found.language)
        return say("lets {slider} attack {units}", slider=slider, units=unit)
    if ready.how == "attacks":
        return say("attacks {units}", units=unit)
    if ready.how == "guards from":
        return say("is ready to guard {unit} from {square}", unit=unit, square=ready.square)
    return say("is ready to step in between on {square}", square=ready.square)


def promotes_next(found: Findings, one: Holds) -> str:
    """The square where a pawn promotes next and stands, as a line of the move shows; else empty."""
    board = found.board.copy(stack=False)
    board.push(_move(one))
    shown = {uci[2:4] for line in (one.answer or (), one.line or ()) for uci in line if uci[4:]}
    if board.is_check():
        return ""
    board.push(chess.Move.null())
    for move in board.legal_moves:
        square = chess.square_name(move.to_square)
        if move.promotion != chess.QUEEN or square not in shown:
            continue
        after = board.copy(stack=False)
        after.push(move)
        if not any(taking.to_square == move.to_square for taking in after.legal_moves):
            return square
    return ""


def stopped_threat(found: Findings, one: Holds) -> Line:
    """The line of the first threat where a move makes its first move impossible; else empty."""
    after = found.board.copy(stack=False)
    after.push(_move(one))
    threat = next(_threats(found), ())
    if not threat or after.is_check() or after.is_legal(chess.Move.from_uci(threat[1])):
        return ()
    return threat


def stopped_in_words(found: Findings, one: Holds) -> str:
    """``makes 8...f2+ impossible``; empty where the first move of the threat can be played."""
    threat = stopped_threat(found, one)
    return (
        found.language.say("makes {threat} impossible", threat=found.threat(threat))
        if threat
        else ""
    )


def promotion_in_words(found: Findings, one: Holds) -> str:
    """``threatens to promote on c1``; empty where a move does not."""
    square = promotes_next(found, one)
    return found.language.say("threatens to promote on {square}", square=square) if square else ""


def _leaves(found: Findings, one: Holds) -> Readiness | None:
    """What a move of a threat takes where the unit stands that moves away now."""
    left = {chess.square_name(at) for at in squares_left(found.board, _move(one))}
    for line in _threats(found):
        moved = set[str]()
        for place, uci in enumerate(line[1:], 1):
            if place % 2 and uci[2:4] in left - moved and uci[2:4] != one.move[2:4]:
                return Readiness("leaves", uci[2:4], threat=line[: place + 1])
            moved.add(uci[:2])
    return None


def _no_check(found: Findings, one: Holds) -> Readiness | None:
    """A threat that begins with a check, and is none after the king has moved."""
    if found.board.piece_type_at(_move(one).from_square) != KING:
        return None
    after = found.board.copy(stack=False)
    after.push(_move(one))
    for line in _threats(found):
        threat = chess.Move.from_uci(line[1])
        checks = play(found.position.fen, line[:2])[-1].after.is_check()
        if checks and after.is_legal(threat) and not after.gives_check(threat):
            return Readiness("no check", threat=line[:2])
    return None


def _opens(found: Findings, one: Holds) -> Readiness | None:
    """A slider that takes over the square left, in an answer shown, what stands there now."""
    move, board = _move(one), found.board
    for line in _answers(found, one):
        for uci in line[2::2]:
            answer = chess.Move.from_uci(uci)
            crossed = chess.SquareSet.between(answer.from_square, answer.to_square)
            stands = board.piece_at(answer.from_square)
            taken = board.color_at(answer.to_square) is (not board.turn)
            opened = set(crossed & board.occupied) == {move.from_square}
            if stands and stands.piece_type in SLIDERS and taken and opened:
                unit, by = map(chess.square_name, (answer.to_square, answer.from_square))
                return Readiness("opens", unit=unit, by=by)
    return None


def _attacks(found: Findings, one: Holds) -> Readiness | None:
    """What the unit that moved takes from its new square, in the first answer, and stands there."""
    board, move = found.board, _move(one)
    for line in _answers(found, one):
        answer = chess.Move.from_uci(line[2])
        takes = board.color_at(answer.to_square) is (not board.turn)
        anew = answer.to_square not in board.attacks(move.from_square)
        if answer.from_square == move.to_square and takes and anew:
            return Readiness("attacks", unit=chess.square_name(answer.to_square))
    return None


def _prepares(found: Findings, one: Holds) -> Readiness | None:
    """Where the unit that moved goes on to, in the first answer, to guard or to step in between."""
    move = _move(one)
    for line in _answers(found, one):
        answer, before, after = _answer(found, line)
        target = answer.to_square
        if answer.from_square != move.to_square or before.is_capture(answer):
            continue
        if target in found.board.attacks(move.from_square):
            continue
        square = chess.square_name(target)
        for fall in found.of(Unsafe):
            unit = chess.parse_square(fall.unit.square)
            stands = after.piece_at(unit) == found.board.piece_at(unit)
            if stands and unit in after.attacks(target):
                return Readiness("guards from", square, fall.unit.square)
            if stands and _between(before, unit, target):
                return Readiness("between", square)
    return None


def _between(board: chess.Board, unit: int, target: int) -> bool:
    """Whether `target` lies between a unit and a slider that bears on it, alone or from behind."""
    opponents = board.occupied_co[not board.turn]
    for at in chess.SquareSet(opponents):
        between = chess.SquareSet.between(at, unit)
        bare = board.copy(stack=False)
        for square in between & opponents:
            bare.remove_piece_at(square)
        if target in between and unit in bare.attacks(at):
            return True
    return False


def _answer(found: Findings, line: Line) -> tuple[chess.Move, chess.Board, chess.Board]:
    """The first answer of a line, with the board before and after it."""
    step = play(found.position.fen, line[:3])[-1]
    return step.move, step.before, step.after


def _threats(found: Findings) -> Iterator[Line]:
    """The lines by which something falls after a pass."""
    for fall in found.of(Unsafe):
        if fall.line[:1] == (PASS,) and len(fall.line) > 1:
            yield fall.line


def _answers(found: Findings, one: Holds) -> Iterator[Line]:
    """What a move has ready, a line for each threat."""
    for line in (one.answer or (), *(met.line for met in found.threats_met(one.move))):
        if len(line) > 2:
            yield line


def _move(one: Holds) -> chess.Move:
    return chess.Move.from_uci(one.move)

"""What the ways of a holding move are directed at: the unit taken, guarded or attacked in turn."""

from __future__ import annotations

import chess
from chess import KING

from fastness.core import exchange_counts
from fastness.core.shapes import MoveVerdict, Survey
from fastness.survey.lines import squares_left
from fastness.survey.move_claim import Aim
from fastness.survey.tries import in_danger, is_quiet, rank_of, taken_on
from fastness.survey.words import THRESHOLD


def aims(survey: Survey, verdict: MoveVerdict) -> tuple[Aim, ...]:
    """The aims of the ways of a holding move that have one that plain geometry shows."""
    board = chess.Board(survey["fen"])
    move = chess.Move.from_uci(verdict["uci"])
    found = []
    for way in verdict["ways"]:
        squares: list[int] = []
        if way == "capture" and board.is_capture(move):
            squares = [taken_on(board, move)]
        elif way == "guard":
            squares = _guarded(survey, board, move)
        elif way == "move":
            squares = _guards_from_there(board, move)
        elif way == "counterattack":
            squares = _hit(board, move, survey["values"])
        if squares:
            opens = way == "guard" or (way == "counterattack" and is_quiet(board, verdict["uci"]))
            by = _opened(board, move, squares) if opens else ""
            found.append(Aim(way, tuple(map(chess.square_name, squares)), by))
    return tuple(found)


def _guarded(survey: Survey, board: chess.Board, move: chess.Move) -> list[int]:
    """The units in danger that gain a guard: one that did not stand behind another before."""
    after = _after(board, move)
    squares = [
        chess.parse_square(unit["square"]) for unit in in_danger(survey) if unit["unit"] != "king"
    ]
    left = squares_left(board, move)
    return [at for at in squares if at not in left and _new_guards(board, after, move, at)]


def new_guard(board: chess.Board, move: chess.Move, at: int) -> int | None:
    """What comes to bear on a square by a move: the unit that moves, or one whose line it opens.

    Where it stands then; None where nothing does, or more than one line is opened.
    """
    before = set(board.attackers(board.turn, at))
    if move.from_square in before:
        before.add(move.to_square)
    news = set(_after(board, move).attackers(board.turn, at)) - before
    if move.to_square in news or (news and board.is_castling(move)):
        return move.to_square
    opened = [guard for guard in news if board.color_at(guard) is board.turn]
    return opened[0] if len(opened) == 1 else None


def _opened(board: chess.Board, move: chess.Move, squares: list[int]) -> str:
    """What alone comes to bear on all these squares, its line opened by a move; else empty."""
    guards = {new_guard(board, move, at) for at in squares}
    by = guards.pop() if len(guards) == 1 else None
    return "" if by is None or by == move.to_square else chess.square_name(by)


def guarded_by(survey: Survey, verdict: MoveVerdict) -> tuple[str, ...]:
    """What alone guards the unit that moves, where it is attacked on its new square."""
    board, move = chess.Board(survey["fen"]), chess.Move.from_uci(verdict["uci"])
    after = _after(board, move)
    guards = list(after.attackers(board.turn, move.to_square))
    if not after.attackers(not board.turn, move.to_square) or len(guards) != 1:
        return ()
    return (chess.square_name(guards[0]),)


def _guards_from_there(board: chess.Board, move: chess.Move) -> list[int]:
    """The units that would be lost if the unit that moves did not guard them where it goes."""
    after = _after(board, move)
    if board.is_castling(move):
        return []
    guarded = after.attacks(move.to_square) & after.occupied_co[board.turn]
    return [
        at
        for at in guarded
        if after.piece_type_at(at) != KING
        and after.attackers(after.turn, at)
        and set(after.attackers(board.turn, at)) == {move.to_square}
    ]


def _new_guards(board: chess.Board, after: chess.Board, move: chess.Move, target: int) -> set[int]:
    before = _guards(board, board.turn, target)
    if move.from_square in before:
        before.add(move.to_square)
    return _guards(after, board.turn, target) - before


def _guards(board: chess.Board, side: chess.Color, target: int) -> set[int]:
    """What guards a square, through other guards too."""
    found: set[int] = set()
    bare = board.copy(stack=False)
    while more := set(bare.attackers(side, target)):
        found |= more
        for square in more:
            bare.remove_piece_at(square)
    return found


def _hit(board: chess.Board, move: chess.Move, values: str) -> list[int]:
    """The king in check, what is taken, or the units newly attacked that the count says fall."""
    after = _after(board, move)
    if after.is_check():
        king = after.king(after.turn)
        return [] if king is None else [king]
    if board.is_capture(move):
        return [taken_on(board, move)]
    after.push(chess.Move.null())
    if not after.is_valid():
        return []
    found = set()
    for uci, count in exchange_counts(after.fen(), values=values).items():
        capture = chess.Move.from_uci(uci)
        target = taken_on(after, capture)
        if count >= THRESHOLD and not _bears(board, capture.from_square, target):
            found.add(target)
    # What the unit that moves attacks itself is told before what it uncovers.
    found = (found & set(after.attacks(move.to_square))) or found
    return sorted(found, key=lambda at: -rank_of(after.piece_type_at(at) or KING))[:MOST]


MOST = 2
"""Units attacked in turn that are named, the dearest first."""


def _bears(board: chess.Board, square: int, target: int) -> bool:
    """Whether a unit of the side to move on `square` attacks `target` already."""
    return square in board.attackers(board.turn, target)


def _after(board: chess.Board, move: chess.Move) -> chess.Board:
    after = board.copy(stack=False)
    after.push(move)
    return after

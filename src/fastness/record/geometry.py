"""What the board shows of an occasion: the unit, who attacks it, and what the move played does."""

import chess
from chess import KING

from fastness.sift import Occasion

WORTH = {
    chess.PAWN: 1,
    chess.KNIGHT: 3,
    chess.BISHOP: 3,
    chess.ROOK: 5,
    chess.QUEEN: 9,
    KING: 100,
}
"""In pawns (Shannon 1950), to tell the more valuable of two units; a king is above all."""


def dearest(board: chess.Board, squares: list[int]) -> int | None:
    """The square of the most valuable unit on these squares, the first of equals."""
    held = [square for square in squares if board.piece_type_at(square)]
    return max(held, key=lambda square: worth(board, square), default=None)


def worth(board: chess.Board, square: int) -> int:
    """What the unit on this square is worth, in pawns; 0 on an empty square."""
    return WORTH.get(board.piece_type_at(square) or 0, 0)


def attacked_by_pawn(board: chess.Board, colour: chess.Color, squares: list[int]) -> bool:
    """Whether a pawn attacks a piece of this colour on one of these squares."""
    pawns = board.pieces_mask(chess.PAWN, not colour)
    return any(
        chess.PAWN != board.piece_type_at(square) != KING
        and board.attackers_mask(not colour, square) & pawns
        for square in squares
    )


def attacked_by_less(board: chess.Board, colour: chess.Color, square: int) -> bool:
    """Whether something worth less attacks the unit of this colour on this square."""
    return any(
        worth(board, attacker) < worth(board, square)
        for attacker in board.attackers(not colour, square)
    )


def adds_guard(board: chess.Board, move: chess.Move, square: int) -> bool:
    """Whether the move, not by the unit on this square, adds a guard to it."""
    if move.from_square == square:
        return False
    after = board.copy(stack=False)
    after.push(move)
    side = board.turn
    return bool(after.attackers_mask(side, square) & ~board.attackers_mask(side, square))


def hits_back(board: chess.Board, move: chess.Move, squares: list[int]) -> bool:
    """Whether the move leaves the units on these squares and makes a threat of its own.

    A threat is a check, or a new attack by the unit moved on a piece of the opponent that is
    worth more than it or that nothing guards. A move that takes an attacker is none.
    """
    if move.from_square in squares or board.is_capture(move):
        return False
    after = board.copy(stack=False)
    after.push(move)
    if after.is_check():
        return True
    side = board.turn
    before = board.attacks_mask(move.from_square)
    new = after.attacks_mask(move.to_square) & after.occupied_co[not side] & ~before
    return any(
        after.piece_type_at(target) != chess.PAWN
        and (
            worth(after, target) > worth(after, move.to_square)
            or not after.is_attacked_by(not side, target)
        )
        for target in chess.scan_forward(new)
    )


def first_loss(board: chess.Board, line: list[str]) -> tuple[chess.Board, chess.Move] | None:
    """The board before the opponent's first capture in the line, and that capture.

    `line` begins with a move of the side to move, or its pass (``0000``).
    """
    played = board.copy(stack=False)
    for ply, uci in enumerate(line):
        move = chess.Move.from_uci(uci)
        if ply % 2 and played.is_capture(move):
            return played, move
        played.push(move)
    return None


def squares_of(occasion: Occasion) -> list[int]:
    """The squares of the units that the occasion is about."""
    return [chess.parse_square(name) for name in occasion["units"]]

"""Whether a changed position could have come about, and looks as if it had."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import chess

from fastness.survey.words import PAWN

UNITS = 16
"""Units of each side at the start, 8 of them pawns."""
PAWNS = 8
MOST_APART = 9 * PAWN
"""Centipawns of material by which one side may be ahead in a position that looks natural."""

_WORTH = {chess.PAWN: 100, chess.KNIGHT: 300, chess.BISHOP: 300, chess.ROOK: 500, chess.QUEEN: 900}
_AT_START = {chess.KNIGHT: 2, chess.ROOK: 2, chess.QUEEN: 1}
_LOCKED = {
    chess.WHITE: ((chess.C1, (chess.B2, chess.D2)), (chess.F1, (chess.E2, chess.G2))),
    chess.BLACK: ((chess.C8, (chess.B7, chess.D7)), (chess.F8, (chess.E7, chess.G7))),
}
"""The bishops' first squares, each with the pawns that must move before the bishop can leave."""
_CORNERS = {
    chess.WHITE: ((chess.A1, chess.A2, chess.B1), (chess.H1, chess.H2, chess.G1)),
    chess.BLACK: ((chess.A8, chess.A7, chess.B8), (chess.H8, chess.H7, chess.G8)),
}
"""The rooks' first squares, each with those of the pawn and the knight that shut the rook in."""


def unnatural(before: chess.Board, after: chess.Board) -> bool:
    """Whether `after`, made from `before` by one change, is illegal or looks made up.

    What is odd in `before` already may stay odd: a teacher's own position is not corrected.
    The question must stay the same: a check may not come or go, nor a pawn to take en passant.
    """
    if not after.is_valid() or after.turn != before.turn:
        return True
    if after.is_check() != before.is_check():
        return True
    if after.has_legal_en_passant() != before.has_legal_en_passant():
        return True
    return bool(set(oddities(after)) - set(oddities(before))) or _more_promoted(before, after)


def oddities(board: chess.Board) -> Iterator[str]:
    """What in a position cannot come about in a game, or hardly does; names for each."""
    for colour in chess.COLORS:
        side = chess.COLOR_NAMES[colour]
        other_missing = UNITS - chess.popcount(board.occupied_co[not colour])
        captures = pawn_captures(int(board.pawns & board.occupied_co[colour]), colour)
        if captures is None or captures > other_missing:
            yield f"{side} pawns"
        if promoted(board, colour) > PAWNS - len(board.pieces(chess.PAWN, colour)):
            yield f"{side} promoted"
        for home, pawns in _LOCKED[colour]:
            if _has_flown(board, colour, home, pawns):
                yield f"{side} bishop of {chess.square_name(home)}"
        if len(board.pieces(chess.ROOK, colour)) > 2 - _shut_corners_left(board, colour):
            yield f"{side} rook"
    if abs(_material(board)) > MOST_APART:
        yield "material"


def promoted(board: chess.Board, colour: chess.Color) -> int:
    """How many units of a side must be promoted pawns: beyond those at the start."""
    beyond = sum(
        max(0, len(board.pieces(kind, colour)) - number) for kind, number in _AT_START.items()
    )
    bishops = board.pieces(chess.BISHOP, colour)
    for squares in (chess.BB_LIGHT_SQUARES, chess.BB_DARK_SQUARES):
        beyond += max(0, len(bishops & squares) - 1)
    return beyond


@cache
def pawn_captures(pawns: int, colour: chess.Color) -> int | None:
    """The fewest captures by which pawns can have come where they stand; None if they cannot.

    `pawns` is a set of squares as bits, a1 the lowest. Each pawn comes from a file of its own and
    takes one unit for each file it is away from it, going a rank further each time.
    """
    squares = list(chess.SquareSet(pawns))
    if any(chess.square_rank(square) in (0, 7) for square in squares):
        return None
    fewest = {0: 0}  # by the set of files already used
    for square in squares:
        file, rank = chess.square_file(square), chess.square_rank(square)
        gone = rank - 1 if colour else 6 - rank
        further: dict[int, int] = {}
        for used, captures in fewest.items():
            for origin in range(max(0, file - gone), min(7, file + gone) + 1):
                bit = 1 << origin
                total = captures + abs(file - origin)
                if not used & bit and total < further.get(used | bit, total + 1):
                    further[used | bit] = total
        fewest = further
    return min(fewest.values(), default=None)


def _has_flown(board: chess.Board, colour: chess.Color, home: int, pawns: tuple[int, int]) -> bool:
    """Whether a bishop stands outside though the pawns that lock it in have not moved."""
    if any(board.piece_at(at) != chess.Piece(chess.PAWN, colour) for at in pawns):
        return False
    light = chess.BB_LIGHT_SQUARES & chess.BB_SQUARES[home]
    same = chess.BB_LIGHT_SQUARES if light else chess.BB_DARK_SQUARES
    bishops = board.pieces(chess.BISHOP, colour) & same
    return bool(bishops) and home not in bishops


def _shut_corners_left(board: chess.Board, colour: chess.Color) -> int:
    """How many corners have lost their rook though pawn and knight stand before it at home."""
    own = {at: piece for at, piece in board.piece_map().items() if piece.color == colour}
    kinds = {at: piece.piece_type for at, piece in own.items()}
    return sum(
        kinds.get(pawn) == chess.PAWN
        and kinds.get(knight) == chess.KNIGHT
        and kinds.get(corner) != chess.ROOK
        for corner, pawn, knight in _CORNERS[colour]
    )


def _more_promoted(before: chess.Board, after: chess.Board) -> bool:
    return any(promoted(after, colour) > promoted(before, colour) for colour in chess.COLORS)


def _material(board: chess.Board) -> int:
    return sum(
        worth * (len(board.pieces(kind, chess.WHITE)) - len(board.pieces(kind, chess.BLACK)))
        for kind, worth in _WORTH.items()
    )

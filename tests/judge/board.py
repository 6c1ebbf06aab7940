"""Facts of a board, by the rules of PyPI chess and nothing else."""

from collections.abc import Iterator
from dataclasses import dataclass

import chess
from chess import KING

THRESHOLD = 50
"""Centipawns from which something counts as won: half a pawn."""
WORTH = dict(zip(chess.PIECE_TYPES, (100, 300, 300, 500, 900, 0), strict=True))
"""Shannon 1950, the `classical` table, in centipawns; the king is not counted."""
PRICELESS = 10_000


def worth_on(board: chess.Board, square: int) -> int:
    """What the unit on a square is worth in centipawns; the king is priceless; 0 for nothing."""
    kind = board.piece_type_at(square)
    if kind is None:
        return 0
    return PRICELESS if kind == KING else WORTH[kind]


def balance(board: chess.Board, side: chess.Color) -> int:
    """Material of `side` less the other's, in centipawns."""
    return sum(
        WORTH[piece.piece_type] * (1 if piece.color == side else -1)
        for piece in board.piece_map().values()
    )


def bears(board: chess.Board, side: chess.Color, square: int) -> set[int]:
    """Units of `side` that attack or guard a square by the way they move, pinned or not."""
    return set(board.attackers(side, square))


def slides(board: chess.Board, start: int, end: int) -> bool:
    """Whether the unit on `start` slides along the line to `end`, other units left out."""
    if start == end or not chess.SquareSet.ray(start, end):
        return False
    straight = chess.square_file(start) == chess.square_file(end) or (
        chess.square_rank(start) == chess.square_rank(end)
    )
    kinds = (chess.ROOK, chess.QUEEN) if straight else (chess.BISHOP, chess.QUEEN)
    return board.piece_type_at(start) in kinds


def between(board: chess.Board, start: int, end: int) -> set[int]:
    """The units strictly between two squares of a line."""
    return set(chess.SquareSet.between(start, end) & board.occupied)


@dataclass(frozen=True, slots=True)
class Lined:
    """A slider that attacks a unit `front` with a unit `back` of the same side right behind it."""

    slider: int
    front: int
    back: int


def lined_up(board: chess.Board, attacker: chess.Color) -> Iterator[Lined]:
    """Every slider of `attacker` with two units of the other side behind each other before it."""
    for slider in chess.SquareSet(board.occupied_co[attacker]):
        for front in board.attacks(slider) & board.occupied_co[not attacker]:
            for back in chess.SquareSet(board.occupied_co[not attacker]):
                if slides(board, slider, back) and between(board, slider, back) == {front}:
                    yield Lined(slider, front, back)


def pinned(board: chess.Board, attacker: chess.Color, least: int = 0) -> Iterator[Lined]:
    """Pins by `attacker`: what stands behind is the king, or worth more than what is pinned.

    With `least`, what stands behind need only be worth more than that.
    """
    for one in lined_up(board, attacker):
        worth = worth_on(board, one.back)
        if worth > (least or worth_on(board, one.front)):
            yield one


def could_leave(board: chess.Board, pin: Lined, owner: chess.Color) -> bool:
    """Whether what is pinned could move off the line, were it not for the pin."""
    free = board.copy(stack=False)
    if free.turn != owner:
        free.turn, free.ep_square = owner, None
    line = chess.SquareSet.ray(pin.slider, pin.front)
    moves = free.generate_pseudo_legal_moves(from_mask=chess.BB_SQUARES[pin.front])
    return any(move.to_square not in line for move in moves)


def through(board: chess.Board, side: chess.Color, square: int) -> set[int]:
    """The units of `side` that bear on a square, or would once others took there.

    Others of either side that bear on it open their line when they take; a king takes last.
    """
    opened, found = board.copy(stack=False), set[int]()
    while True:
        found |= bears(opened, side, square)
        front = bears(opened, side, square) | bears(opened, not side, square)
        front -= set(chess.SquareSet(opened.kings))
        if not front:
            return found
        for one in front:
            opened.remove_piece_at(one)


def exchange(board: chess.Board, square: int, first: chess.Move | None = None) -> int:
    """The most that the side to move gains by captures on one square, either side free to stop.

    The least valuable unit takes first; `first` names the first capture. 0 where nothing gains.
    The greater gain of two counts: by the rules, move for move; and by the trade's count on paper,
    which leaves out what is pinned at the start and sees no check on the way.
    """
    return max(_exchange(board, square, first, None), on_paper(board, square, first))


def on_paper(board: chess.Board, square: int, first: chess.Move | None = None) -> int:
    """The trade's count on paper alone: units pinned at the start are left out."""
    pinned_now = {
        unit
        for unit in chess.SquareSet(board.occupied)
        if square not in board.pin(board.color_at(unit) is True, unit)
    }
    return _exchange(board, square, first, pinned_now)


def _exchange(
    board: chess.Board, square: int, first: chess.Move | None, still: set[int] | None
) -> int:
    """By the rules, or with the units `still` left out by the count on paper."""
    moves = [first] if first else _captures(board, square, still)
    if not moves:
        return 0
    gained = _taken(board, moves[0])
    after = board.copy(stack=False)
    after.push(moves[0])
    gained -= _exchange(after, moves[0].to_square, None, still)
    return gained if first else max(0, gained)


def _captures(board: chess.Board, square: int, still: set[int] | None = None) -> list[chess.Move]:
    """The captures on a square, by the least valuable unit first."""
    on = chess.BB_SQUARES[square]
    if still is None:
        found = list(board.generate_legal_captures(to_mask=on))
    else:
        kings = chess.SquareSet(board.kings)
        found = [
            move
            for move in board.generate_pseudo_legal_captures(to_mask=on)
            if move.from_square not in still
            and not (move.from_square in kings and board.attackers(not board.turn, square))
        ]
    moves = [move for move in found if move.promotion in (None, chess.QUEEN)]
    return sorted(moves, key=lambda move: (worth_on(board, move.from_square), move.from_square))


def taken_on(board: chess.Board, move: chess.Move) -> int | None:
    """The square of what a move takes; None if it takes nothing."""
    if not board.is_capture(move):
        return None
    if board.is_en_passant(move):
        return chess.square(chess.square_file(move.to_square), chess.square_rank(move.from_square))
    return move.to_square


def _taken(board: chess.Board, move: chess.Move) -> int:
    square = taken_on(board, move)
    gained = worth_on(board, square) if square is not None else 0
    return gained + (WORTH[move.promotion] - WORTH[chess.PAWN] if move.promotion else 0)


def best_exchange(board: chess.Board, square: int, attacker: chess.Color) -> int:
    """The most that `attacker` gains on a square by some first capture, were it to move."""
    turned = board
    if board.turn != attacker:
        turned = board.copy(stack=False)
        turned.turn = attacker
        turned.ep_square = None
    gains = [exchange(turned, square, move) for move in _captures(turned, square)]
    return max(gains, default=0)

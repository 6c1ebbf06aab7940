"""Changes of one detail of a position: a unit moved, added or taken off, or the king castled."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import chess
from chess import KING

from fastness.exercises.natural import unnatural

Change = Literal["step", "shift", "castling", "line", "tempo", "removed", "added"]
"""The kinds of change: a pawn one square on or back, a unit to a square beside its own, king and
rook castled or not yet, a unit along its line, one more move of the other side, a unit taken off,
a unit put on the board."""


@dataclass(frozen=True, slots=True)
class Moved:
    """One unit that stands elsewhere: `unit` is a letter as in a FEN, a square None for nowhere."""

    unit: str
    before: str | None
    now: str | None


@dataclass(frozen=True, slots=True)
class Edit:
    """A change of one detail, and the position it leads to, with the same side to move.

    `units` are those changed: one, or king and rook. `size` orders changes: the smaller and the
    more natural, the less; a rule of thumb of this project, without a source.
    """

    change: Change
    units: tuple[Moved, ...]
    fen: str
    size: int


_SIZES: dict[Change, int] = {
    "step": 10,
    "shift": 20,
    "castling": 25,
    "line": 28,
    "tempo": 30,
    "removed": 50,
    "added": 55,
}
_WORTH = {chess.PAWN: 1, chess.KNIGHT: 3, chess.BISHOP: 3, chess.ROOK: 5, chess.QUEEN: 9}
_A_PAWN_ASIDE = 15
"""How much less natural a pawn on another file is than on another rank."""
_A_KING_OUT = 25
"""How much less natural it is that a king leaves its first rank while there are queens."""


def edits(fen: str) -> list[Edit]:
    """The legal and natural changes of one detail of a position, the smallest first.

    Where two changes lead to the same position, the smaller one stands.
    """
    board = chess.Board(fen)
    found: dict[str, Edit] = {}
    for change, units, after in _changes(board):
        if not unnatural(board, after):
            edit = Edit(change, units, after.fen(), _size(board, change, units))
            known = found.get(edit.fen)
            if known is None or edit.size < known.size:
                found[edit.fen] = edit
    return sorted(found.values(), key=lambda edit: (edit.size, edit.fen))


_Changed = tuple[Change, tuple[Moved, ...], chess.Board]


def _changes(board: chess.Board) -> Iterator[_Changed]:
    for square, piece in board.piece_map().items():
        for change, to in _steps(board, square, piece):
            yield _moved(board, change, square, to)
        if piece.piece_type != KING:
            yield _with(board, "removed", (_named(piece, square, None),))
    yield from _castlings(board)
    yield from _tempo(board)
    yield from _added(board)


def _steps(
    board: chess.Board, square: int, piece: chess.Piece
) -> Iterator[tuple[Change, chess.Square]]:
    """Where the unit could stand instead: beside its square, or along its line."""
    for to in chess.SquareSet(chess.BB_KING_ATTACKS[square]) - board.occupied:
        if piece.piece_type != chess.PAWN:
            yield "shift", to
        elif chess.square_file(to) == chess.square_file(square):
            yield "step", to
        elif chess.square_rank(to) == chess.square_rank(square):
            yield "shift", to
    if piece.piece_type in (chess.BISHOP, chess.ROOK, chess.QUEEN):
        for to in board.attacks(square) - board.occupied:
            if chess.square_distance(square, to) > 1:
                yield "line", to


def _castlings(board: chess.Board) -> Iterator[_Changed]:
    """King and rook castled where the king still may, or not yet where it seems to have."""
    for colour in chess.COLORS:
        for king_to, rook_from, rook_to, between in _CASTLINGS[colour]:
            home = chess.E1 if colour else chess.E8
            king, rook = chess.Piece(KING, colour), chess.Piece(chess.ROOK, colour)
            if board.piece_at(home) == king and board.castling_rights & chess.BB_SQUARES[rook_from]:
                if not any(board.piece_at(at) for at in between):
                    units = (_named(king, home, king_to), _named(rook, rook_from, rook_to))
                    yield _with(board, "castling", units)
                continue
            castled = board.piece_at(king_to) == king and board.piece_at(rook_to) == rook
            if castled and not board.piece_at(home) and not board.piece_at(rook_from):
                units = (_named(king, king_to, home), _named(rook, rook_to, rook_from))
                _, _, after = _with(board, "castling", units)
                after.castling_rights |= chess.BB_SQUARES[rook_from]
                yield "castling", units, after


_CASTLINGS = {
    chess.WHITE: (
        (chess.G1, chess.H1, chess.F1, (chess.F1, chess.G1)),
        (chess.C1, chess.A1, chess.D1, (chess.B1, chess.C1, chess.D1)),
    ),
    chess.BLACK: (
        (chess.G8, chess.H8, chess.F8, (chess.F8, chess.G8)),
        (chess.C8, chess.A8, chess.D8, (chess.B8, chess.C8, chess.D8)),
    ),
}
"""For each castling: the king's new square, the rook's old and new one, and those between."""


def _tempo(board: chess.Board) -> Iterator[_Changed]:
    """One more quiet move of the other side; in check it cannot have one."""
    if board.is_check():
        return
    passed = board.copy(stack=False)
    passed.push(chess.Move.null())
    for move in passed.legal_moves:
        quiet = not passed.is_capture(move) and not move.promotion
        if quiet and not passed.is_castling(move):
            yield _moved(board, "tempo", move.from_square, move.to_square)


_HOMES = {
    chess.KNIGHT: chess.BB_B1 | chess.BB_G1,
    chess.BISHOP: chess.BB_C1 | chess.BB_F1,
    chess.ROOK: chess.BB_A1 | chess.BB_D1 | chess.BB_E1 | chess.BB_F1 | chess.BB_H1,
    chess.QUEEN: chess.BB_D1,
    chess.PAWN: chess.BB_RANK_2 | chess.BB_RANK_3,
}
"""Where a unit that is put on the board would be thought of: at home, or hardly gone from it."""


def _added(board: chess.Board) -> Iterator[_Changed]:
    for colour in chess.COLORS:
        for kind, white in _HOMES.items():
            homes = chess.SquareSet(white if colour else chess.flip_vertical(white))
            for square in homes - board.occupied:
                piece = chess.Piece(kind, colour)
                yield _with(board, "added", (_named(piece, None, square),))


def _moved(board: chess.Board, change: Change, square: int, to: int) -> _Changed:
    piece = board.piece_at(square)
    assert piece is not None
    return _with(board, change, (_named(piece, square, to),))


def _named(piece: chess.Piece, before: int | None, now: int | None) -> Moved:
    names = [None if at is None else chess.square_name(at) for at in (before, now)]
    return Moved(piece.symbol(), names[0], names[1])


def _with(board: chess.Board, change: Change, units: tuple[Moved, ...]) -> _Changed:
    """The board with these units changed, and the castling rights that are left."""
    after = board.copy(stack=False)
    for unit in units:
        if unit.before:
            after.remove_piece_at(chess.parse_square(unit.before))
    for unit in units:
        if unit.now:
            after.set_piece_at(chess.parse_square(unit.now), chess.Piece.from_symbol(unit.unit))
    after.castling_rights = after.clean_castling_rights()
    return change, units, after


def _size(board: chess.Board, change: Change, units: tuple[Moved, ...]) -> int:
    size = _SIZES[change]
    for unit in units:
        kind = chess.Piece.from_symbol(unit.unit).piece_type
        if unit.before is None or unit.now is None:
            size += 2 * _WORTH[kind]
            continue
        before, now = chess.parse_square(unit.before), chess.parse_square(unit.now)
        size += chess.square_distance(before, now) - 1
        if kind == chess.PAWN and chess.square_file(before) != chess.square_file(now):
            size += _A_PAWN_ASIDE
        if kind == KING and board.queens and chess.square_rank(now) not in (0, 7):
            size += _A_KING_OUT
    return size

"""Lines of UCI moves told in SAN, with move numbers and passes."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

import chess

PASS = "0000"
WIDTH = 88
"""Columns of the page."""


def san_moves(fen: str, line: Sequence[str]) -> list[str]:
    """SAN of each move of `line`, played from `fen`; a pass (``0000``) reads ``pass``.

    Raises ValueError if a move is not legal where it stands.
    """
    board = chess.Board(fen)
    told = []
    for uci in line:
        move = chess.Move.from_uci(uci)
        if move:
            if not board.is_legal(move):
                raise ValueError(f"{uci} is not legal in {board.fen()}")
            told.append(board.san(move))
        else:
            told.append("pass")
        board.push(move)
    return told


def numbered(fen: str, line: Sequence[str]) -> str:
    """`line` in SAN with the move numbers that `fen` gives: ``3...Qxg5 4.Nxg5``."""
    board = chess.Board(fen)
    number, white = board.fullmove_number, board.turn == chess.WHITE
    told = []
    for index, san in enumerate(san_moves(fen, line)):
        if white:
            told.append(f"{number}.{san}")
        else:
            told.append(f"{number}...{san}" if index == 0 else san)
            number += 1
        white = not white
    return " ".join(told)


def taken_at(fen: str, line: Sequence[str], square: str) -> int | None:
    """The place in `line`, from 0, where the unit now on `square` is taken; None if it is not.

    The unit is followed through its own moves; castling and en passant included.
    """
    board, at = chess.Board(fen), chess.parse_square(square)
    for index, uci in enumerate(line):
        move = chess.Move.from_uci(uci)
        if move.from_square == at and move:
            at = move.to_square
        elif move and _takes_on(board, move) == at:
            return index
        elif board.is_castling(move) and chess.parse_square(_rook_home(move)) == at:
            at = (move.from_square + move.to_square) // 2
        board.push(move)
    return None


def _takes_on(board: chess.Board, move: chess.Move) -> int:
    if board.is_en_passant(move):
        return chess.square(chess.square_file(move.to_square), chess.square_rank(move.from_square))
    return move.to_square


def _rook_home(move: chess.Move) -> str:
    rank = chess.square_rank(move.from_square)
    return chess.square_name(chess.square(7 if move.to_square > move.from_square else 0, rank))


def line_in_words(fen: str, line: Sequence[str]) -> str:
    """`line` as a sentence part; a pass at its head reads ``If Black passes: 4.Bxd8 Kxd8``."""
    if not line or line[0] != PASS:
        return numbered(fen, line)
    board = chess.Board(fen)
    side = "White" if board.turn == chess.WHITE else "Black"
    board.push(chess.Move.null())
    return f"If {side} passes: {numbered(board.fen(), line[1:])}"


def wrapped(text: str, indent: int = 2, hang: int = 0) -> str:
    """`text` filled to the page's width; later lines are indented by `hang` columns more."""
    return textwrap.fill(
        text,
        WIDTH,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + hang),
        break_long_words=False,
        break_on_hyphens=False,
    )


def wrapped_items(label: str, items: Iterable[str], indent: int = 2, column: int = 15) -> str:
    """A labelled list, ``block          Be7, Nf6``, broken between items only."""
    margin = " " * (indent + column)
    rows, row = [], " " * indent + label.ljust(column)
    fresh = True
    listed = list(items)
    for index, item in enumerate(listed):
        piece = item + ("," if index + 1 < len(listed) else "")
        if not fresh and len(row) + 1 + len(piece) > WIDTH:
            rows.append(row)
            row, fresh = margin, True
        row += piece if fresh else " " + piece
        fresh = False
    return "\n".join([*rows, row])

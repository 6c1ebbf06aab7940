"""Lines of UCI moves told in SAN, with move numbers and passes."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

import chess

from fastness.language import ENGLISH, Language

PASS = "0000"
WIDTH = 88
"""Columns of the page."""


def _letters(language: Language) -> dict[int, int]:
    letters = language.say_as("king, queen, rook, bishop, knight, pawn", "KQRBNP")
    return str.maketrans("KQRBNP", letters)


def notation(san: str, language: Language = ENGLISH) -> str:
    """A move in SAN with the language's letters for the pieces: ``Nf3``, in German ``Sf3``."""
    return san.translate(_letters(language))


def read_notation(written: str, language: Language = ENGLISH) -> str:
    """A move written with the language's letters in SAN; others stay as they are."""
    return written.translate({own: letter for letter, own in _letters(language).items()})


def piece_letter(piece: chess.Piece, language: Language = ENGLISH) -> str:
    """The letter of a unit, a capital for White's: ``n``, in German ``s``."""
    letter = piece.symbol().upper().translate(_letters(language))
    return letter if piece.color else letter.lower()


def move_name(board: chess.Board, uci: str, language: Language = ENGLISH) -> str:
    """The move in the language's notation; a pass (``0000``) reads ``(passes)``.

    Raises ValueError if it is not legal on `board`.
    """
    move = chess.Move.from_uci(uci)
    if not move:
        return language.say_as("a move of a line", "(passes)")
    if not board.is_legal(move):
        raise ValueError(f"{uci} is not legal in {board.fen()}")
    return notation(board.san(move), language)


def numbered_move(board: chess.Board, uci: str, language: Language = ENGLISH) -> str:
    """One move with its number: ``3...Qxg5``."""
    points = "." if board.turn else "..."
    return f"{board.fullmove_number}{points}{move_name(board, uci, language)}"


def numbered(fen: str, line: Sequence[str], language: Language = ENGLISH) -> str:
    """`line` in SAN with the move numbers that `fen` gives: ``3...Qxg5 4.Nxg5``."""
    board = chess.Board(fen)
    told = []
    for index, uci in enumerate(line):
        numbers = board.turn == chess.WHITE or index == 0
        told.append((numbered_move if numbers else move_name)(board, uci, language))
        board.push(chess.Move.from_uci(uci))
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


def squares_left(board: chess.Board, move: chess.Move) -> set[int]:
    """The squares that a move empties of its own units, the castling rook's included."""
    rook = {chess.parse_square(_rook_home(move))} if board.is_castling(move) else set()
    return {move.from_square} | rook


def _takes_on(board: chess.Board, move: chess.Move) -> int:
    if board.is_en_passant(move):
        return chess.square(chess.square_file(move.to_square), chess.square_rank(move.from_square))
    return move.to_square


def _rook_home(move: chess.Move) -> str:
    rank = chess.square_rank(move.from_square)
    return chess.square_name(chess.square(7 if move.to_square > move.from_square else 0, rank))


def line_in_words(fen: str, line: Sequence[str], language: Language = ENGLISH) -> str:
    """`line` as a sentence part; a pass at its head reads ``If Black passes: 4.Bxd8 Kxd8``."""
    if not line or line[0] != PASS:
        return numbered(fen, line, language)
    board = chess.Board(fen)
    moves = _after_pass(board, line[1:], language)
    side = language.say("White") if board.turn else language.say("Black")
    return language.say("If {side} passes: {moves}", side=side, moves=moves)


def _after_pass(board: chess.Board, line: Sequence[str], language: Language) -> str:
    after = board.copy(stack=False)
    after.push(chess.Move.null())
    return numbered(after.fen(), line, language)


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


def _broken(row: str, margin: str) -> list[str]:
    """A row in pieces of the page's width, where a single item is longer than that."""
    if len(row) <= WIDTH:
        return [row]
    place = row.rindex(" ", len(margin), WIDTH + 1)
    return [row[:place], *_broken(margin + row[place + 1 :], margin)]


def wrapped_items(label: str, items: Iterable[str], indent: int = 2, column: int = 15) -> str:
    """A labelled list, ``block          Be7, Nf6``, broken between items where that can be."""
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
        *full, row = _broken(row, margin + "  ")
        rows += full
        fresh = False
    return "\n".join([*rows, row])

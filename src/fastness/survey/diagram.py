"""The diagram: a board in plain text that survives a copy.

Dark squares are hatched, coordinates stand outside the board, and a unit in danger stands in a
broken ring. Each square is five columns by two rows, nearly square in a terminal.
"""

from __future__ import annotations

from collections.abc import Mapping

import chess

from fastness.language import ENGLISH, Language
from fastness.survey.lines import piece_letter

RING = "()"
"""A unit that is not safe, or the square where a pawn promotes."""
CORNERS = "<>"
"""A unit that can be taken now."""


def _square(
    board: chess.Board, square: chess.Square, mark: str, language: Language
) -> tuple[str, str]:
    dark = (chess.square_file(square) + chess.square_rank(square)) % 2 == 0
    edge, fill = ("/", "/////") if dark else (" ", "     ")
    piece = board.piece_at(square)
    letter = piece_letter(piece, language) if piece else " "
    if mark:
        return f"{edge}{mark[0]}{letter}{mark[1]}{edge}", fill
    if piece:
        return f"{edge} {letter} {edge}", fill
    return fill, fill


def diagram(
    fen: str,
    marks: Mapping[str, str] | None = None,
    *,
    flip: bool = False,
    language: Language = ENGLISH,
) -> str:
    """The position of `fen` as text, White at the bottom, or Black if `flip`.

    White's units are capitals, Black's small letters, as the language writes them. `marks` maps
    squares to a pair of characters set on either side of the unit, such as `RING`.
    """
    board = chess.Board(fen)
    marks = marks or {}
    files = range(7, -1, -1) if flip else range(8)
    ranks = range(8) if flip else range(7, -1, -1)
    border = "   +" + "-" * 40 + "+"
    rows = [border]
    for rank in ranks:
        upper = lower = ""
        for file in files:
            square = chess.square(file, rank)
            cell = _square(board, square, marks.get(chess.square_name(square), ""), language)
            upper, lower = upper + cell[0], lower + cell[1]
        rows += [f" {rank + 1} |{upper}|", f"   |{lower}|"]
    letters = "".join(f"  {chess.FILE_NAMES[file]}  " for file in files).rstrip()
    return "\n".join([*rows, border, f"    {letters}"])

"""A line in one picture: the position, and small numerals on the squares that its moves reach."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import chess

from fastness.language import ENGLISH, Language
from fastness.publish.diagram import LEFT, SQUARE, TOP, diagram_in_words, svg_position
from fastness.publish.marks import attack_line
from fastness.publish.silhouettes import INK, PAPER
from fastness.survey.lines import PASS, move_name, numbered

NUMERAL = 12
"""The radius of the disc of a numeral, where a square is 60 wide."""
SHIFT = 16
"""How far its middle is from the middle of the square, to the right and up."""
PIXELS = 2.0
"""Pixels of a PNG for each unit of the picture."""


@dataclass(frozen=True, slots=True)
class LinePicture:
    """A picture as SVG, what it shows in words, and the line below it."""

    svg: str
    alt: str
    caption: str


def line_picture(
    fen: str,
    line: Sequence[str] = (),
    *,
    ringed: Sequence[str] = (),
    flip: bool = False,
    language: Language = ENGLISH,
) -> LinePicture:
    """The position after the first move of `line` (UCI), or at `fen` where that is a pass.

    Each move has its numeral on the square that it reaches, a broken ring stands around `ringed`,
    squares of the position shown, and a dashed line leads from what moves next to where it goes.
    """
    board, moves = chess.Board(fen), list(line)
    numbers: dict[str, list[int]] = {}
    names: list[str] = []
    if moves[:1] == [PASS]:
        board.push(chess.Move.null())
        moves.pop(0)
        shown = fen
    elif moves:
        _count(board, moves[0], numbers, names, language)
        shown = board.fen()
    else:
        shown = fen
    rest = moves if shown == fen else moves[1:]
    standing = chess.Board(shown)
    rings = [name for name in ringed if standing.piece_at(chess.parse_square(name))]
    for uci in rest:
        _count(board, uci, numbers, names, language)
    svg = svg_position(shown, ringed=rings, flip=flip, language=language)
    parts = [_numeral(square, told, flip) for square, told in numbers.items()]
    if rest:
        # Below the units, right behind the coordinates, which are the first group.
        below = attack_line(_middle(rest[0][:2], flip), _middle(rest[0][2:4], flip))
        svg = svg.replace("</g>", f"</g>\n{below}", 1)
    svg = svg.replace("</svg>", "\n".join([*parts, "</svg>"]))
    alt = diagram_in_words(shown, rings, language)
    if names:
        told = "; ".join(f"{number} {name}" for number, name in enumerate(names, 1))
        numerals = language.say("The moves by their numerals: {moves}.", moves=told)
        alt = f"{alt} {numerals}"
    return LinePicture(svg, alt, _caption(fen, line, language))


def png(picture: LinePicture) -> bytes:
    """The picture as PNG."""
    import vl_convert

    made: bytes = vl_convert.svg_to_png(picture.svg, scale=PIXELS)
    return made


def _count(
    board: chess.Board,
    uci: str,
    numbers: dict[str, list[int]],
    names: list[str],
    language: Language,
) -> None:
    names.append(move_name(board, uci, language))
    numbers.setdefault(uci[2:4], []).append(len(names))
    board.push_uci(uci)


def _caption(fen: str, line: Sequence[str], language: Language) -> str:
    if not line:
        return ""
    if line[0] != PASS:
        return numbered(fen, line, language)
    board = chess.Board(fen)
    board.push(chess.Move.null())
    return numbered(board.fen(), line[1:], language)


def _middle(name: str, flip: bool) -> tuple[float, float]:
    square = chess.parse_square(name)
    file, rank = chess.square_file(square), chess.square_rank(square)
    column, row = (7 - file, rank) if flip else (file, 7 - rank)
    return LEFT + (column + 0.5) * SQUARE, TOP + (row + 0.5) * SQUARE


def _numeral(square: str, numbers: Sequence[int], flip: bool) -> str:
    x, y = _middle(square, flip)
    told = ",".join(map(str, numbers))
    wide = NUMERAL + 4 * (len(told) - 1)
    x, y = x + SHIFT + NUMERAL - wide, y - SHIFT
    return (
        f'<rect x="{x - wide:g}" y="{y - NUMERAL:g}" width="{2 * wide:g}" height="{2 * NUMERAL}"'
        f' rx="{NUMERAL}" fill="{PAPER}" stroke="{INK}" stroke-width="1.5"/>'
        f'<text x="{x:g}" y="{y + 6:g}" font-size="17" text-anchor="middle" fill="{INK}">'
        f"{told}</text>"
    )

"""The diagram as SVG: dark squares hatched, coordinates outside, the marks of the survey."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from xml.sax.saxutils import escape

import chess

from fastness.core.shapes import Side, Survey, UnitName
from fastness.language import ENGLISH, Language
from fastness.publish.marks import Point, attack_line, corners, guard_line, marks_of, ring
from fastness.publish.silhouettes import INK, PAPER, unit_drawn
from fastness.publish.sketch import NOTHING, Sketch, above_units, below_units, sketch_in_words
from fastness.survey.claim import UnitAt
from fastness.survey.claims import claims
from fastness.survey.dangers import dangers
from fastness.survey.findings import Findings
from fastness.survey.nouns import bare_unit
from fastness.survey.takings import takings
from fastness.survey.titles import head
from fastness.survey.words import side_name

SQUARE = 60
"""The width of a square; the picture is scaled as a whole."""
LEFT, TOP, BOTTOM, RIGHT = 34, 10, 34, 10
LETTERS = 18.0
"""The size of the coordinates."""
SMALL_LETTERS = 28.0
"""Their size where boards stand side by side: 7 points with three across an A4 page."""
WIDTH = LEFT + 8 * SQUARE + RIGHT
HEIGHT = TOP + 8 * SQUARE + BOTTOM
_KINDS: tuple[UnitName, ...] = ("king", "queen", "rook", "bishop", "knight", "pawn")
_HATCH = "fastness-hatch"
STROKES = 8
"""Hatching strokes along the side of a square."""


def svg_diagram(survey: Survey, *, flip: bool = False, language: Language = ENGLISH) -> str:
    """The survey's position as an SVG document, White at the bottom, or Black if `flip`.

    What is not safe stands in a broken ring, a dashed line leads to it from each attacker and a
    double line from each guard, and corners stand around what can be taken. The title and the
    description tell the same in words. Raises ValueError if a line of the survey does not replay.
    """
    # Where a trade may be in progress the page asks for moves; a picture cannot be answered.
    found = Findings(claims(survey, moves_given=True), language)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img"'
        f' font-family="sans-serif" font-size="18" lang="{language.code}">',
        f"<title>{escape(head(found))}</title>",
        f"<desc>{escape(_description(found))}</desc>",
        *_board(flip),
        *_lines_and_rings(survey, found, flip),
        *_units(found.board, flip),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def svg_position(
    fen: str,
    *,
    ringed: Sequence[str] = (),
    flip: bool = False,
    sketch: Sketch = NOTHING,
    font: str = "sans-serif",
    letters: float = LETTERS,
    language: Language = ENGLISH,
) -> str:
    """A position as an SVG document, with a broken ring around what stands on some squares.

    `sketch` is what is drawn besides. `letters` is the size of the coordinates where a square is
    60 wide: a picture that will stand small needs larger ones. Nothing is searched. The description
    says where everything stands and who is to move.
    """
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img"'
        f' font-family="{font}" font-size="{letters:g}" lang="{language.code}">',
        f"<desc>{escape(position_in_words(fen, language))}</desc>",
        *_board(flip, letters),
        *_sketched(below_units, sketch, flip),
        *(ring(_middle(square, flip)) for square in ringed),
        *_units(chess.Board(fen), flip),
        *_sketched(above_units, sketch, flip),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _sketched(
    drawn: Callable[[Sketch, Callable[[str], Point]], Iterator[str]], sketch: Sketch, flip: bool
) -> Iterator[str]:
    return drawn(sketch, lambda square: _middle(square, flip))


def position_in_words(fen: str, language: Language = ENGLISH) -> str:
    """Where every unit stands, by side, and who is to move: what a picture says to those who hear.

    ``White: king g1, rook d1. Black: king g8. White to move.``
    """
    board = chess.Board(fen)
    if not board.occupied:
        return language.say("An empty board.")
    side = side_name("white" if board.turn else "black", language)
    sides = [_side_in_words(board, colour, language) for colour in (chess.WHITE, chess.BLACK)]
    return " ".join([*sides, language.say("{own} to move.", own=side)])


def diagram_in_words(
    fen: str,
    ringed: Sequence[str] = (),
    language: Language = ENGLISH,
    *,
    sketch: Sketch = NOTHING,
) -> str:
    """A diagram for those who do not see it: the position, what is ringed, and the other marks."""
    told = [position_in_words(fen, language)]
    if ringed:
        told.append(language.say("In a broken ring: {squares}.", squares=", ".join(ringed)))
    return " ".join([*told, *sketch_in_words(sketch, language)])


def _description(found: Findings) -> str:
    """All units by side, then the survey's own words for what is not safe or can be taken."""
    sides = [
        _side_in_words(found.board, colour, found.language) for colour in (chess.WHITE, chess.BLACK)
    ]
    told = f"{dangers(found)} {takings(found)}"
    return " ".join([*sides, *told.split()])


def _side_in_words(board: chess.Board, colour: chess.Color, language: Language) -> str:
    units = [
        bare_unit(UnitAt(kind, chess.square_name(square)), language)
        for kind in _KINDS
        for square in board.pieces(chess.PIECE_NAMES.index(kind), colour)
    ]
    name = side_name("white" if colour else "black", language)
    return f"{name}: {', '.join(units)}."


def _corner(square: chess.Square, flip: bool) -> tuple[int, int]:
    """The upper left corner of a square."""
    file, rank = chess.square_file(square), chess.square_rank(square)
    column, row = (7 - file, rank) if flip else (file, 7 - rank)
    return LEFT + column * SQUARE, TOP + row * SQUARE


def _middle(name: str, flip: bool) -> Point:
    x, y = _corner(chess.parse_square(name), flip)
    return x + SQUARE / 2, y + SQUARE / 2


def _board(flip: bool, letters: float = LETTERS) -> list[str]:
    dark = "".join(
        "M{} {}h{w}v{w}h-{w}z".format(*_corner(square, flip), w=SQUARE)
        for square in chess.SquareSet(chess.BB_DARK_SQUARES)
    )
    # A tile is a whole square: one of a single stroke is lost where the picture is small.
    steps = [SQUARE * step / STROKES for step in range(1, 2 * STROKES)]
    strokes = "".join(f"M0 {step:g}L{step:g} 0" for step in steps)
    return [
        f'<defs><pattern id="{_HATCH}" x="{LEFT}" y="{TOP}" width="{SQUARE}" height="{SQUARE}"'
        f' patternUnits="userSpaceOnUse"><path d="{strokes}" stroke="{INK}"/></pattern></defs>',
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="{PAPER}"/>',
        f'<path d="{dark}" fill="url(#{_HATCH})"/>',
        f'<rect x="{LEFT - 1}" y="{TOP - 1}" width="{8 * SQUARE + 2}" height="{8 * SQUARE + 2}"'
        f' fill="none" stroke="{INK}" stroke-width="2"/>',
        *_coordinates(flip, letters),
    ]


def _coordinates(flip: bool, letters: float) -> list[str]:
    order: Sequence[int] = range(7, -1, -1) if flip else range(8)
    placed: list[tuple[float, float, str]] = [
        (LEFT + (place + 0.5) * SQUARE, HEIGHT - 17 + letters / 3, chess.FILE_NAMES[file])
        for place, file in enumerate(order)
    ]
    placed += [
        (LEFT / 2 - 1, TOP + (7.5 - place) * SQUARE + 13 / 36 * letters, chess.RANK_NAMES[rank])
        for place, rank in enumerate(order)
    ]
    texts = "".join(f'<text x="{x:g}" y="{y:g}">{name}</text>' for x, y, name in placed)
    return [f'<g fill="{INK}" text-anchor="middle">{texts}</g>']


def _lines_and_rings(survey: Survey, found: Findings, flip: bool) -> list[str]:
    marks = marks_of(survey, found)

    def at(name: str) -> Point:
        return _middle(name, flip)

    return [
        *(guard_line(at(start), at(end)) for start, end in marks.guards),
        *(attack_line(at(start), at(end)) for start, end in marks.attacks),
        *(ring(at(square)) for square in marks.ringed),
        *(corners(at(square)) for square in marks.cornered),
    ]


def _units(board: chess.Board, flip: bool) -> list[str]:
    drawn = []
    for square, piece in sorted(board.piece_map().items()):
        kind = _KINDS[6 - piece.piece_type]
        side: Side = "white" if piece.color else "black"
        drawn.append(unit_drawn(kind, side, *_corner(square, flip)))
    return drawn

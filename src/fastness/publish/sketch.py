"""What is drawn on a diagram besides rings: corners, lines, and small numerals."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import hypot

import chess

from fastness.language import ENGLISH, Language
from fastness.publish.marks import Point, attack_line, corners, guard_line
from fastness.publish.silhouettes import BRICK, INK, PAPER

Pair = tuple[str, str]
_CLEAR = 16.0
"""How far from the middle of its last square a plain line ends, where a square is 60 wide."""
_HEAD = 13.0
_RIM, _INNER = 9, 4


@dataclass(frozen=True, slots=True)
class Sketch:
    """Squares in `corners`, (from, to) of each attack, guard and plain line, and numerals."""

    corners: tuple[str, ...] = ()
    attacks: tuple[Pair, ...] = ()
    guards: tuple[Pair, ...] = ()
    lines: tuple[Pair, ...] = ()
    numerals: tuple[tuple[str, str], ...] = ()


NOTHING = Sketch()


def numerals_of(line: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """The numerals of the moves (UCI) of a line, from 1, on the squares that they reach."""
    found: dict[str, str] = {}
    for number, uci in enumerate(line, 1):
        square = uci[2:4]
        found[square] = f"{found[square]} {number}" if square in found else str(number)
    return tuple(found.items())


def below_units(sketch: Sketch, middle: Callable[[str], Point]) -> Iterator[str]:
    """The lines, which pass below the units."""
    for start, end in sketch.guards:
        yield guard_line(middle(start), middle(end))
    for start, end in sketch.attacks:
        yield attack_line(middle(start), middle(end))
    for square in sketch.corners:
        yield corners(middle(square))


def above_units(sketch: Sketch, middle: Callable[[str], Point]) -> Iterator[str]:
    """Plain lines and numerals, which no unit may hide."""
    for start, end in sketch.lines:
        yield _plain_line(middle(start), middle(end))
    for square, numeral in sketch.numerals:
        yield _numeral(middle(square), numeral)


def _plain_line(start: Point, end: Point) -> str:
    """A line from the edge of one square's middle to that of another, with an open head."""
    (x, y), (to_x, to_y) = start, end
    length = hypot(to_x - x, to_y - y)
    along_x, along_y = (to_x - x) / length, (to_y - y) / length
    tip_x, tip_y = to_x - _CLEAR * along_x, to_y - _CLEAR * along_y
    from_x, from_y = x + _CLEAR * along_x, y + _CLEAR * along_y
    wings = [
        (
            tip_x - _HEAD * (along_x - turn * along_y * 0.6),
            tip_y - _HEAD * (along_y + turn * along_x * 0.6),
        )
        for turn in (1, -1)
    ]
    path = f"M{from_x:.1f} {from_y:.1f}L{tip_x:.1f} {tip_y:.1f}"
    path += "M{:.1f} {:.1f}L{:.1f} {:.1f}L{:.1f} {:.1f}".format(*wings[0], tip_x, tip_y, *wings[1])
    joined = 'fill="none" stroke-linecap="round" stroke-linejoin="round"'
    return (
        f'<path d="{path}" stroke="{PAPER}" stroke-width="{_RIM}" {joined}/>'
        f'<path d="{path}" stroke="{INK}" stroke-width="{_INNER}" {joined}/>'
    )


def _numeral(centre: Point, numeral: str) -> str:
    """A small label in the upper right corner of a square."""
    x, y = centre[0] - 30, centre[1] - 30
    wide = 11 * len(numeral) + 9
    return (
        f'<rect x="{x + 59 - wide:g}" y="{y + 1:g}" width="{wide}" height="22" rx="3"'
        f' fill="{PAPER}" stroke="{BRICK}" stroke-width="1.5"/>'
        f'<text x="{x + 59 - wide / 2:g}" y="{y + 18:g}" fill="{BRICK}" font-size="18"'
        f' font-weight="700" text-anchor="middle">{numeral}</text>'
    )


def sketch_in_words(sketch: Sketch, language: Language = ENGLISH) -> list[str]:
    """The same for those who do not see it, a sentence for each kind of mark."""
    say = language.say
    told = []
    if sketch.corners:
        told.append(say("In corners: {squares}.", squares=", ".join(sketch.corners)))
    if sketch.attacks:
        told.append(say("Dashed lines: {lines}.", lines=_pairs(sketch.attacks)))
    if sketch.guards:
        told.append(say("Double lines: {lines}.", lines=_pairs(sketch.guards)))
    if sketch.lines:
        told.append(say("Plain lines: {lines}.", lines=_pairs(sketch.lines)))
    if sketch.numerals:
        numbered = ", ".join(f"{square} {numeral}" for square, numeral in sketch.numerals)
        told.append(say("Numerals: {squares}.", squares=numbered))
    return told


def _pairs(pairs: Sequence[Pair]) -> str:
    return ", ".join(f"{start}-{end}" for start, end in pairs)


def changed_squares(one: str, other: str) -> tuple[str, ...]:
    """The squares on which two positions (FEN) differ."""
    here, there = chess.Board(one).piece_map(), chess.Board(other).piece_map()
    return tuple(
        chess.square_name(square)
        for square in sorted(here.keys() | there.keys())
        if here.get(square) != there.get(square)
    )

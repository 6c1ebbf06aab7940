"""The units as cut-paper silhouettes, drawn in a square of 60 by 60 with the foot at the bottom."""

from __future__ import annotations

from dataclasses import dataclass

from fastness.core.shapes import Side, UnitName

INK = "#1b2a41"
"""Blue black: outlines, hatching, Black's units."""
PAPER = "#fdfcf8"
"""Paper white: the ground, White's units."""
BRICK = "#a63d2f"
"""The one accent colour: what is in danger and what attacks it."""


@dataclass(frozen=True, slots=True)
class Silhouette:
    """SVG path data: the `outline`, closed, and the `lines` drawn inside it."""

    outline: str
    lines: str


# Straight cuts and few curves. What tells a unit at 20 px is its top alone: a ball, a muzzle, a
# leaf with a slit, battlements, a crown of four points, a cross.
SILHOUETTES: dict[UnitName, Silhouette] = {
    "pawn": Silhouette(
        "M15 53V46L22 43L26 31.5A10.5 10.5 0 1 1 34 31.5L38 43L45 46V53Z",
        "M21.5 47H38.5",
    ),
    "knight": Silhouette(
        "M15 53V47L22 41Q29 36 30 29L24 33L20 38L14 39L9 33L15 21Q20 14 28 13L33 5L37 13"
        "Q47 23 44 47V53Z",
        "M21 47.5H38.5Q40 30 34 20M20.5 24.5L23.5 22.5",
    ),
    "bishop": Silhouette(
        "M13 53V47L23 43L25 37Q12 25 30 5Q36 11 38 17L29 25L31 28L40.5 20.5Q41 30 35 37L37 43"
        "L47 47V53Z",
        "M21 47.5H39M25.5 36.5H34.5",
    ),
    "rook": Silhouette(
        "M13 53V46L19 41L20 25L14 20V9H22V15H26V9H34V15H38V9H46V20L40 25L41 41L47 46V53Z",
        "M20 46.5H40M21.5 25H38.5",
    ),
    "queen": Silhouette(
        "M14 53V47L18 42L7 14L20 26L23 7L30 23L37 7L40 26L53 14L42 42L46 47V53Z",
        "M21 47.5H39M20.5 39.5Q30 35.5 39.5 39.5",
    ),
    "king": Silhouette(
        "M14 53V47L18 42L8 28L14 20L27 23V15H20V9H27V3H33V9H40V15H33V23L46 20L52 28L42 42L46 47"
        "V53Z",
        "M21 47.5H39M20.5 40.5H39.5M30 28V35",
    ),
}


def unit_drawn(unit: UnitName, side: Side, x: float, y: float) -> str:
    """The SVG elements of a unit whose square has its upper left corner at (`x`, `y`).

    A rim of paper parts it from the hatching and from the lines that end at it.
    """
    fill, line = (PAPER, INK) if side == "white" else (INK, PAPER)
    shape = SILHOUETTES[unit]
    joined = 'stroke-linejoin="round"'
    return (
        f'<g transform="translate({x:g} {y:g})">'
        f'<path d="{shape.outline}" fill="{PAPER}" stroke="{PAPER}" stroke-width="7" {joined}/>'
        f'<path d="{shape.outline}" fill="{fill}" stroke="{INK}" stroke-width="3" {joined}/>'
        f'<path d="{shape.lines}" fill="none" stroke="{line}" stroke-width="2" {joined}'
        ' stroke-linecap="round"/></g>'
    )

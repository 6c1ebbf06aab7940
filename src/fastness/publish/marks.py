"""The marks of a diagram: what is in danger, what attacks and guards it, what can be taken."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

import chess

from fastness.core.shapes import Survey
from fastness.publish.silhouettes import BRICK, INK, PAPER
from fastness.survey.claim import InCheck, Mated
from fastness.survey.findings import Findings
from fastness.survey.takings import can_be_taken

Point = tuple[float, float]

RING = 27.0
"""The radius of a broken ring, where a square is 60 wide."""
RING_DASH = "14.2 7"
ATTACK_DASH = "8 4.5"
LINE = 3.2
"""The width of rings, corners and attack lines."""
ATTACK_RIM, GUARD_RIM, GUARD_OUTER, GUARD_INNER = 8, 11, 7, 3
CORNER = 11
EDGE = 28


@dataclass(frozen=True, slots=True)
class Marks:
    """Squares: `ringed`, `cornered`, and (from, to) of each `attack` and `guard`."""

    ringed: tuple[str, ...]
    cornered: tuple[str, ...]
    attacks: tuple[tuple[str, str], ...]
    guards: tuple[tuple[str, str], ...]


def marks_of(survey: Survey, found: Findings) -> Marks:
    """The marks that a survey asks for.

    Ringed is what is not safe, or the king in check. An attack or a guard is a unit that bears on
    a ringed one now, pinned units included; a king has no guards.
    """
    kings = [check.king for check in found.of(InCheck)] + [mate.king for mate in found.of(Mated)]
    ringed = found.endangered()
    units = {unit["square"]: unit for unit in survey["units"]}
    checkers = [chess.square_name(square) for square in found.board.checkers()]
    attacks = [
        (attacker, square)
        for square in ringed
        for attacker in (checkers if square in kings else units[square]["attackers"])
    ]
    guards = [
        (guard, square)
        for square in ringed
        if units[square]["unit"] != "king"
        for guard in units[square]["guards"]
    ]
    cornered = dict.fromkeys(unit.square for unit in can_be_taken(found))
    return Marks(tuple(ringed), tuple(cornered), tuple(attacks), tuple(guards))


def ring(centre: Point) -> str:
    """A broken ring: eight arcs around a unit that is not safe."""
    x, y = centre
    return (
        f'<circle cx="{x:g}" cy="{y:g}" r="{RING:g}" fill="{PAPER}" stroke="{BRICK}"'
        f' stroke-width="{LINE}" stroke-dasharray="{RING_DASH}"/>'
    )


def corners(centre: Point) -> str:
    """Four corners around a unit that can be taken."""
    x, y = centre
    drawn = "".join(
        f"M{x + right * (EDGE - CORNER):g} {y + down * EDGE:g}H{x + right * EDGE:g}"
        f"V{y + down * (EDGE - CORNER):g}"
        for right in (-1, 1)
        for down in (-1, 1)
    )
    return f'<path d="{drawn}" fill="none" stroke="{BRICK}" stroke-width="{LINE}"/>'


def attack_line(start: Point, end: Point) -> str:
    """A dashed line from an attacker to the ring of what it attacks."""
    path = _between(start, end)
    return (
        f'<path d="{path}" stroke="{PAPER}" stroke-width="{ATTACK_RIM}"/>'
        f'<path d="{path}" stroke="{BRICK}" stroke-width="{LINE}"'
        f' stroke-dasharray="{ATTACK_DASH}"/>'
    )


def guard_line(start: Point, end: Point) -> str:
    """A double line from a guard to the ring of what it guards."""
    path = _between(start, end)
    return (
        f'<path d="{path}" stroke="{PAPER}" stroke-width="{GUARD_RIM}"/>'
        f'<path d="{path}" stroke="{INK}" stroke-width="{GUARD_OUTER}"/>'
        f'<path d="{path}" stroke="{PAPER}" stroke-width="{GUARD_INNER}"/>'
    )


def _between(start: Point, end: Point) -> str:
    """From the middle of a square to the ring around the middle of another."""
    (x, y), (to_x, to_y) = start, end
    share = 1 - RING / hypot(to_x - x, to_y - y)
    return f"M{x:g} {y:g}L{x + share * (to_x - x):.1f} {y + share * (to_y - y):.1f}"

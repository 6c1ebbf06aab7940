"""What a teacher asks of a position to be composed, and how much of it a position meets."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import get_args

from fastness.core.shapes import Mechanism, Side, Survey, UnitName, Way
from fastness.errors import OptionError
from fastness.exercises.difficulty import is_unsafe
from fastness.exercises.exercise import Level

MOST_HOLDING = 8
"""Moves that hold, at the most, where nothing else is asked."""
_OF_THE_KING: frozenset[Mechanism] = frozenset(
    {
        "mate threat",
        "back rank",
        "double check",
        "discovered check",
        "removal of the guard",
        "overloaded guard",
    }
)
_NEVER: dict[UnitName, frozenset[Mechanism]] = {
    "king": frozenset(get_args(Mechanism)) - _OF_THE_KING,
    "pawn": frozenset({"less valuable attacker", "trapped"}),
}
"""Causes by which a unit cannot fall, by their definitions in docs/mechanisms.md."""


@dataclass(frozen=True, slots=True)
class Request:
    """What a position must have; what is None or empty is not asked for.

    One unsafe unit is to be `unit` and fall by `mechanism`, seen first at `reach` (opponent's
    moves); from `least` to `most` moves hold, and each of `ways` is the main way of one of them.
    `side` is to move. One of the exercises is of `level`.
    """

    mechanism: Mechanism | None = None
    unit: UnitName | None = None
    ways: frozenset[Way] = frozenset()
    reach: int | None = None
    least: int = 1
    most: int = MOST_HOLDING
    side: Side | None = None
    level: Level | None = None


def check_request(request: Request, reach: int = 3) -> None:
    """Raises OptionError for a request that no position can meet, with what would be right."""
    if request.least < 1:
        raise OptionError("An exercise needs a move that keeps it: ask for 1 or more.")
    if request.most < request.least:
        raise OptionError(
            f"No position has at least {request.least} and at most {request.most} moves that keep"
            " it: ask for as many or more."
        )
    if request.reach is not None and not 1 <= request.reach <= reach:
        raise OptionError(f"A danger shows looking 1 to {reach} moves ahead, not {request.reach}.")
    if len(request.ways) > request.most:
        raise OptionError(
            f"{len(request.ways)} ways need as many moves that keep it, and at most"
            f" {request.most} are asked for."
        )
    never = _NEVER.get(request.unit, frozenset()) if request.unit else frozenset()
    if request.mechanism in never:
        possible = ", ".join(sorted(frozenset(get_args(Mechanism)) - never))
        raise OptionError(
            f"A {request.unit} cannot fall by {request.mechanism}. It can by: {possible}."
        )


def unmet(request: Request, survey: Survey) -> tuple[str, ...]:
    """The parts of a request that a position does not meet, by the names of `Request`.

    The level is left out, which only a proved exercise has.
    """
    return tuple(_unmet(request, survey))


def _unmet(request: Request, survey: Survey) -> Iterator[str]:
    unsafe = [unit for unit in survey["units"] if is_unsafe(unit)]
    if not unsafe:
        yield "danger"
    if request.side not in (None, survey["side"]):
        yield "side"
    fits = [
        unit
        for unit in unsafe
        if request.mechanism is None or request.mechanism in unit["mechanisms"]
    ]
    if request.mechanism and not fits:
        yield "mechanism"
    fits = [unit for unit in fits or unsafe if request.unit in (None, unit["unit"])]
    if request.unit and not fits:
        yield "unit"
    if request.reach and not any(unit["reach"] == request.reach for unit in fits or unsafe):
        yield "reach"
    holding = [move for move in survey["moves"] if move["holds"]]
    if not request.least <= len(holding) <= request.most:
        yield "holding"
    if not request.ways <= {move["ways"][0] for move in holding if move["ways"]}:
        yield "ways"

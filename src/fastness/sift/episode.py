"""Episodes: one danger to one unit, over however many own moves it stays."""

import math
from collections.abc import Iterator

from fastness.core.shapes import Look, Survey, Unit
from fastness.sift.outcome import in_danger
from fastness.sift.squares import after, danger_squares, unsafe_units

# Where the core judges no loss (in check) the dearest unit stands first; by order, not by value.
_DEARNESS = ("pawn", "knight", "bishop", "rook", "queen", "king")


class Episodes:
    """Numbers the episodes of one player in one game, from own move to own move."""

    def __init__(self, numbers: Iterator[int]) -> None:
        """Take the number of each new episode from `numbers`."""
        self._numbers = numbers
        self._open: dict[str, int] = {}

    def follow(self, look: Look, *, occasion: bool) -> int | None:
        """Take the next own move and give the number of its episode if it is an occasion.

        An occasion belongs to the unit with the largest loss. It carries an open episode on if
        that unit, followed through its own moves, was in danger at the own move before; of units
        with equal losses the one with the older episode counts.
        """
        survey = look["survey"]
        if survey is None:
            self._open = {}
            return None
        still = self._still_in_danger(look, survey)
        number = None
        if occasion:
            squares = _foremost(look, survey)
            known = [still[square] for square in squares if square in still]
            number = min(known) if known else next(self._numbers)
            if not known or _drops(look):
                for square in squares if _drops(look) else squares[:1]:
                    still.setdefault(square, number)
        self._open = {after(square, look): episode for square, episode in still.items()}
        return number

    def _still_in_danger(self, look: Look, survey: Survey) -> dict[str, int]:
        if look["in_check"]:
            # Not judged is not safe: what hung before the check may hang after it.
            there = {unit["square"] for unit in survey["units"]}
        else:
            there = {unit["square"] for unit in unsafe_units(survey)}
        return {square: number for square, number in self._open.items() if square in there}


def _drops(look: Look) -> bool:
    return not in_danger(look) and not look["played"]["holds"]


def _foremost(look: Look, survey: Survey) -> list[str]:
    """The squares of the units with the largest loss, or all that the move played drops."""
    squares = danger_squares(look, survey)
    if _drops(look):
        return squares
    units = [unit for unit in survey["units"] if unit["square"] in squares]
    most = max(map(loss, units), default=0.0)
    return [unit["square"] for unit in units if loss(unit) == most]


def loss(unit: Unit) -> float:
    """What the loss of the unit costs, in centipawns; mate is above all else."""
    loses = unit["loses"]
    if loses is None:
        return _DEARNESS.index(unit["unit"])
    return math.inf if loses == "mate" else loses

"""Which exercises of the shelf are meant, for every command that looks for some."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from cyclopts import Parameter

from fastness.core.shapes import Mechanism, UnitName, Way
from fastness.errors import InputError
from fastness.exercises.exercise import Kind, Level, Made
from fastness.store.shelf import Wanted

Several = Parameter(negative=(), consume_multiple=False)


@Parameter(name="*")
@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfFilter:
    """Which exercises; an option given several times asks for any of its values.

    Args:
        mechanism: why a unit falls, as "pinned guard".
        way: a way that holds: capture, move, block, guard, counterattack.
        unit: a unit that is not safe, as knight.
        reach: how many moves ahead must be looked.
        phase: of the game.
        level: plain, club or stretch.
        kind: the question, as "every move".
        source: from a game, a twin, or composed.
        least: at least so many moves hold.
        most: at most so many moves hold.
    """

    mechanism: Annotated[tuple[Mechanism, ...], Several] = ()
    way: Annotated[tuple[Way, ...], Several] = ()
    unit: Annotated[tuple[UnitName, ...], Several] = ()
    reach: Annotated[tuple[int, ...], Several] = ()
    phase: Annotated[tuple[Literal["opening", "middlegame", "endgame"], ...], Several] = ()
    level: Annotated[tuple[Level, ...], Several] = ()
    kind: Annotated[tuple[Kind, ...], Several] = ()
    source: Annotated[tuple[Made, ...], Several] = ()
    least: int | None = None
    most: int | None = None

    def wanted(self, *, struck: bool = False) -> Wanted:
        """As the shelf takes it. Raises InputError where no exercise can fit."""
        if self.least is not None and self.most is not None and self.least > self.most:
            raise InputError(
                f"No exercise has at least {self.least} and at most {self.most} moves that hold."
            )
        return Wanted(
            self.mechanism,
            self.way,
            self.unit,
            self.reach,
            self.phase,
            self.level,
            self.kind,
            self.source,
            (self.least, self.most),
            struck=struck,
        )

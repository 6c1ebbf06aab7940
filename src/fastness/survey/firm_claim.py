"""The kinds of claim on whether verdicts stay: one move deeper, and by other values."""

from __future__ import annotations

from dataclasses import dataclass

from fastness.survey.move_claim import Line, Loss


@dataclass(frozen=True, slots=True)
class CheckedDeeper:
    """Every legal move has the same verdict at `reach`, one more than the full reach."""

    reach: int


@dataclass(frozen=True, slots=True)
class NotFirm:
    """Moves with another verdict at `reach`, one more than the full reach.

    `falls`: they hold here and fall there; `holds`: they fall here and hold there.
    """

    reach: int
    falls: tuple[str, ...]
    holds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FallsDeeper:
    """A move loses something at `reach`, one more than the full reach, and other than at that.

    It holds at the full reach, or where no move does falls there by another amount. `line` begins
    with the move.
    """

    move: str
    reach: int
    loses: Loss
    line: Line


@dataclass(frozen=True, slots=True)
class ValuesMatter:
    """The tables of values `tables` disagree on some verdict of this position.

    `moves` (UCI) keep the material by one of them and not by the other; where there are none, the
    tables disagree on what can be won.
    """

    tables: tuple[str, ...]
    moves: tuple[str, ...] = ()

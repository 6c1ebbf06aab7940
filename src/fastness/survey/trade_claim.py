"""Claims on a trade in progress."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Owed:
    """The side to move has lost this much in the run of captures that led here."""

    centipawns: int


@dataclass(frozen=True, slots=True)
class PerhapsATrade:
    """The side to move can win something, and the moves before the position are not known."""

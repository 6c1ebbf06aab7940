"""Tables of positions with a mechanism that applies to a unit, or does not."""

import csv
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path

from fastness import core
from fastness.core.shapes import Survey, Unit

FOLDER = Path(__file__).parents[1] / "data" / "mechanisms"
NAMES = (
    "unguarded",
    "less valuable attacker",
    "outnumbered",
    "pinned guard",
    "overloaded guard",
    "removal of the guard",
    "fork",
    "pin",
    "skewer",
    "discovered attack",
    "discovered check",
    "double check",
    "trapped",
    "back rank",
    "mate threat",
    "promotion",
    "interference",
    "in-between move",
    "desperado",
)
Row = dict[str, str]


def rows(name: str) -> list[Row]:
    """`mechanism`, `fen`, `unit` (a square), `applies` (yes or no), `squares`, `why`, `source`."""
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@lru_cache(maxsize=256)
def survey_of(fen: str) -> Survey:
    return core.survey(fen)


def unit_of(row: Row) -> Unit | None:
    """The unit of a row, of either side; None for one of the opponent's that cannot be taken."""
    survey = survey_of(row["fen"])
    every = (*survey["units"], *survey["takings"])
    return next((unit for unit in every if unit["square"] == row["unit"]), None)


def squares_named(row: Row) -> list[str] | None:
    """The squares of the row's mechanism as the survey names it, None if it does not."""
    unit = unit_of(row)
    causes = unit["causes"] if unit else []
    return next((sorted(c["squares"]) for c in causes if c["mechanism"] == row["mechanism"]), None)


def unsafe_units(surveys: Sequence[Survey]) -> list[tuple[str, Unit]]:
    """The FEN and unit of every unit that is unsafe, alone or together, or can be taken."""
    return [
        (survey["fen"], unit)
        for survey in surveys
        for unit in (*survey["units"], *survey["takings"])
        if unit["status"] in ("unsafe", "unsafe together")
    ]

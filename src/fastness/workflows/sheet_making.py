"""Sheets of exercises from the shelf: chosen by the program or one by one, and laid out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import cast

from fastness.errors import InputError
from fastness.exercises.choice import choose
from fastness.exercises.exercise import Level
from fastness.exercises.shelving import as_candidate, as_exercise
from fastness.publish.sheet import Layout, Sheet, SheetExercise, sheets
from fastness.store import Store, shelf
from fastness.store.shelf import Wanted
from fastness.workflows.shelf_page import ShelfRow, row_of, said_of

MOST = 60
"""Exercises on the sheets of one theme."""


def choose_for_sheet(store: Store, wanted: Wanted, count: int, *, seed: int = 0) -> list[ShelfRow]:
    """A balanced choice of the exercises that fit; another one for another seed.

    Raises InputError where fewer than 1 or more than `MOST` are asked for.
    """
    if count > MOST:
        raise InputError(f"{count} exercises are too many for a sheet; {MOST} at most")
    with store.reading() as session:
        rows = {one.id: one for one in shelf.find(session, wanted)}
        chosen = choose([as_candidate(one) for one in rows.values()], count, seed=seed)
        return [row_of(rows[one.number]) for one in chosen]


def make_sheets(store: Store, theme: str, numbers: Sequence[int], layout: Layout) -> list[Sheet]:
    """The sheets with these exercises in this order, one for each level or all side by side.

    What the teacher said of an exercise is counted, and stands on the answer sheet. Raises
    InputError where there are none or too many, MissingError where one is not there, OptionError
    where the boards do not fit.
    """
    if not 1 <= len(numbers) <= MOST:
        raise InputError(f"a sheet has 1 to {MOST} exercises, not {len(numbers)}")
    with store.reading() as session:
        chosen = []
        for number in dict.fromkeys(numbers):
            row = shelf.numbered(session, number)
            level = cast("Level", row.level)
            chosen.append(SheetExercise(as_exercise(row), level, said_of(row)))
    return sheets(theme, chosen, layout)

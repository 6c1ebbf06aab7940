"""Sheets of exercises from the shelf: chosen by the program or one by one, and laid out."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import cast

from fastness.errors import InputError, TwinError
from fastness.exercises.change_words import twin_in_words
from fastness.exercises.choice import choose, choose_each_level
from fastness.exercises.epd import epd
from fastness.exercises.exercise import LEVELS, Exercise, Level
from fastness.exercises.pgn import pgn
from fastness.exercises.shelving import as_candidate, as_exercise
from fastness.exercises.twin import twin_again
from fastness.language import ENGLISH, Language
from fastness.publish.sheet import Layout, Sheet, SheetExercise, sheets
from fastness.publish.writing import write_files
from fastness.store import Store, shelf
from fastness.store.shelf import Wanted
from fastness.workflows.sheet_files import sheet_files
from fastness.workflows.shelf_page import ShelfRow, is_struck, row_of, said_of

MOST = 60
"""Exercises on the sheets of one theme."""
MOST_OF_A_LEVEL = MOST // len(LEVELS)


def choose_for_sheet(
    store: Store,
    wanted: Wanted,
    count: int,
    *,
    of: Container[int] | None = None,
    seed: int = 0,
    language: Language = ENGLISH,
) -> list[ShelfRow]:
    """A balanced choice of the exercises that fit; another one for another seed.

    `of` are the numbers that are chosen from, None for all.

    Raises InputError where fewer than 1 or more than `MOST` are asked for.
    """
    if count > MOST:
        raise InputError(f"{count} exercises are too many for a sheet; {MOST} at most")
    with store.reading() as session:
        fitting = shelf.find(session, wanted)
        rows = {one.id: one for one in fitting if of is None or one.id in of}
        chosen = choose([as_candidate(one) for one in rows.values()], count, seed=seed)
        return [row_of(rows[one.number], language) for one in chosen]


def make_sheets(store: Store, theme: str, numbers: Sequence[int], layout: Layout) -> list[Sheet]:
    """The sheets with these exercises in this order, one for each level or all side by side.

    What the teacher said of an exercise is counted, and stands on the answer sheet. Raises
    InputError where there are none or too many, MissingError where one is not there, OptionError
    where the boards do not fit.
    """
    if not 1 <= len(numbers) <= MOST:
        raise InputError(f"a sheet has 1 to {MOST} exercises, not {len(numbers)}")
    chosen = [one for _, one in _on_sheet(store, numbers, layout.language)]
    return sheets(theme, chosen, layout)


def _on_sheet(
    store: Store, numbers: Sequence[int], language: Language
) -> list[tuple[int, SheetExercise]]:
    """The exercises of these numbers, each once, with what the teacher said of them."""
    if not 1 <= len(numbers) <= MOST:
        raise InputError(f"a sheet has 1 to {MOST} exercises, not {len(numbers)}")
    with store.reading() as session:
        rows = [shelf.numbered(session, number) for number in dict.fromkeys(numbers)]
        found = [
            (
                row.id,
                SheetExercise(as_exercise(row), cast("Level", row.level), said_of(row, language)),
            )
            for row in rows
        ]
    beside = {(one.level, one.exercise.fen): one.exercise for _, one in found}
    return [
        (number, replace(one, told=_change_in_words(one, beside, language)))
        for number, one in found
    ]


def _change_in_words(
    one: SheetExercise, beside: Mapping[tuple[Level, str], Exercise], language: Language
) -> str:
    """What the change of a twin does, where its position is on the same level's sheet."""
    source = one.exercise.proved.source
    first = beside.get((one.level, source.of)) if source.made == "twin" else None
    if first is None:
        return ""
    try:
        twin = twin_again(first.proved.survey, one.exercise.proved.survey)
    except TwinError:
        return ""
    return twin_in_words(twin, language) if twin else ""


def choose_each(store: Store, wanted: Wanted, count: int, *, seed: int = 0) -> list[int]:
    """The numbers of a balanced choice of so many exercises of each level that fit.

    Raises InputError where fewer than 1 or more than `MOST_OF_A_LEVEL` are asked for, the shelf is
    empty, or nothing on it fits.
    """
    if count > MOST_OF_A_LEVEL:
        raise InputError(f"{count} exercises are too many for a level; {MOST_OF_A_LEVEL} at most")
    with store.reading() as session:
        rows = shelf.find(session, wanted)
        if not rows and not shelf.count(session, Wanted(struck=True)):
            raise InputError("The shelf is empty. Put exercises on it first, with fastness mine.")
        if not rows:
            raise InputError(
                "No exercise on the shelf fits. Ask for less, or look with fastness shelf list."
            )
        chosen = choose_each_level([as_candidate(one) for one in rows], count, seed=seed)
        return [one.number for one in chosen]


def check_not_struck(store: Store, numbers: Sequence[int]) -> None:
    """Raise InputError where an exercise is struck, MissingError where there is none."""
    with store.reading() as session:
        for number in numbers:
            if is_struck(shelf.numbered(session, number)):
                raise InputError(
                    f"Exercise {number} is struck and given to nobody; leave it out, or take the"
                    " correction back with fastness shelf take-back."
                )


@dataclass(frozen=True, slots=True)
class Written:
    """The sheets written: the numbers of the exercises of each level there is, and the files."""

    numbers: dict[Level, tuple[int, ...]]
    files: tuple[Path, ...]


def write_sheets(
    store: Store, folder: Path, theme: str, numbers: Sequence[int], layout: Layout
) -> Written:
    """Write sheets and answers as PDF, and the same exercises as EPD and PGN, to a folder.

    The folder is made where it is not there. Nothing is written before everything is laid out.
    Raises as `make_sheets` does, PrintError where no type face at hand has the letters of a text,
    and FileError where the folder cannot be written.
    """
    found = _on_sheet(store, numbers, layout.language)
    by_level = {
        level: [(number, one) for number, one in found if one.level == level] for level in LEVELS
    }
    named = [
        (f"{level} {at}", one.exercise)
        for level, ones in by_level.items()
        for at, (_, one) in enumerate(ones, 1)
    ]
    made = dict(sheet_files(sheets(theme, [one for _, one in found], layout)))
    made["exercises.epd"] = epd(named).encode()
    made["exercises.pgn"] = pgn(theme, named, layout.language).encode()
    paths = write_files(folder, made)
    told = {level: tuple(number for number, _ in ones) for level, ones in by_level.items() if ones}
    return Written(told, paths)

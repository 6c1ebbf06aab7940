"""`fastness sheet`: sheets of exercises from the shelf."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter
from cyclopts.validators import Number

from fastness.cli.languages import TextLanguage, chosen
from fastness.cli.places import StorePlace, opened
from fastness.cli.shelf_filter import ShelfFilter
from fastness.errors import InputError
from fastness.exercises.exercise import LEVELS
from fastness.exercises.words import level_name
from fastness.language import Language
from fastness.publish.document import Paper
from fastness.publish.sheet import Layout
from fastness.survey.words import capital
from fastness.workflows.sheet_making import (
    MOST_OF_A_LEVEL,
    Written,
    check_not_struck,
    choose_each,
    write_sheets,
)
from fastness.workflows.writable import check_writable

USUAL_COUNT = 6
"""Exercises of a level, where nothing else is asked for."""
LONGEST_TITLE = 120


def sheet(
    *number: int,
    fits: ShelfFilter | None = None,
    count: Annotated[
        int | None,
        Parameter(validator=Number(gte=1, lte=MOST_OF_A_LEVEL), show_default=False),
    ] = None,
    seed: Annotated[int | None, Parameter(validator=Number(gte=0), show_default=False)] = None,
    title: Annotated[str, Parameter(show_default=False)] = "",
    to: Annotated[Path | None, Parameter(show_default=False)] = None,
    side_by_side: Annotated[bool, Parameter(negative=())] = False,
    across: Literal[1, 2, 3] = 2,
    blanks: Annotated[int, Parameter(validator=Number(gte=0, lte=12))] = 0,
    paper: Paper = "a4",
    large: Annotated[bool, Parameter(negative=())] = False,
    own_side_below: Annotated[bool, Parameter(negative=())] = False,
    sources: Annotated[bool, Parameter(negative=())] = False,
    language: TextLanguage = None,
    store: StorePlace = None,
) -> None:
    """Make sheets of exercises from the shelf, at three levels, with their answers.

    A balanced choice is made of the exercises that fit, or those with the numbers given are taken
    in that order. An option that says which exercises may be given several times and asks for any
    of its values.

    Args:
        number: exercises by their numbers on the shelf, instead of a choice.
        fits: which exercises are chosen from.
        count: how many exercises of each level, 6 if nothing is said.
        seed: another number gives another choice; the same number the same one.
        title: what stands at the top, such as the theme.
        to: the folder to write; by default sheet-DATE here.
        side_by_side: all levels in columns of one sheet.
        across: how many boards stand side by side.
        blanks: so many empty boards to fill.
        paper: a4 or us-letter.
        large: large print; each level has a sheet of its own then.
        own_side_below: the side to move is at the bottom of its board.
        sources: the answers say from which game a position is; a game has names in it.
        language: the language of the text; that of LANG if there are texts in it, else English.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    fits = fits or ShelfFilter()
    if number and (fits != ShelfFilter() or count is not None or seed is not None):
        raise InputError("Give the numbers of exercises, or what to choose them by, not both.")
    if len(title) > LONGEST_TITLE:
        raise InputError(f"The title has {len(title)} letters; give at most {LONGEST_TITLE}.")
    wanted, words = fits.wanted(), chosen(language)
    folder = to or Path(f"sheet-{datetime.date.today().isoformat()}")
    check_writable(folder, folder=True)
    layout = Layout(
        side_by_side=side_by_side,
        across=across,
        blanks=blanks,
        paper=paper,
        large=large,
        own_side_below=own_side_below,
        sources=sources,
        language=words,
    )
    with opened(store) as place:
        if number:
            check_not_struck(place, number)
        taken = number or choose_each(place, wanted, count or USUAL_COUNT, seed=seed or 0)
        theme = title.strip() or _theme(fits, words)
        written = write_sheets(place, folder, theme, taken, layout)
    _tell(written, None if number else count or USUAL_COUNT, fits, words)


def _theme(fits: ShelfFilter, language: Language) -> str:
    """The causes asked for, where no title is given."""
    causes = ", ".join(map(language.say, fits.mechanism))
    return capital(causes) or language.say("Exercises")


def _tell(written: Written, count: int | None, fits: ShelfFilter, language: Language) -> None:
    """What stands on the sheets, where there was less than the `count` asked for, and the files."""
    say = language.say
    for level in LEVELS:
        numbers, name = written.numbers.get(level, ()), level_name(level, language)
        listed = ", ".join(map(str, numbers))
        if numbers and len(numbers) < (count or 0):
            print(
                say(
                    "{level}: exercises {numbers}; {count} were asked for, and no others fit that"
                    " differ enough",
                    level=name,
                    numbers=listed,
                    count=count,
                )
            )
        elif numbers:
            print(say("{level}: exercises {numbers}", level=name, numbers=listed))
        elif count and level in (fits.level or LEVELS):
            print(say("{level}: no exercise fits that differs enough from the others", level=name))
    for path in written.files:
        print(path)

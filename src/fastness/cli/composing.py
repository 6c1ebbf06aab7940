"""`fastness compose`: positions on request."""

from __future__ import annotations

import sys
from contextlib import closing
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter
from cyclopts.validators import Number

from fastness.cli.bar import Counting
from fastness.cli.interrupt import stop_at_once
from fastness.cli.languages import TextLanguage, chosen
from fastness.cli.places import StorePlace, opened
from fastness.core.shapes import Mechanism, Side, UnitName, Way
from fastness.exercises.composing import Tally
from fastness.exercises.exercise import Level
from fastness.exercises.request import MOST_HOLDING, Request
from fastness.intake import Problem
from fastness.workflows.composing import composed, composed_in_words, tally_in_words
from fastness.workflows.mining import Mined
from fastness.workflows.mining_to import ExerciseFile, Shelf


def compose(
    *file: str,
    mechanism: Mechanism | None = None,
    unit: UnitName | None = None,
    way: tuple[Way, ...] = (),
    ahead: int | None = None,
    least: int = 1,
    most: int = MOST_HOLDING,
    to_move: Side | None = None,
    level: Level | None = None,
    count: Annotated[int, Parameter(validator=Number(gte=1))] = 6,
    seconds: Annotated[float, Parameter(validator=Number(gt=0))] = 60,
    seed: int = 1,
    to: Path | None = None,
    shelf: bool = False,
    language: TextLanguage = None,
    store: StorePlace = None,
) -> int:
    """Make positions as you ask for them, with firm answers.

    They come from games, as they stand or with one detail changed: from the files given, or from
    games that the program makes up. Ends with status 1 where none was found.

    Args:
        file: PGN files to start from, plain, .gz or .zst; without one, games are made up.
        mechanism: the cause by which something falls.
        unit: what is not safe.
        way: a way by which some move keeps it; give it again for each way that must be among them.
        ahead: how many moves ahead the danger shows.
        least: at least so many moves keep it.
        most: at most so many moves keep it.
        to_move: the side to move.
        level: one of its questions is of this level.
        count: how many positions.
        seconds: how long to look for them.
        seed: made-up games are the same for the same number.
        to: write a file of JSON lines.
        shelf: put the exercises on the shelf.
        language: the language of the text; that of LANG if there are texts in it, else English.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    stop_at_once()
    request = Request(mechanism, unit, frozenset(way), ahead, least, most, to_move, level)
    words = chosen(language)
    tally, bad = Tally(), []

    def told(problem: Problem) -> None:
        bad.append(problem)
        print(f"fastness: {problem.message}", file=sys.stderr)

    search = composed(request, tally, files=file, seed=seed, seconds=seconds, on_problem=told)
    kept = []
    with Counting("Composing", count, shown=sys.stderr.isatty()) as bar, closing(search) as found:
        for one in found:
            kept.append(one)
            bar.advance()
            print(composed_in_words(len(kept), one, words), flush=True)
            if to is not None:
                ExerciseFile(to).keep(Mined(one.proved, one.exercises))
            if len(kept) == count:
                break
    if shelf and kept:
        with opened(store) as place:
            for one in kept:
                Shelf(place).keep(Mined(one.proved, one.exercises))
    print(tally_in_words(tally, len(kept), count, words))
    if any(problem.kind == "error" for problem in bad):
        return 2
    return 0 if kept else 1

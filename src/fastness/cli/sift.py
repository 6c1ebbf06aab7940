"""`fastness sift`: the places to look in many games."""

from __future__ import annotations

import json
import os
import sys
import tempfile
from collections.abc import Generator
from contextlib import closing, suppress
from shutil import copyfileobj
from typing import Annotated, NoReturn

from cyclopts import Parameter
from cyclopts.validators import Number

from fastness.cli import INTERRUPTED, READER_GONE
from fastness.cli.bar import Bar
from fastness.cli.survey import ValuesName
from fastness.errors import InputError
from fastness.intake import Problem
from fastness.sift import Summaries, counted, occasions_page, published, summaries_page
from fastness.workflows.sifting import Sifted, sift_files

Items = Generator[Sifted | Problem, None, None]


def sift(
    *file: Annotated[str, Parameter(allow_leading_hyphen=False)],
    player: str | None = None,
    reach: Annotated[int, Parameter(validator=Number(gte=1, lte=5))] = 3,
    values: ValuesName = "classical",
    offers: bool = True,
    json_: Annotated[bool, Parameter(name="--json", negative="")] = False,
) -> int:
    """Go through games and say where something could be won, what was played, what kept it.

    Args:
        file: PGN files, plain or packed with gzip (.gz) or Zstandard (.zst).
        player: Look at this player's moves only ("Weber, Anna" or "anna weber").
        reach: How many of the opponent's moves to look ahead, 1 to 5.
        values: The table of unit values to count with.
        offers: Tell sacrifices and gambits from faults, which takes longer.
        json_: Print JSON, one object a line, instead of pages.
    """
    if not file:
        raise InputError("No file given. Give one PGN file or more.")
    unknown = [word for word in file if word.startswith("--")]
    if unknown:
        raise InputError(f"Unknown option {unknown[0]}. See: fastness sift --help")
    try:
        with (
            Bar(file, shown=_bar_wanted(json_)) as bar,
            closing(
                sift_files(
                    file,
                    player,
                    reach=reach,
                    values=values,
                    offers=offers,
                    on_progress=bar.advance,
                )
            ) as items,
        ):
            if json_:
                return _print_json(items, bar)
            return _print_pages(items, bar, one_player=player is not None)
    except KeyboardInterrupt:
        _leave(INTERRUPTED)
    except BrokenPipeError:
        _leave(READER_GONE)


def _leave(status: int) -> NoReturn:
    """Leave at once: a usual exit would wait for the games that are still being looked at."""
    with suppress(BrokenPipeError):
        sys.stdout.flush()
    os._exit(status)


def _print_json(items: Items, bar: Bar) -> int:
    status = 0
    for item in items:
        if isinstance(item, Sifted):
            for occasion in item.occasions:
                print(json.dumps(published(occasion)), flush=True)
        elif item.kind == "notice":
            bar.say(item.message)
        else:
            status = 2
            error = {"code": item.code, "message": item.message}
            place = {"file": item.file, "game": item.game, "line": item.line}
            print(json.dumps({**place, "error": error}), flush=True)
    return status


def _print_pages(items: Items, bar: Bar, *, one_player: bool) -> int:
    """The summary stands first and is known last: until then the occasions lie in a file."""
    status = 0
    summaries = Summaries(one_player=one_player)
    stopped = False
    with tempfile.TemporaryFile("w+", encoding="utf-8") as told:
        file = None
        try:
            for item in items:
                if isinstance(item, Problem):
                    status = 2 if item.kind == "error" else status
                    bar.say(item.message)
                    continue
                summaries.add(item.players, item.occasions)
                if item.occasions and item.game.file != file:
                    file = item.game.file
                    told.write(f"Places to look in {file}\n\n")
                told.write(occasions_page(item.occasions, one_player=one_player))
        except KeyboardInterrupt:
            stopped = True
        bar.close()
        if stopped:
            print(
                f"Stopped after {counted(summaries.games, 'game')}; the rest was not looked at.\n"
            )
        print(summaries_page(summaries), end="")
        told.seek(0)
        copyfileobj(told, sys.stdout)
    if stopped:
        raise KeyboardInterrupt
    return status


def _bar_wanted(json_: bool) -> bool:
    # JSON lines on the same terminal would run through the bar.
    return sys.stderr.isatty() and not (json_ and sys.stdout.isatty())

"""`fastness twin`: positions that differ in one detail and want another answer."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter
from cyclopts.validators import Number

from fastness.cli.interrupt import stop_at_once
from fastness.cli.languages import TextLanguage, chosen
from fastness.cli.places import StorePlace
from fastness.cli.twinning import Wishes, twin_many
from fastness.errors import InputError
from fastness.workflows.twinning import twins_data, twins_of, twins_page
from fastness.workflows.twinning_many import is_file

ValuesName = Literal["classical", "turing", "kaufman", "berliner"]


def twin(
    *fen: Annotated[str, Parameter(allow_leading_hyphen=True)],
    moves: Annotated[str, Parameter(show_default=False)] = "",
    count: Annotated[
        int | None, Parameter(validator=Number(gte=1, lte=20), show_default=False)
    ] = None,
    seconds: Annotated[float, Parameter(validator=Number(gt=0))] = 20,
    values: ValuesName = "classical",
    shelf: Annotated[bool, Parameter(negative="", show_default=False)] = False,
    limit: Annotated[int, Parameter(validator=Number(gte=0))] = 0,
    processes: Annotated[int, Parameter(validator=Number(gte=0))] = 0,
    to: Annotated[Path | None, Parameter(show_default=False)] = None,
    store: Annotated[StorePlace, Parameter(show_default=False)] = None,
    language: TextLanguage = None,
    json_: Annotated[bool, Parameter(name="--json", negative="", show_default=False)] = False,
) -> int:
    """Change one detail of a position so that another move is best, and prove it.

    Given files, or --shelf, it looks for twins of many positions, and puts each with its twin on
    the shelf. What was looked at is passed over the next time, so that a stopped run goes on.

    Args:
        fen: The position, as FEN or EPD, in quotes or not. Something must be in danger in it, and
            some moves, but not all, must keep it. Or files: .pgn with games, .epd or .fen with a
            position a line, plain, .gz or .zst.
        moves: Moves in SAN or UCI to play from the position first.
        count: How many twins to look for, 3 of one position and 1 of each of many; each changes
            another piece or pawn.
        seconds: How long to look for them.
        values: The table of unit values to count with.
        shelf: Look for twins of all positions on the shelf.
        limit: Of many positions: stop after so many with a twin; 0 goes through all.
        processes: How many cores to use for many positions; 0 for all.
        to: Write the twins of many positions to a folder of sheets, answers, EPD and PGN, or to a
            file of JSON lines (.jsonl), instead of the shelf.
        store: The store's file or PostgreSQL URL; by default one of your own.
        language: The language of the text; that of LANG if there are texts in it, else English.
        json_: Print JSON instead of a page.
    """
    unknown = [word for word in fen if word.startswith("--")]
    if unknown:
        raise InputError(f"Unknown option {unknown[0]}. See: fastness twin --help")
    if shelf or any(map(is_file, fen)):
        if moves or json_:
            raise InputError("--moves and --json are for one position, not for files or the shelf.")
        if shelf and fen:
            raise InputError("Give files, or --shelf, not both.")
        if not all(map(is_file, fen)):
            raise InputError("Give one position or files, not both.")
        wishes = Wishes(count or 1, seconds, values, limit, processes)
        return twin_many(fen, wishes, chosen(language), shelf=shelf, to=to, store=store)
    if to or limit or processes or store:
        raise InputError("--to, --limit, --processes and --store are for files or the shelf.")
    if not fen:
        raise InputError("No position given. Give a FEN, files, or --shelf.")
    stop_at_once()
    words = chosen(language)
    found = twins_of(" ".join(fen), moves, count=count or 3, seconds=seconds, values=values)
    if json_:
        print(json.dumps(twins_data(found, words)))
    else:
        print(twins_page(found, words), end="")
    return 0

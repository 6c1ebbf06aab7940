"""`fastness twin`: positions that differ in one detail and want another answer."""

from __future__ import annotations

import json
import os
from typing import Annotated, Literal

from cyclopts import Parameter
from cyclopts.validators import Number

from fastness.cli.interrupt import stop_at_once
from fastness.errors import InputError
from fastness.language import LanguageName, preferred
from fastness.language import language as language_of
from fastness.workflows.twinning import twins_data, twins_of, twins_page

ValuesName = Literal["classical", "turing", "kaufman", "berliner"]


def twin(
    *fen: Annotated[str, Parameter(allow_leading_hyphen=True)],
    moves: Annotated[str, Parameter(show_default=False)] = "",
    count: Annotated[int, Parameter(validator=Number(gte=1, lte=20))] = 3,
    seconds: Annotated[float, Parameter(validator=Number(gt=0))] = 20,
    values: ValuesName = "classical",
    language: Annotated[LanguageName | None, Parameter(show_default=False)] = None,
    json_: Annotated[bool, Parameter(name="--json", negative="", show_default=False)] = False,
) -> int:
    """Change one detail of a position so that another move is best, and prove it.

    Args:
        fen: The position, as FEN or EPD, in quotes or not. Something must be in danger in it, and
            some moves, but not all, must keep it.
        moves: Moves in SAN or UCI to play from the position first.
        count: How many twins to look for; each changes another piece or pawn.
        seconds: How long to look for them.
        values: The table of unit values to count with.
        language: The language of the text; that of LANG if there are texts in it, else English.
        json_: Print JSON instead of a page.
    """
    stop_at_once()
    if not fen:
        raise InputError("No position given. Give a FEN.")
    unknown = [word for word in fen if word.startswith("--")]
    if unknown:
        raise InputError(f"Unknown option {unknown[0]}. See: fastness twin --help")
    words = language_of(language or preferred(os.environ))
    found = twins_of(" ".join(fen), moves, count=count, seconds=seconds, values=values)
    if json_:
        print(json.dumps(twins_data(found, words)))
    else:
        print(twins_page(found, words), end="")
    return 0

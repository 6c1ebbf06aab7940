"""`fastness survey`: what stands in a position."""

from __future__ import annotations

import io
import json
import sys
from collections.abc import Iterator, Sequence
from typing import Annotated, Literal

from cyclopts import Parameter
from cyclopts.validators import Number

from fastness.cli.interrupt import stop_at_once
from fastness.cli.languages import TextLanguage, chosen
from fastness.core.shapes import Way
from fastness.errors import InputError, PositionError
from fastness.language import Language
from fastness.survey import order_of_ways
from fastness.workflows.surveying import Reader, Row, survey_lines, survey_position, text_for

RULE = "=" * 88
"""What stands between two pages."""

ValuesName = Literal["classical", "turing", "kaufman", "berliner"]


def survey(
    *fen: Annotated[str, Parameter(allow_leading_hyphen=True)],
    reach: Annotated[int, Parameter(validator=Number(gte=1, lte=5))] = 3,
    firm: Annotated[bool | None, Parameter(show_default=False)] = None,
    moves: Annotated[str, Parameter(show_default=False)] = "",
    values: ValuesName = "classical",
    ranks: Annotated[bool | None, Parameter(show_default=False)] = None,
    ways: Annotated[str, Parameter(show_default=False)] = "",
    for_: Annotated[Reader, Parameter(name="--for")] = "teacher",
    language: TextLanguage = None,
    json_: Annotated[bool, Parameter(name="--json", negative="", show_default=False)] = False,
) -> int:
    """Say what can be won in a position, why, which moves keep it, and which tries fail.

    Args:
        fen: The position, as FEN or EPD, in quotes or not; or - to read one a line.
        reach: How many of the opponent's moves to look ahead, 1 to 5.
        firm: Check the verdict of every move one move deeper as well; as with ranks, left out with
            - unless it is asked for.
        moves: Moves in SAN or UCI to play from the position first, so that a trade in progress
            is judged from its start.
        values: The table of unit values to count with.
        ranks: Tell the better ways from the others, which takes a second or two for each
            position; left out with - unless it is asked for.
        ways: The ways you prefer, the first one first, such as "move,block": moves of one rank are
            listed in that order. The usual one is capture, move, block, guard, counterattack.
        for_: Who reads it: a page for the teacher, a few plain sentences for the student, or one
            line for a list.
        language: The language of the text; that of LANG if there are texts in it, else English.
        json_: Print JSON, one object a line, instead of pages.
    """
    stop_at_once()
    if not fen:
        raise InputError("No position given. Give a FEN, or - to read one FEN or EPD a line.")
    unknown = [word for word in fen if word.startswith("--")]
    if unknown:
        raise InputError(f"Unknown option {unknown[0]}. See: fastness survey --help")
    order = order_of_ways(ways)
    words = chosen(language)
    if fen == ("-",):
        if moves:
            raise InputError("--moves goes with one position; it cannot be used with -.")
        rows = survey_lines(
            _lines(), reach=reach, firm=bool(firm), values=values, ranks=bool(ranks)
        )
        return _print_json(rows) if json_ else _print_texts(rows, for_, words, order)
    answer = survey_position(
        " ".join(fen),
        moves,
        reach=reach,
        firm=firm is not False,
        values=values,
        ranks=ranks is not False,
    )
    if json_:
        print(json.dumps(answer))
    else:
        print(text_for(for_, answer, words, moves_given=bool(moves.strip()), order=order), end="")
    return 0


def _lines() -> Iterator[str]:
    # A byte that is not UTF-8 makes its own line a bad one, not the whole input.
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(encoding="utf-8", errors="replace")
    yield from sys.stdin


def _print_json(rows: Iterator[Row]) -> int:
    status = 0
    for row in rows:
        if isinstance(row.answer, PositionError):
            status = 2
            error = {"code": row.answer.code, "message": row.answer.message}
            print(json.dumps({"line": row.line, "error": error}), flush=True)
        else:
            print(json.dumps(row.answer), flush=True)
    return status


def _print_texts(rows: Iterator[Row], reader: Reader, words: Language, order: Sequence[Way]) -> int:
    """Prints each answer under the number of its line; one that is a line itself, behind it."""
    status = 0
    printed = False
    for row in rows:
        if isinstance(row.answer, PositionError):
            status = 2
            print(f"fastness: line {row.line}: {row.answer.message}", file=sys.stderr)
            continue
        text = text_for(reader, row.answer, words, order=order)
        if reader == "line":
            print(f"{row.line}: {text}", end="", flush=True)
            continue
        if printed:
            print(f"{RULE}\n")
        head = words.say("Line {number}", number=row.line)
        print(f"{head}\n{text}", flush=True)
        printed = True
    return status

"""`fastness second-opinion`: another program's moves beside the survey."""

from __future__ import annotations

import json
import shlex
import shutil
import sys
from collections.abc import Iterable, Iterator
from itertools import islice
from typing import Annotated

import chess
from cyclopts import Parameter
from cyclopts.validators import Number

from fastness import core
from fastness.cli import BAD_INPUT
from fastness.cli.languages import TextLanguage, chosen
from fastness.errors import InputError
from fastness.exercises.exercise import Source
from fastness.intake import Problem
from fastness.language import Language
from fastness.workflows.analyser import NODES, PATIENCE, RESTARTS, Analyser, Limits
from fastness.workflows.second_opinion import MARGIN, second_opinions
from fastness.workflows.second_opinion_page import as_data, summary, told
from fastness.workflows.surveying import read_position
from fastness.workflows.twinning_many import Place, is_file, places_in


def second_opinion(
    *fen: Annotated[str, Parameter(allow_leading_hyphen=True)],
    analyser: str,
    nodes: Annotated[int, Parameter(validator=Number(gte=1))] = NODES,
    seconds: Annotated[float | None, Parameter(validator=Number(gt=0), show_default=False)] = None,
    patience: Annotated[float, Parameter(validator=Number(gt=0))] = PATIENCE,
    restarts: Annotated[int, Parameter(validator=Number(gte=0))] = RESTARTS,
    margin: Annotated[int, Parameter(validator=Number(gte=1))] = MARGIN,
    limit: Annotated[int, Parameter(validator=Number(gte=0))] = 0,
    language: TextLanguage = None,
    json_: Annotated[bool, Parameter(name="--json", negative="", show_default=False)] = False,
) -> int:
    """Compare the survey with what another program that speaks UCI would play.

    The exit status is 1 where they disagree, and 2 where the analyser was given up.

    Args:
        fen: The position, as FEN or EPD, in quotes or not. Or files: .pgn with games, of which
            positions are taken where something is in danger, .epd or .fen with a position a line;
            plain, .gz or .zst.
        analyser: The program to ask, by its path; in quotes, with the words it is started with.
        nodes: How many nodes it is given for each question.
        seconds: How many seconds it is given for each question, instead of nodes.
        patience: How many seconds it is waited for besides.
        restarts: How often it is started again after it failed, in all.
        margin: By how many centipawns it has to prefer its own move to count as a disagreement.
        limit: Stop after so many positions; 0 goes through all.
        language: The language of the text; that of LANG if there are texts in it, else English.
        json_: Print JSON, one object a position, instead of text.
    """
    unknown = [word for word in fen if word.startswith("--")]
    if unknown:
        raise InputError(f"Unknown option {unknown[0]}. See: fastness second-opinion --help")
    places = _places(fen)
    with Analyser(_command(analyser), Limits(nodes, seconds, patience, restarts)) as asked:
        return _compare(
            islice(places, limit) if limit else places, asked, margin, chosen(language), json_
        )


def _command(text: str) -> list[str]:
    """The program and its words; a path with blanks in it is taken as it stands."""
    if shutil.which(text):
        return [text]
    try:
        return shlex.split(text)
    except ValueError as error:
        raise InputError(f"--analyser {text!r} cannot be read: {error}.") from error


def _places(words: tuple[str, ...]) -> Iterator[Place | Problem]:
    if not words:
        raise InputError("No position given. Give a FEN, or files of games or positions.")
    files = [is_file(word) for word in words]
    if all(files):
        return places_in(words)
    if any(files):
        raise InputError("Give one position or files, not both.")
    fen = read_position(" ".join(words))
    core.unsafe_units(fen, reach=1)
    if not any(chess.Board(fen).legal_moves):
        raise InputError("There is no move to compare: the game is over in this position.")
    return iter([Place(fen, Source("composed"))])


def _compare(
    places: Iterable[Place | Problem],
    asked: Analyser,
    margin: int,
    language: Language,
    as_json: bool,
) -> int:
    compared = disagreeing = troubled = wrong = 0
    for item in second_opinions(places, asked, margin=margin):
        if isinstance(item, Problem):
            wrong += 1
            print(f"fastness: {item.message}", file=sys.stderr)
            continue
        troubled += bool(item.trouble)
        compared += not item.trouble
        disagreeing += bool(item.disagreements)
        text = told(compared + troubled, item, language)
        if as_json:
            print(json.dumps(as_data(item)), flush=True)
        elif text:
            print(text, flush=True)
    asked.close()
    # With JSON the count goes beside the data, not into it.
    end = summary(compared, disagreeing, troubled, asked, language)
    print(end, end="", file=sys.stderr if as_json else sys.stdout)
    if disagreeing:
        return 1
    return BAD_INPUT if asked.given_up or wrong or not compared else 0

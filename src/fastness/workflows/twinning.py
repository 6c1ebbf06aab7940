"""Twins of a position: found, and told as a page or as data."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import chess

from fastness import core
from fastness.core.shapes import Survey
from fastness.exercises.change_words import change_in_words, twin_in_words
from fastness.exercises.remedy import remedy_of
from fastness.exercises.twin import Twin
from fastness.exercises.twins import REACH, Search, find_twins
from fastness.language import ENGLISH, Language
from fastness.survey.diagram import RING, diagram
from fastness.survey.lines import move_name, wrapped
from fastness.survey.ways import way_name
from fastness.workflows.surveying import read_moves, read_position


@dataclass(frozen=True, slots=True)
class Twins:
    """The survey of a position, firm and ranked, and the search for its twins."""

    survey: Survey
    search: Search


def twins_of(
    text: str,
    moves: str = "",
    *,
    count: int = 3,
    seconds: float = 20,
    values: str = "classical",
    clock: Callable[[], float] = time.monotonic,
) -> Twins:
    """Twins of the position given as FEN or EPD, after `moves` (SAN or UCI) are played from it.

    `seconds` is the time for the search, that for the position's own survey not included. `clock`
    is asked often; what it raises ends the search.

    Raises:
        PositionError: the position cannot be read or cannot stand on a board.
        MoveError: a move cannot be read, is ambiguous or is not legal where it stands.
        TwinError: the position has no remedy to turn.
    """
    fen = read_position(text)
    played = read_moves(fen, moves)
    survey = core.survey(
        fen, moves=played, reach=REACH, firm=True, values=values, rank_nodes=core.RANK_NODES
    )
    return Twins(survey, find_twins(survey, count=count, seconds=seconds, clock=clock))


def twins_page(found: Twins, language: Language = ENGLISH) -> str:
    """The twins for the teacher: each with its diagram, its FEN and what the change does."""
    say, survey, search = language.say, found.survey, found.search
    parts = [f"{survey['fen']}\n{best_in_words(survey, language)}"]
    for number, twin in enumerate(search.twins, 1):
        title = say("Twin {number}", number=number)
        shown = diagram(twin.fen, dict.fromkeys(changed(twin), RING), language=language)
        told = wrapped(twin_in_words(twin, language), indent=0)
        parts.append(f"{title}: {twin.fen}\n\n{shown}\n\n{told}")
    if not search.twins:
        parts.append(wrapped(_none_found(search, language), indent=0))
    return "\n\n".join(parts) + "\n"


def best_in_words(survey: Survey, language: Language = ENGLISH) -> str:
    """The best remedy of a firm and ranked survey, with its way, as a sentence.

    Raises TwinError where the position has no remedy to turn.
    """
    remedy = remedy_of(survey)
    return language.say(
        "Best here: {move} ({way}).",
        move=move_name(chess.Board(survey["fen"]), remedy.lead, language),
        way=way_name(remedy.way, language),
    )


@dataclass(frozen=True, slots=True)
class TwinTold:
    """A twin in words: what was changed, what it does, the squares changed, the better moves."""

    fen: str
    changed: str
    told: str
    squares: tuple[str, ...]
    better: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TwinsTold:
    """The twins of a position in words; `none_found` says so, and is empty where there are some."""

    best: str
    twins: tuple[TwinTold, ...]
    none_found: str


def told_twins(found: Twins, language: Language = ENGLISH) -> TwinsTold:
    """The twins one by one, for a page to lay out."""
    told = []
    for twin in found.search.twins:
        board = chess.Board(twin.fen)
        told.append(
            TwinTold(
                fen=twin.fen,
                changed=change_in_words(twin.edit, language),
                told=twin_in_words(twin, language),
                squares=changed(twin),
                better=tuple(move_name(board, move, language) for move in twin.better),
            )
        )
    none_found = "" if told else _none_found(found.search, language)
    return TwinsTold(best_in_words(found.survey, language), tuple(told), none_found)


def changed(twin: Twin) -> tuple[str, ...]:
    """The squares of the units changed, so that they are seen at a glance."""
    return tuple(unit.now for unit in twin.edit.units if unit.now)


def _none_found(search: Search, language: Language) -> str:
    if search.ended:
        return language.say(
            "No twin found: {number} changes of one detail were tried.", number=search.screened
        )
    return language.say(
        "No twin found in the time given: {number} of {all} changes of one detail were tried. Give"
        " more seconds.",
        number=search.screened,
        all=search.changes,
    )


def twins_data(found: Twins, language: Language = ENGLISH) -> dict[str, Any]:
    """The twins as data: the position, its best moves, and each twin with its change and survey."""
    remedy, search = remedy_of(found.survey), found.search
    return {
        "fen": found.survey["fen"],
        "lead": remedy.lead,
        "leading": list(remedy.leading),
        "changes": search.changes,
        "screened": search.screened,
        "ended": search.ended,
        "twins": [_twin_data(twin, language) for twin in search.twins],
    }


def _twin_data(twin: Twin, language: Language) -> dict[str, Any]:
    return {
        "fen": twin.fen,
        "change": twin.edit.change,
        "units": [
            {"unit": unit.unit, "before": unit.before, "now": unit.now} for unit in twin.edit.units
        ],
        "changed": change_in_words(twin.edit, language),
        "lead": twin.lead,
        "lead_falls": twin.falls,
        "line": twin.verdict(twin.lead)["line"],
        "better": list(twin.better),
        "text": twin_in_words(twin, language),
        "survey": twin.survey,
    }

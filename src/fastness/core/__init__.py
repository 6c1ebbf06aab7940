"""The typed Python face of the compiled core; nothing else may import `_native`.

Every call releases the GIL while it works. Values are in centipawns, moves in UCI notation.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Literal, cast

from fastness.core import _native
from fastness.core._native import version
from fastness.core.shapes import Look, Survey
from fastness.errors import PositionError

__all__ = [
    "OFFER_NODES",
    "RANK_NODES",
    "exchange_counts",
    "look",
    "measure",
    "measure_holds",
    "moves_a_second",
    "screen",
    "survey",
    "survey_many",
    "uci",
    "unsafe_units",
    "values_names",
    "version",
]


RANK_NODES = 50_000
"""Nodes a move by which moves that hold are ranked."""
OFFER_NODES = 500_000
"""Nodes for each of the two evaluations that tell an offer from a fault."""


def values_names() -> tuple[str, ...]:
    """The names of the tables of unit values, the default first."""
    return tuple(_native.values_names())


def survey(
    fen: str,
    *,
    moves: Sequence[str] = (),
    reach: int = 3,
    firm: bool = False,
    values: str = "classical",
    rank_nodes: int = 0,
    landing: str = "",
) -> Survey:
    """The survey of the position that `moves` (UCI) lead to from `fen`.

    A trade in progress is judged from its start. `reach` is the number of opponent moves
    searched, 1 to 5; `firm` judges every move one reach deeper as well. `rank_nodes` is how many
    nodes of the evaluation's search rank each move that holds, `RANK_NODES` where a page is made;
    with 0 nothing is ranked, and the tables of values are not compared. With `landing`, a square,
    only the moves that land there are judged.

    Raises:
        PositionError: the FEN cannot be read or cannot stand on a board.
        MoveError: a move is not legal where it stands.
        OptionError: the reach, the table of values or the square does not exist.
    """
    text = _native.survey(fen, list(moves), reach, firm, values, rank_nodes, landing)
    return cast("Survey", json.loads(text))


def survey_many(
    rows: Sequence[tuple[str, Sequence[str]]],
    *,
    reach: int = 3,
    firm: bool = False,
    values: str = "classical",
    rank_nodes: int = 0,
    threads: int = 0,
) -> list[Survey | PositionError]:
    """The surveys of many positions (FEN and moves in UCI), in the order of the rows.

    Over `threads` threads, 0 for one a core. A bad row gives its error, the rest is answered.

    Raises:
        OptionError: the reach or the table of values does not exist.
    """
    plain = [(fen, list(moves)) for fen, moves in rows]
    return [
        cast("Survey", json.loads(text)) if done else PositionError(text, message)
        for done, text, message in _native.survey_many(
            plain, reach, firm, values, rank_nodes, threads
        )
    ]


def screen(
    games: Sequence[tuple[str, Sequence[str]]], *, values: str = "classical", threads: int = 0
) -> list[list[int] | PositionError]:
    """For each game the smallest reach, 1 or 2, with danger before each of its moves.

    A game is a start as FEN and its moves in UCI notation; 0 stands where nothing shows, and in
    check. It is meant to choose positions that are worth a survey. Over `threads` threads, 0 for
    one a core. A bad game gives its error, the rest is answered.

    Raises:
        OptionError: the table of values does not exist.
    """
    plain = [(fen, list(moves)) for fen, moves in games]
    return [
        PositionError(code, message) if code else reaches
        for reaches, code, message in _native.screen(plain, values, threads)
    ]


def look(
    start_fen: str,
    moves: Sequence[str],
    *,
    colours: Literal["white", "black", "both"] = "both",
    reach: int = 3,
    values: str = "classical",
    offer_nodes: int = 0,
) -> list[Look]:
    """One look for each move of these colours in a game of UCI moves from `start_fen`.

    `offer_nodes` is how many nodes each evaluation takes that tells an offer from a fault,
    `OFFER_NODES` where that matters; with 0 offers are not told.

    Raises:
        PositionError: the FEN cannot be read or cannot stand on a board.
        MoveError: a move is not legal where it stands.
        OptionError: the reach or the table of values does not exist.
    """
    text = _native.look(start_fen, list(moves), colours, reach, values, offer_nodes)
    return cast("list[Look]", json.loads(text))


def measure(
    fens: Sequence[str], *, reach: int = 3, values: str = "classical"
) -> list[tuple[int, float]]:
    """Positions visited and seconds taken by the survey of each position, on one thread."""
    return _native.measure(list(fens), reach, values)


def measure_holds(
    fens: Sequence[str], *, reach: int = 3, values: str = "classical"
) -> list[tuple[int, float]]:
    """Positions visited and seconds taken by the bare verdict on every legal move."""
    return _native.measure_holds(list(fens), reach, values)


def moves_a_second(plies: int = 5) -> float:
    """Legal moves a second that this machine counts from the start position, on one thread.

    Times do not travel from machine to machine; this rate is printed beside them.
    """
    return _native.moves_a_second(plies)


def exchange_counts(fen: str, *, values: str = "classical") -> dict[str, int]:
    """The exchange count of every legal capture, in centipawns by UCI text."""
    return dict(_native.exchange_counts(fen, values))


def unsafe_units(fen: str, *, reach: int = 3, values: str = "classical") -> tuple[str, ...]:
    """The squares of the units that are unsafe, alone or together, and nothing more.

    The same squares as a survey of that reach tells, in a fraction of its time; none in check.

    Raises:
        PositionError: the FEN cannot be read or cannot stand on a board.
        OptionError: the reach or the table of values does not exist.
    """
    return tuple(_native.unsafe_units(fen, reach, values))


def uci() -> None:
    """Answer a UCI client on standard input and output until `quit` or the end of the input.

    Ctrl-C is heard only where the signal ends the process by itself.

    Raises:
        OSError: the input cannot be read, or the client no longer listens (`BrokenPipeError`).
    """
    _native.uci()

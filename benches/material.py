"""The positions and games that are measured."""

from __future__ import annotations

import random
from pathlib import Path

import chess

from fastness.errors import FileError
from fastness.intake import Game, read_games

ROOT = Path(__file__).parents[1]
POSITIONS = ROOT / "tests" / "data" / "historic-positions.fen"
GAMES = ROOT / "tests" / "data" / "historic.pgn"
SEED = 200
GAME_MOVES = 40


def positions(count: int) -> list[str]:
    """A seeded sample of the historic positions, as FEN; a smaller one begins a larger one."""
    fens = POSITIONS.read_text(encoding="utf-8").split("\n")
    distinct = sorted({fen for fen in fens if fen})
    random.Random(SEED).shuffle(distinct)
    return distinct[:count]


def games(path: Path, count: int) -> list[Game]:
    """The first games of at least 40 moves from the usual start.

    Raises:
        FileError: the file has no such game.
    """
    found: list[Game] = []
    for item in read_games(path):
        if not isinstance(item, Game) or item.start_fen != chess.STARTING_FEN:
            continue
        if len(item.moves) >= 2 * GAME_MOVES:
            found.append(item)
        if len(found) == count:
            break
    if not found:
        raise FileError(f"{path} has no game of {GAME_MOVES} moves or more that could be measured")
    return found

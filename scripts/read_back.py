"""Whether every exercise of a shelf, as EPD and as PGN, reads back to the same positions.

Usage: python -m scripts.read_back STORE.sqlite

The readers are PyPI `chess` and the Rust crate `pgn-reader` for PGN, and PyPI `chess` and the core
for EPD. Exit status 1 if a position differs.
"""

from __future__ import annotations

import io
import json
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import chess
import chess.pgn

from fastness import core
from fastness.exercises.epd import epd
from fastness.exercises.exercise import Exercise
from fastness.exercises.pgn import pgn
from fastness.exercises.shelving import as_exercise
from fastness.store import open_store, shelf
from fastness.workflows.surveying import read_position
from tests.judge.plain import built

Named = Sequence[tuple[str, Exercise]]


def of_store(path: Path) -> list[tuple[str, Exercise]]:
    """The exercises of a store with their numbers."""
    with open_store(path).reading() as session:
        return [(str(row.id), as_exercise(row)) for row in shelf.find(session)]


def positions(game: chess.pgn.Game) -> list[str]:
    """The position at the start and after every move, those of the variations as well."""
    found, below = [], [game.game()]
    while below:
        node: chess.pgn.GameNode = below.pop()
        found.append(node.board().fen())
        below.extend(node.variations)  # type: ignore[arg-type]
    return found


def differing_in_pgn(named: Named) -> tuple[int, list[str]]:
    """How many positions both readers found, and the names of the exercises where they differ."""
    text = pgn("Exercises", named)
    done = subprocess.run(
        [built("read_pgn")], input=text.encode("latin-1"), capture_output=True, check=True
    )
    told = [json.loads(line) for line in done.stdout.splitlines()]
    file, wrong = io.StringIO(text), [] if len(told) == len(named) else ["the number of games"]
    for (name, exercise), found in zip(named, told, strict=False):
        game = chess.pgn.read_game(file)
        if (
            game is None
            or game.errors
            or isinstance(found, dict)
            or found[0] != exercise.fen
            or sorted(found) != sorted(positions(game))
        ):
            wrong.append(name)
    return sum(map(len, told)), wrong


def differing_in_epd(named: Named) -> list[str]:
    """The names of the exercises whose line is another position to a reader."""
    wrong = []
    for (name, exercise), line in zip(named, epd(named).splitlines(), strict=True):
        board = chess.Board()
        same = board.set_epd(line)["id"] == name and board.fen(en_passant="fen") == exercise.fen
        if not same or core.survey(read_position(line), reach=1)["fen"] != exercise.fen:
            wrong.append(name)
    return wrong


def main() -> int:
    """Read all back and print what differs."""
    named = of_store(Path(sys.argv[1]))
    number, in_pgn = differing_in_pgn(named)
    in_epd = differing_in_epd(named)
    print(f"PGN: {len(named)} games, {number} positions, differing {len(in_pgn)} {in_pgn[:9]}")
    print(f"EPD: {len(named)} lines, differing {len(in_epd)} {in_epd[:9]}")
    return 1 if in_pgn or in_epd else 0


if __name__ == "__main__":
    sys.exit(main())

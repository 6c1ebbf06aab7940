"""Take a seeded sample of positions from a PGN file: one FEN a line, in the order of the games.

Usage: python scripts/positions_from_games.py GAMES.pgn OUT.fen [--count N] [--seed N]

tests/data/historic-positions.fen comes from tests/data/historic.pgn with the defaults.
"""

from __future__ import annotations

import argparse
import random
from collections.abc import Iterator
from pathlib import Path

import chess
import chess.pgn


def positions(games: Path) -> Iterator[str]:
    """Every position of every game's main line in which somebody can move, as FEN."""
    with games.open(encoding="utf-8") as text:
        while (game := chess.pgn.read_game(text)) is not None:
            for node in [game, *game.mainline()]:
                board = node.board()
                if board.is_valid() and any(board.legal_moves):
                    yield board.fen()


def sample(fens: Iterator[str], count: int, seed: int) -> list[str]:
    """Up to `count` different positions, in their order in the games."""
    distinct = list(dict.fromkeys(fens))
    chosen = random.Random(seed).sample(range(len(distinct)), min(count, len(distinct)))
    return [distinct[index] for index in sorted(chosen)]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("games", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--count", type=int, default=1200)
    parser.add_argument("--seed", type=int, default=1858)
    args = parser.parse_args()
    chosen = sample(positions(args.games), args.count, args.seed)
    args.out.write_text("".join(f"{fen}\n" for fen in chosen), encoding="utf-8")


if __name__ == "__main__":
    main()

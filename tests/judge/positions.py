"""The positions that the claims are judged on: from historic games, all seeded."""

import random
from pathlib import Path

import chess
import chess.pgn

from tests.checks.replay import base_of

DATA = Path(__file__).parents[1] / "data"
SEED = 4
FROM_GAMES = 1050

Row = tuple[str, tuple[str, ...]]
"""A FEN and the UCI moves since."""


def games() -> list[Row]:
    """Positions a seeded number of plies into the historic games, with the moves that led there."""
    found: list[Row] = []
    chance = random.Random(SEED)
    with (DATA / "historic.pgn").open(encoding="utf-8") as file:
        while game := chess.pgn.read_game(file):
            moves = [move.uci() for move in game.mainline_moves()]
            start = game.board().fen()
            plies = sorted(chance.sample(range(1, len(moves)), min(8, len(moves) - 1)))
            found += [(start, tuple(moves[:ply])) for ply in plies]
    return chance.sample(found, FROM_GAMES)


def rows() -> list[Row]:
    """Every position of the table, bare, and those of the games, trades in progress included."""
    fens = (DATA / "historic-positions.fen").read_text("ascii").splitlines()
    return [*((fen, ()) for fen in fens), *games()]


def base(row: Row) -> int:
    """The balance that the opponent of the side to move is measured from, in centipawns."""
    fen, moves = row
    board = chess.Board(fen)
    for uci in moves:
        board.push_uci(uci)
    white = base_of(fen, moves)
    return white if board.turn == chess.BLACK else -white

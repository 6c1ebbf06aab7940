"""The positions that the checks are tried on, all seeded."""

import random
from collections.abc import Sequence
from pathlib import Path

import chess

HISTORIC = Path(__file__).parents[1] / "data" / "historic-positions.fen"


def historic() -> list[str]:
    """Positions of the historic games, one in a few moves."""
    return HISTORIC.read_text(encoding="utf-8").splitlines()


def random_play(games: int, seed: int) -> list[str]:
    """Ten positions of each of so many games of random moves, none of them over."""
    chance = random.Random(seed)
    found = []
    for _ in range(games):
        board = chess.Board()
        plies = sorted(chance.sample(range(4, 120), 10))
        for ply in range(plies[-1] + 1):
            moves = list(board.legal_moves)
            if not moves:
                break
            if ply in plies:
                found.append(board.fen())
            board.push(chance.choice(moves))
    return found


def few_men(men: str, count: int, seed: int, *, claims: bool = False) -> list[str]:
    """`count` legal positions of these men, such as ``KRk``; no castling, no en passant.

    With `claims`, the kings stand at most three files and ranks apart, so that short mates occur.
    """
    chance = random.Random(f"{men} {seed}")
    found: list[str] = []
    while len(found) < count:
        board = chess.Board(None)
        for man, square in zip(men, chance.sample(range(64), len(men)), strict=True):
            board.set_piece_at(square, chess.Piece.from_symbol(man))
        board.turn = chance.random() < 0.5
        if board.is_valid() and not (claims and apart(board) > 3):
            found.append(board.fen())
    return found


def apart(board: chess.Board) -> int:
    kings = [board.king(chess.WHITE), board.king(chess.BLACK)]
    assert kings[0] is not None
    assert kings[1] is not None
    return chess.square_distance(kings[0], kings[1])


def sample(rows: Sequence[str], count: int, seed: int) -> list[str]:
    return random.Random(seed).sample(list(rows), count)


def passed(fen: str) -> chess.Board:
    """The board after the side to move passes; en passant rights lapse."""
    board = chess.Board(fen)
    board.push(chess.Move.null())
    return board

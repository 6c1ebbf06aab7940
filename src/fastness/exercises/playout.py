"""Generated positions: games that two careful beginners might play, by the dice.

Each move is drawn from those that lose nothing looking one move ahead, and now and then from all;
a rule of thumb of this project, without a source. They are starts for composing, no games.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence

import chess

from fastness import core
from fastness.core.shapes import MoveVerdict

LONGEST = 70
"""Plies of a generated game."""
CARELESS = 0.12
"""How often a move is drawn from all that are legal."""
_PULLS = ((4.0, chess.KNIGHT), (4.0, chess.BISHOP), (1.0, chess.ROOK), (0.7, chess.QUEEN))
CASTLES = 20.0
CAPTURES = 3.0
CENTRE_PAWN = 3.0
KING_WALKS = 0.05
HOME_AGAIN = 0.1


def generated_games(seed: int) -> Iterator[tuple[str, ...]]:
    """Games without end, each as UCI moves from the usual start; the same for the same seed."""
    number = 0
    while True:
        number += 1
        yield _game(random.Random(f"{seed} {number}"))


def _game(dice: random.Random) -> tuple[str, ...]:
    board = chess.Board()
    moves: list[str] = []
    while len(moves) < LONGEST and not board.is_game_over():
        verdicts = core.survey(board.fen(), reach=1)["moves"]
        careful = [move for move in verdicts if move["holds"]]
        pool = verdicts if not careful or dice.random() < CARELESS else careful
        chosen = dice.choices(pool, [_pull(board, move) for move in pool])[0]
        moves.append(chosen["uci"])
        board.push_uci(chosen["uci"])
    return tuple(moves)


def _pull(board: chess.Board, verdict: MoveVerdict) -> float:
    """How likely a move is to be drawn beside the others: what beginners are taught goes first."""
    move = chess.Move.from_uci(verdict["uci"])
    if board.is_castling(move):
        return CASTLES
    pull = CAPTURES if board.is_capture(move) else 1.0
    kind = board.piece_type_at(move.from_square)
    if kind == chess.PAWN:
        return pull * (CENTRE_PAWN if chess.square_file(move.to_square) in (3, 4) else 0.6)
    if _at_home(move.from_square, board.turn):
        return pull * next((more for more, of in _PULLS if of == kind), KING_WALKS)
    return pull * (HOME_AGAIN if _at_home(move.to_square, board.turn) else 1.0)


def _at_home(square: chess.Square, colour: chess.Color) -> bool:
    return chess.square_rank(square) == (0 if colour else 7)


def starts_in(
    moves: Sequence[str], start_fen: str = chess.STARTING_FEN
) -> Iterator[tuple[int, str]]:
    """The ply and FEN before each move of a game, without checks and positions in a trade."""
    board, traded = chess.Board(start_fen), False
    for ply, uci in enumerate(moves, 1):
        if not traded and not board.is_check():
            yield ply, board.fen()
        move = chess.Move.from_uci(uci)
        traded = board.is_capture(move)
        board.push(move)

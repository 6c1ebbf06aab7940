"""Moves in algebraic notation: what is read, and what is said of the others."""

import csv
import random
from pathlib import Path

import chess
import pytest

from fastness.errors import MoveError
from fastness.intake.san import play

TABLE = Path(__file__).parents[1] / "data" / "pgn" / "moves.csv"
with TABLE.open(newline="", encoding="utf-8") as file:
    ROWS = list(csv.DictReader(file))


def board_of(fen: str) -> chess.Board:
    return chess.Board() if fen == "start" else chess.Board(fen)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['san']}: {row['reason']}")
def test_table(row: dict[str, str]) -> None:
    board = board_of(row["fen"])
    before = board.fen()
    if row["uci"]:
        assert play(board, row["san"]).uci() == row["uci"]
        assert board.peek().uci() == row["uci"]
        return
    with pytest.raises(MoveError) as caught:
        play(board, row["san"])
    assert row["error"] in str(caught.value)
    assert board.fen() == before
    assert not board.move_stack


@pytest.mark.parametrize("seed", range(12))
def test_agrees_with_the_rules_package_on_random_games(seed: int) -> None:
    """Every way to write every pseudo-legal move, and random wrong ones, in random games."""
    dice = random.Random(seed)
    board = chess.Board()
    for ply in range(80):
        moves = list(board.legal_moves)
        if not moves:
            break
        for san in spellings(board, dice) if ply % 8 == 0 else ():
            assert outcome_here(board, san) == outcome_by_the_rules(board, san), san
        board.push(dice.choice(moves))


def spellings(board: chess.Board, dice: random.Random) -> list[str]:
    told = []
    for move in board.pseudo_legal_moves:
        unit = board.piece_type_at(move.from_square)
        assert unit is not None
        letter = "" if unit == chess.PAWN else chess.piece_symbol(unit).upper()
        source, to = chess.square_name(move.from_square), chess.square_name(move.to_square)
        end = f"={chess.piece_symbol(move.promotion).upper()}" if move.promotion else ""
        told += [
            letter + hint + sign + to + end
            for hint in ("", source[0], source[1], source)
            for sign in ("", "x")
        ]
    for _ in range(20):
        letter, file, rank = dice.choice(" NBRQK"), dice.choice(" abcdefgh"), dice.choice(" 18")
        to, end = chess.square_name(dice.randrange(64)), dice.choice(["", "=Q", "=N", "+"])
        told.append((letter + file + rank + to + end).replace(" ", ""))
    return told


def outcome_here(board: chess.Board, san: str) -> str:
    try:
        move = play(board, san)
    except MoveError:
        return "refused"
    board.pop()
    return move.uci()


def outcome_by_the_rules(board: chess.Board, san: str) -> str:
    try:
        return board.parse_san(san).uci()
    except ValueError:
        return "refused"

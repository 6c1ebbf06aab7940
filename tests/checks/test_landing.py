"""Asking for the moves that land on one square gives what asking for all of them gives."""

from __future__ import annotations

import random
from pathlib import Path

import chess
import pytest

from fastness import core
from fastness.errors import OptionError

POSITIONS = Path(__file__).parents[1] / "data" / "historic-positions.fen"


def test_one_square_alone_is_judged_as_among_all() -> None:
    fens = sorted({fen for fen in POSITIONS.read_text(encoding="utf-8").split("\n") if fen})
    compared = 0
    for fen in random.Random(31).sample(fens, 12):
        every = core.survey(fen, reach=2)
        square = random.Random(fen).choice(every["moves"])["uci"][2:4]
        alone = core.survey(fen, reach=2, landing=square)
        there = [move for move in every["moves"] if move["uci"][2:4] == square]
        assert alone["moves"] == there
        assert {**alone, "moves": []} == {**every, "moves": []}
        compared += len(there)
    assert compared >= 12


def test_what_is_no_square_is_told() -> None:
    with pytest.raises(OptionError, match='"e9" is no square, such as e4'):
        core.survey(chess.STARTING_FEN, landing="e9")

"""Set-up positions: which can stand, and what is said of the others."""

import csv
from pathlib import Path

import chess
import pytest

from fastness.errors import PositionError
from fastness.intake.start import start

TABLE = Path(__file__).parents[1] / "data" / "pgn" / "starts.csv"
with TABLE.open(newline="", encoding="utf-8") as file:
    ROWS = list(csv.DictReader(file))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: str(row["reason"]))
def test_table(row: dict[str, str]) -> None:
    tags = {"SetUp": "1", "FEN": row["fen"]}
    if row["code"]:
        with pytest.raises(PositionError) as caught:
            start(tags)
        assert caught.value.code == row["code"]
        assert row["fen"] in str(caught.value)
        return
    board, dropped = start(tags)
    assert board.is_valid()
    assert board.board_fen() == chess.Board(row["fen"]).board_fen()
    assert (dropped is not None) == ("dropped" in row["reason"])


def test_without_a_position_the_game_starts_as_usual() -> None:
    board, dropped = start({"Event": "Club evening"})
    assert board.fen() == chess.STARTING_FEN
    assert dropped is None


def test_a_promised_position_must_be_there() -> None:
    with pytest.raises(PositionError) as caught:
        start({"SetUp": "1"})
    assert caught.value.code == "no_fen"

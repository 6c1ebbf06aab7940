"""Every row of the tables of questions: what the survey says is what the source says."""

import csv

import chess
import pytest

from fastness import core
from tests.checks.questions import DATA, Row, answer, label, table

NAMES = (
    "status-cases.csv",
    "facts.csv",
    "trades.csv",
    "handbook.csv",
    "zugzwang.csv",
    "rules.csv",
    "values.csv",
)
ROWS = [(name, row) for name in NAMES for row in table(name)]


@pytest.mark.parametrize(
    ("name", "row"), ROWS, ids=[f"{name.removesuffix('.csv')}: {label(row)}" for name, row in ROWS]
)
def test_row(name: str, row: Row) -> None:
    told, expected = answer(row), row["expected"]
    if expected.endswith(" ..."):
        expected = expected.removesuffix(" ...")
        told = told[: len(expected)]
    assert told == expected, f"{name}: {row['reason']} ({row['source']})"


COUNTS = table("exchange-counts.csv")


@pytest.mark.parametrize("row", COUNTS, ids=label)
def test_exchange_count(row: Row) -> None:
    counts = core.exchange_counts(row["position"], values=row["values"])
    assert counts[row["question"]] == int(row["expected"]), f"{row['reason']} ({row['source']})"


def test_every_row_has_its_reason_and_source() -> None:
    for name in (*NAMES, "exchange-counts.csv", "bad-positions.csv"):
        rows = table(name)
        assert rows, name
        for row in rows:
            assert row["reason"], f"{name}: {row}"
            assert row["source"], f"{name}: {row}"


def handbook() -> list[Row]:
    with (DATA / "handbook.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_every_worked_example_of_the_handbook_is_asked() -> None:
    asked = {(row["position"], row["question"].split(" ")[-1]) for row in table("handbook.csv")}
    missing = [row for row in handbook() if (row["fen"], row["move"]) not in asked]
    assert not missing


def test_the_published_mate_of_the_handbook_is_mate() -> None:
    row = next(row for row in handbook() if row["refutation_or_line"].endswith("#"))
    board = chess.Board(row["fen"])
    for san in row["refutation_or_line"].split():
        board.push_san(san)
    assert board.is_checkmate()


def test_a_game_of_even_trades_has_recaptures_and_no_faults() -> None:
    # 1.e4 e5 2.Nf3 Nc6 3.Bb5 a6 4.Bxc6 dxc6 5.d4 exd4 6.Qxd4 Qxd4 7.Nxd4, common practice.
    board = chess.Board()
    sans = "e4 e5 Nf3 Nc6 Bb5 a6 Bxc6 dxc6 d4 exd4 Qxd4 Qxd4 Nxd4"
    moves = [board.push_san(san).uci() for san in sans.split()]
    looks = core.look(chess.STARTING_FEN, moves)
    assert all(look["played"]["holds"] for look in looks)
    retaken = [look["ply"] for look in looks if look["played"]["retakes"]]
    assert retaken == [8, 11, 12, 13]
    assert [look["owed"] for look in looks if look["ply"] in retaken] == [300, 100, 0, 900]

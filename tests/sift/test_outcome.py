"""When a look is an occasion and what came of it: design section 6, row by row."""

import csv
from pathlib import Path

import chess
import pytest

from fastness.core.shapes import Look
from fastness.sift.occasion import occasions
from tests.sift.looks import game, look

TABLE = Path(__file__).parents[1] / "data" / "sift" / "outcomes.csv"
with TABLE.open(newline="", encoding="utf-8") as file:
    ROWS = list(csv.DictReader(file))


def value(text: str) -> int | str:
    return int(text) if text.lstrip("-").isdigit() else text


def look_of(row: dict[str, str]) -> Look:
    return look(
        chess.STARTING_FEN,
        "e2e4",
        in_check=row["in_check"] == "yes",
        danger=value(row["danger"]),  # type: ignore[arg-type]  # the table's words are the shape's
        owed=int(row["owed"]),
        net=value(row["net"]),  # type: ignore[arg-type]
        holds=row["holds"] == "yes",
        holding=int(row["holding"]),
        legal=int(row["legal"]),
        best_net=value(row["best"]),
        retakes=row["retakes"] == "yes",
        offered={"yes": True, "no": False, "": None}[row["offered"]],
        # Something stands there to be won; whether it can be is for the numbers to say.
        takings={"e7": 100},
    )


@pytest.mark.parametrize("row", ROWS, ids=lambda row: str(row["reason"]))
def test_table(row: dict[str, str]) -> None:
    found = occasions(game(["e2e4"]), [look_of(row)])
    told = {occasion["kind"]: occasion["outcome"] for occasion in found}
    wanted = {"danger": row["danger_outcome"], "taking": row["taking_outcome"]}
    assert told == {kind: outcome for kind, outcome in wanted.items() if outcome}
    assert {occasion["recapture"] for occasion in found} <= {row["recapture"] == "yes"}


def test_the_table_has_every_outcome() -> None:
    told = {row["danger_outcome"] for row in ROWS} | {row["taking_outcome"] for row in ROWS}
    assert told == {
        "",
        "held",
        "offered",
        "lessened",
        "let fall",
        "saved most",
        "exposed",
        "seized",
        "let off",
    }

"""The 211 historic games, sifted from end to end."""

import json
import math
import os
import re
import subprocess
import sys
import time
from contextlib import suppress
from itertools import groupby
from pathlib import Path
from typing import Any

import chess
import jsonschema
import pytest

ROOT = Path(__file__).parents[2]
GAMES = ROOT / "tests" / "data" / "historic.pgn"
SCHEMA = json.loads((ROOT / "docs" / "schema" / "occasion.schema.json").read_text("utf-8"))
PROGRAM = str(Path(sys.executable).with_name("fastness"))
PLAYER = "Paul Morphy"
"""He plays in all of them, with either colour."""
MEMORY = 300
"""Megabytes that the whole run may take at most; it takes about a third of that."""

Row = dict[str, Any]


def peak_memory(pid: int) -> float:
    """Megabytes a running process has taken at most; 0 once it has ended.

    Not what `wait4` tells, which counts the memory of the test run that it was forked from.
    """
    with suppress(OSError):
        told = Path(f"/proc/{pid}/status").read_text("ascii")
        found = re.search(r"VmHWM:\s+(\d+) kB", told)
        return int(found[1]) / 1024 if found else 0.0
    return 0.0


@pytest.fixture(scope="module")
def sifted() -> tuple[list[Row], str]:
    begun = time.monotonic()
    with subprocess.Popen(
        [PROGRAM, "sift", str(GAMES), "--player", PLAYER, "--no-offers", "--json"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as run:
        assert run.stdout is not None
        assert run.stderr is not None
        rows, megabytes = [], 0.0
        for line in run.stdout:
            rows.append(json.loads(line))
            megabytes = max(megabytes, peak_memory(run.pid))
        said = run.stderr.read()
        _, status, used = os.wait4(run.pid, 0)
        run.returncode = os.waitstatus_to_exitcode(status)
    assert (run.returncode, said) == (0, b"")
    took = time.monotonic() - begun
    assert megabytes < MEMORY
    return rows, (
        f"211 historic games, one player, reach 3: {len(rows)} occasions,"
        f" {took:.1f} s, {used.ru_utime + used.ru_stime:.1f} s of processor time,"
        f" {megabytes:.0f} MB at the most"
    )


def number(value: int | str) -> float:
    """Centipawns; mate given, or threatened by the opponent, is more than any of them."""
    if isinstance(value, int):
        return value
    return {"mates": math.inf, "mate": math.inf, "mated": -math.inf}[value]


def difference(more: int | str, less: int | str) -> float:
    return 0 if more == less else number(more) - number(less)


def falls(row: Row) -> bool:
    return number(row["net"]) <= -50


def wanted_outcome(row: Row) -> str:
    """The table of outcomes, told again from what the row says and nothing else."""
    lag = difference(row["best_net"], row["net"])
    if row["kind"] == "taking":
        return "seized" if lag < 50 else "let off"
    if not falls(row):
        return "held"
    danger, could_hold = row["danger"], bool(row["holding"])
    if could_hold:
        if danger is not None and number(danger) < 50:
            return "exposed"
        if danger is not None and number(danger) + max(number(row["net"]), -1e9) >= 50:
            return "lessened" if row["net"] != "mated" else "let fall"
        return "let fall"
    return "let fall" if lag >= 50 else "saved most"


@pytest.mark.slow
@pytest.mark.xdist_group("historic")
def test_every_occasion_keeps_the_contract_and_the_rules(
    sifted: tuple[list[Row], str], record_property: Any
) -> None:
    rows, told = sifted
    record_property("report", told)
    validator = jsonschema.Draft202012Validator(SCHEMA)
    assert len(rows) > 3000
    assert {row["player"].strip() for row in rows} == {"Morphy, Paul"}
    assert {row["colour"] for row in rows} == {"white", "black"}
    for row in rows:
        assert list(row) == SCHEMA["required"]
        validator.validate(row)
        board = chess.Board(row["fen"])
        where = (row["game"]["number"], row["ply"])
        assert board.parse_san(row["played"]["san"]).uci() == row["played"]["uci"], where
        assert row["colour"] == ("white" if board.turn else "black"), where
        assert (row["danger"] is None) == board.is_check(), where
        assert row["outcome"] == wanted_outcome(row), where
        for san in row["holding"]:
            board.parse_san(san)
        if row["kind"] == "danger":
            assert (row["played"]["san"] in row["holding"]) == (not falls(row)), where
            assert row["danger"] is None or number(row["danger"]) >= 50 or falls(row), where
        else:
            assert number(row["best_net"]) >= row["owed"] + 50, where
            assert (row["played"]["san"] in row["holding"]) == (row["outcome"] == "seized"), where
            assert row["units"], where
            assert all(board.piece_at(chess.parse_square(one)) for one in row["units"]), where
        if row["recapture"]:
            assert (row["kind"], row["outcome"]) == ("danger", "held"), where
            assert row["danger"] is None or number(row["danger"]) < row["owed"] + 50, where
            assert board.is_capture(board.parse_san(row["played"]["san"])), where


@pytest.mark.slow
@pytest.mark.xdist_group("historic")
def test_episodes_are_whole(sifted: tuple[list[Row], str]) -> None:
    rows, _ = sifted
    assert [row["game"]["number"] for row in rows] == sorted(row["game"]["number"] for row in rows)
    for _, game in groupby(rows, lambda row: row["game"]["number"]):
        of_game = list(game)
        assert [row["ply"] for row in of_game] == sorted(row["ply"] for row in of_game)
        dangers = [row for row in of_game if row["kind"] == "danger"]
        assert all(row["episode"] is None for row in of_game if row["kind"] == "taking")
        first_seen = list(dict.fromkeys(row["episode"] for row in dangers))
        assert first_seen == list(range(1, len(first_seen) + 1))
        for colour, number_ in {(row["colour"], row["episode"]) for row in dangers}:
            others = {row["colour"] for row in dangers if row["episode"] == number_}
            assert others == {colour}

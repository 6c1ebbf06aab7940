"""Exercises read back by readers that share no code: PyPI `chess`, `pgn-reader`, and the core."""

import pytest

from fastness.exercises.epd import epd
from fastness.exercises.exercise import KINDS, Exercise
from fastness.exercises.pgn import pgn
from scripts import read_back
from scripts.read_back import differing_in_epd, differing_in_pgn
from tests.exercises.asked import BISHOP, FENS, KNIGHT, QUIET, asked, safe_move

NAMED: list[tuple[str, Exercise]] = [
    *((f"{kind} {at}", asked(kind, fen)) for kind in KINDS for at, fen in enumerate(FENS)),
    ("none", asked("which unit", QUIET)),
    ("safe", safe_move()),
]


def test_all_readers_find_the_same_positions() -> None:
    number, wrong = differing_in_pgn(NAMED)
    assert number > 100
    assert wrong == []
    assert differing_in_epd(NAMED) == []


def test_another_position_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    named, other = [("1", asked("every move", BISHOP))], [("1", asked("every move", KNIGHT))]
    monkeypatch.setattr(read_back, "epd", lambda _: epd(other))
    monkeypatch.setattr(read_back, "pgn", lambda title, _: pgn(title, other))
    assert differing_in_epd(named) == ["1"]
    assert differing_in_pgn(named)[1] == ["1"]

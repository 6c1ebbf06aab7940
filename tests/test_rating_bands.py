"""The shares by rating: which band a player is in, what is counted, and out of what."""

from pathlib import Path
from typing import Any

import pytest

from fastness.intake import Game, read_games
from fastness.sweep.bands import band
from scripts.rating_bands import is_unsafe, rows

GAME = """[Event "?"]
[White "?"]
[Black "?"]
[WhiteElo "1399"]
[BlackElo "{black}"]
[Result "*"]

1. e4 d5 2. Nf3 *

"""


def occasion(colour: str, **changes: Any) -> dict[str, Any]:
    made = {"kind": "danger", "recapture": False, "danger": 100, "units": ["e4"]}
    made |= {"game": {"number": 1}, "colour": colour, "outcome": "held"}
    return made | changes


def games(place: Path, black: str) -> list[Game]:
    (place / "games.pgn").write_text(GAME.format(black=black), encoding="ascii")
    return [item for item in read_games(place / "games.pgn") if isinstance(item, Game)]


@pytest.mark.parametrize(
    ("rating", "name"),
    [
        ("1399", "under 1400"),
        ("1400", "1400-1799"),
        ("2199", "1800-2199"),
        ("2200", "2200 and over"),
        ("0", "unrated"),
        ("?", "unrated"),
        ("", "unrated"),
    ],
)
def test_band(rating: str, name: str) -> None:
    assert band(rating) == name


@pytest.mark.parametrize(
    ("changes", "unsafe"),
    [
        ({}, True),
        ({"danger": "mate"}, True),
        ({"danger": 0, "outcome": "exposed"}, False),
        ({"danger": None, "units": ["g1"]}, False),
        ({"units": []}, False),
    ],
)
def test_unsafe_before_the_move(changes: dict[str, Any], unsafe: bool) -> None:
    assert is_unsafe(occasion("white", **changes)) == unsafe


def test_what_is_counted_out_of_what(tmp_path: Path) -> None:
    found = [
        occasion("white"),
        occasion("white", danger=0, outcome="exposed"),
        occasion("white", kind="taking", outcome="let off"),
        occasion("black", recapture=True),
        occasion("black", outcome="offered"),
    ]
    by_band = {row[0]: row[1:] for row in rows(games(tmp_path, "2300"), found)}
    sides, moves, unsafe, fell = by_band["under 1400"]
    assert (sides, moves, unsafe[:10], fell[:10]) == ("1", "2", "1: 50.0 % ", "1: 50.0 % ")
    assert by_band["2200 and over"][:2] == ["1", "1"]
    assert by_band["2200 and over"][2].startswith("1: 100.0 %")
    assert by_band["2200 and over"][3].startswith("0: 0.0 % (0.0 to ")
    assert by_band["unrated"] == ["0", "0", "-", "-"]

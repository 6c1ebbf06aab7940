"""Occasions kept in stores are known to be old by a number; it must rise whenever they change."""

import csv
import hashlib
import json
from itertools import islice
from pathlib import Path

import pytest

from fastness.intake import Game, read_games
from fastness.sift import SIFT_VERSION, Occasion
from fastness.workflows.sifting import Sifted, SiftSettings, sift_game

DATA = Path(__file__).parents[1] / "data"
with (DATA / "sift" / "versions.csv").open(newline="", encoding="utf-8") as file:
    VERSIONS = list(csv.DictReader(file))

# Both tests on one worker: the games are gone through once.
pytestmark = pytest.mark.xdist_group("sift version")

GAMES = 4
# Few nodes: whether the right moves are called offers is checked elsewhere, here whether the same.
SETTINGS = SiftSettings(reach=3, offer_nodes=2000)


@pytest.fixture(scope="module")
def found() -> list[Occasion]:
    games = (one for one in read_games(DATA / "historic.pgn") if isinstance(one, Game))
    sifted = [sift_game(game, "both", SETTINGS) for game in islice(games, GAMES)]
    return [one for game in sifted if isinstance(game, Sifted) for one in game.occasions]


def test_the_games_show_every_outcome(found: list[Occasion]) -> None:
    assert {one["outcome"] for one in found} == {
        *("held", "offered", "lessened", "let fall", "saved most", "exposed", "seized", "let off")
    }


def test_the_number_rises_with_every_change(found: list[Occasion]) -> None:
    """To mend it: raise `SIFT_VERSION` and add a row, with the digest found and what changed."""
    told = json.dumps(found, sort_keys=True).encode()
    assert [int(row["version"]) for row in VERSIONS] == list(range(1, SIFT_VERSION + 1))
    assert len({row["digest"] for row in VERSIONS}) == len(VERSIONS)
    assert hashlib.sha256(told).hexdigest() == VERSIONS[-1]["digest"]

"""The club with planted weaknesses: its games, and that the diagnosis finds what is planted."""

from pathlib import Path

import pytest

from fastness.intake import Game, read_games
from scripts.make_club import STARTING_CLOCK, WEAKNESSES, club_games, members

COMMITTED = Path(__file__).parents[1] / "demo" / "millrace-terms.pgn"


@pytest.fixture(scope="module")
def games() -> list[Game]:
    read = list(read_games(COMMITTED))
    found = [item for item in read if isinstance(item, Game)]
    assert found == read
    return found


def test_the_committed_games_are_the_clubs(games: list[Game]) -> None:
    names = {member.student.name for member in members(1)}
    assert len(names) == len(WEAKNESSES) == 6
    assert {game.tags[side] for game in games for side in ("White", "Black")} == names
    assert len(games) == 45
    for name in names:
        assert sum(name in game.tags.values() for game in games) == 15


def test_every_move_has_a_clock_that_was_started_full(games: list[Game]) -> None:
    for game in games:
        assert None not in game.clocks
        assert max(clock or 0 for clock in game.clocks) <= STARTING_CLOCK + 60


def test_who_is_slow_gets_into_time_trouble(games: list[Game]) -> None:
    least = {}
    for member in members(1):
        name = member.student.name
        own = [game for game in games if name in game.tags.values()]
        clocks = [
            game.clocks[at]
            for game in own
            for at in range(int(game.tags["Black"] == name), len(game.moves), 2)
        ]
        least[member.weakness] = sum((clock or 0) < STARTING_CLOCK / 10 for clock in clocks)
    assert least["time trouble"] > 10 * max(1, least["none"])


def test_the_same_seed_gives_the_same_games() -> None:
    first = next(club_games(1, 3))
    assert COMMITTED.read_text("ascii").startswith(first)
    assert next(club_games(2, 3)) != first


def test_names_differ_within_every_club() -> None:
    for seed in range(1, 40):
        assert len({member.student.name for member in members(seed)}) == 6

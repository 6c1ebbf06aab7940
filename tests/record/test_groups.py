"""The held rate by kind of cause, and the ways used."""

from typing import Any

from fastness.record import Episode, episodes_of, rates_by, ways_used
from tests.record.made import occasion, student_game


def episodes(*changes: dict[str, Any]) -> list[Episode]:
    made = [occasion(2 * ply, **one) for ply, one in enumerate(changes, start=1)]
    return episodes_of(student_game(made, start_clock=1500.0))


MET = episodes(
    {"mechanisms": ["pin", "unguarded"], "units": ["a8"]},
    {"mechanisms": ["pin"], "outcome": "let fall", "units": ["a8"], "reach": 2},
    {"clock": 60.0},
    {"clock": 600.0, "outcome": "let fall"},
    {"holding": [], "outcome": "saved most"},
)


def held(by: Any) -> dict[str, tuple[int, int]]:
    return {name: (rate.held, rate.of) for name, rate in rates_by(by, MET).items()}


def test_an_episode_counts_under_each_of_its_mechanisms() -> None:
    assert held("mechanism") == {
        "less valuable attacker": (1, 2),
        "pin": (1, 2),
        "unguarded": (1, 1),
    }


def test_other_kinds() -> None:
    assert held("reach") == {"1": (2, 3), "2": (0, 1)}
    assert held("unit") == {"knight": (1, 2), "rook": (1, 2)}
    assert held("phase") == {"endgame": (2, 4)}
    assert held("danger") == {"attacked by a pawn": (1, 2), "two moves ahead": (0, 1)}


def test_hurry_is_told_only_where_clocks_were_recorded() -> None:
    assert held("hurried") == {"hurried": (1, 1), "with time": (0, 1)}
    assert rates_by("hurried", MET[:2]) == {}


def test_the_share_is_drawn_towards_the_group() -> None:
    group = [MET, MET]
    assert rates_by("unit", MET, group)["rook"].pooled == 0.5
    assert rates_by("unit", MET)["rook"].pooled is None


def test_ways_are_shares_of_what_was_held() -> None:
    ways = ways_used(episodes({}, {"way": "guard"}, {"way": "guard"}, {"outcome": "let fall"}))
    assert {name: (rate.held, rate.of) for name, rate in ways.items()} == {
        "guard": (2, 3),
        "move": (1, 3),
    }

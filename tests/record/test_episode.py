"""Episodes from occasions, as section 6 of the design says."""

from typing import Any

import chess
import pytest

from fastness.record import episodes_of, nothing_to_hold
from fastness.record.episode import MATE_LOSS, is_hurried, phase_of
from tests.record.made import occasion, student_game


def test_an_episode_is_one_however_long_it_hangs_and_has_its_first_outcome() -> None:
    hangs = [occasion(40, "let fall", episode=1), occasion(42, "held", episode=1)]
    (one,) = episodes_of(student_game(hangs[::-1]))
    assert (one.ply, one.held, one.could_hold, one.lost) == (40, False, True, 300)


@pytest.mark.parametrize(
    "left_out",
    [
        occasion(kind="taking", episode=None, outcome="let off"),
        occasion(recapture=True),
        occasion(outcome="offered"),
    ],
    ids=["a taking", "a recapture", "an offer"],
)
def test_what_is_no_episode(left_out: Any) -> None:
    assert episodes_of(student_game([left_out])) == []


def test_an_episode_that_begins_with_an_offer_is_left_out_whole() -> None:
    later = occasion(42, "let fall", episode=1)
    assert episodes_of(student_game([occasion(40, "offered", episode=1), later])) == []


def test_after_a_recapture_the_next_own_occasion_is_the_first() -> None:
    later = occasion(42, "let fall", episode=1)
    (one,) = episodes_of(student_game([occasion(40, recapture=True, episode=1), later]))
    assert one.ply == 42


def test_nothing_could_be_held_where_no_move_holds() -> None:
    (one,) = episodes_of(student_game([occasion(outcome="saved most", holding=[])]))
    assert (one.held, one.could_hold) == (False, False)


@pytest.mark.parametrize(
    ("best", "net", "lost"),
    [(0, -300, 300), (200, -100, 300), ("mates", 0, MATE_LOSS), (0, "mated", MATE_LOSS),
     ("mated", "mated", 0), (0, -1400, MATE_LOSS)],
)  # fmt: skip
def test_what_is_lost_against_the_best_move(best: Any, net: Any, lost: int) -> None:
    (one,) = episodes_of(student_game([occasion(outcome="let fall", best_net=best, net=net)]))
    assert one.lost == lost


def test_a_held_danger_loses_nothing_and_names_its_way() -> None:
    (one,) = episodes_of(student_game([occasion(best_net=100, net=0)]))
    assert (one.lost, one.way, one.unit, one.reach) == (0, "move", "knight", 1)


@pytest.mark.parametrize(
    ("fen", "phase"),
    [
        (chess.STARTING_FEN, "opening"),
        ("rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 10", "opening"),
        ("rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 11", "middlegame"),
        ("r1bqk3/pppppppp/8/8/8/8/PPPPPPPP/R1BQK3 w - - 0 30", "endgame"),
        ("r1bqk1n1/pppppppp/8/8/8/8/PPPPPPPP/R1BQK3 w - - 0 30", "middlegame"),
    ],
)
def test_phases(fen: str, phase: str) -> None:
    assert phase_of(chess.Board(fen)) == phase


@pytest.mark.parametrize(
    ("clock", "start", "hurried"),
    [(None, 1500.0, None), (149.0, 1500.0, True), (150.0, 1500.0, False), (119.0, None, True),
     (120.0, None, False)],
)  # fmt: skip
def test_hurried(clock: float | None, start: float | None, hurried: bool | None) -> None:
    assert is_hurried(clock, start) is hurried
    (one,) = episodes_of(student_game([occasion(clock=clock)], start_clock=start))
    assert one.hurried is hurried
    assert ("hurried" in one.causes) is bool(hurried)


def test_where_nothing_could_be_held_it_is_told_how_many_came_after_a_fall() -> None:
    lost: dict[str, Any] = {"holding": [], "holding_ways": []}
    games = [
        student_game([occasion(40, "let fall"), occasion(42, "saved most", **lost)], "1"),
        student_game([occasion(40, "held"), occasion(42, "let fall", **lost)], "2"),
        student_game([occasion(40, "saved most", **lost), occasion(42, "exposed")], "3"),
    ]
    assert nothing_to_hold(games) == (3, 1)

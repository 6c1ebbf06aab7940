"""The second look is spared what the first one found, and comes to the same as a full survey."""

from pathlib import Path

import pytest

from fastness import core
from fastness.exercises.proving import LONGER
from fastness.lessons.lesson import Place
from fastness.lessons.seen import BEHIND, SAME, Seen

ROOT = Path(__file__).parents[2]
FENS = (ROOT / "tests" / "data" / "historic-positions.fen").read_text(encoding="utf-8").split("\n")
START = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"
TRADE = ("e2e4", "e7e5", "g1f3", "b8c6", "f1b5", "a7a6", "b5c6")


def looks(place: Place, nodes: int = 0) -> tuple[Seen, Seen]:
    near = Seen(place, 3, nodes)
    return near, Seen(place, 4, LONGER * nodes, first=near)


@pytest.mark.parametrize("fen", [fen for fen in FENS[5:400:40] if fen])
def test_the_same_moves_hold_as_in_a_full_survey(fen: str) -> None:
    _, far = looks(Place(1, fen, (), fen))
    full = core.survey(fen, reach=4)
    assert set(far.holding()) == {move["uci"] for move in full["moves"] if move["holds"]}


def test_a_trade_is_judged_from_its_start_by_the_second_look_too() -> None:
    full = core.survey(START, moves=TRADE, reach=4)
    _, far = looks(Place(1, START, TRADE, full["fen"]))
    assert set(far.holding()) == {move["uci"] for move in full["moves"] if move["holds"]}
    assert 0 < len(far.holding()) < len(full["moves"])


@pytest.mark.slow
@pytest.mark.parametrize("fen", ["r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"])
def test_the_same_ways_are_better_as_when_every_move_is_thought_about(fen: str) -> None:
    near, far = looks(Place(1, fen, (), fen), 5000)
    full = core.survey(fen, reach=4, rank_nodes=LONGER * 5000)
    assert set(far.advised) == {move["uci"] for move in full["moves"] if move["advised"]}
    assert near.advised
    assert SAME < BEHIND

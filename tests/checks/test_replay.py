"""The replay that judges the lines finds a line that claims too much, too little or nothing."""

import copy

import pytest

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey, Unit
from tests.checks.replay import balance, base_of, move_faults, replay, unit_faults

BISHOP = (
    "rnbqkbnr/ppp2ppp/4p3/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R b KQkq - 1 3"  # 1.d4 d5 2.Nf3 e6 3.Bg5
)


def queen_and_move(survey: Survey) -> tuple[Unit, MoveVerdict]:
    unit = next(unit for unit in survey["units"] if unit["unit"] == "queen")
    move = next(move for move in survey["moves"] if move["san"] == "Qxg5")
    return copy.deepcopy(unit), copy.deepcopy(move)


def test_true_lines_have_no_fault() -> None:
    survey = core.survey(BISHOP, reach=2)
    unit, move = queen_and_move(survey)
    assert unit_faults(survey, unit, taking=False) == []
    assert move_faults(survey, move, 0) == []


@pytest.mark.parametrize("loses", [0, 49, 700, "mate"])
def test_a_wrong_loss_is_found(loses: int) -> None:
    survey = core.survey(BISHOP, reach=2)
    unit, _ = queen_and_move(survey)
    unit["loses"] = loses
    assert unit_faults(survey, unit, taking=False)


@pytest.mark.parametrize("net", [-500, 0, 300, "mated", "mates"])
def test_a_wrong_net_is_found(net: int) -> None:
    survey = core.survey(BISHOP, reach=2)
    _, move = queen_and_move(survey)
    move["net"] = net
    assert move_faults(survey, move, 0)


def test_a_cut_line_is_found() -> None:
    survey = core.survey(BISHOP, reach=2)
    unit, move = queen_and_move(survey)
    assert unit["line"]
    assert move["line"]
    unit["line"].pop()
    move["line"].pop()
    assert unit_faults(survey, unit, taking=False)
    assert move_faults(survey, move, 0)


def test_a_line_that_goes_on_quietly_is_found() -> None:
    assert replay(BISHOP, ["f8e7", "g5e7", "d8e7", "e2e3"], plies=2).beyond == ("e2e3",)


def test_an_illegal_line_is_found() -> None:
    with pytest.raises(AssertionError, match="is not legal"):
        replay(BISHOP, ["d8d1"], plies=1)


def test_balance_and_base() -> None:
    end = replay(BISHOP, ["d8g5", "f3g5"], plies=2).end
    assert [balance(end, True, values) for values in ("classical", "kaufman")] == [600, 650]
    assert base_of(BISHOP, ["d8g5"]) == 0
    assert base_of(BISHOP, ["d8g5", "f3g5", "h7h6"]) == 600

"""The judge itself is judged: one altered fact of every kind must be called false."""

import copy
from collections.abc import Callable
from typing import Any

import pytest

from fastness import core
from tests.judge.causes import MECHANISMS, falls_because
from tests.judge.plain import Plain
from tests.judge.reasons import REASONS, fails_because
from tests.judge.statements import statements
from tests.judge.ways import WAYS, works_by
from tests.judge.worth import Position

# 1.d4 d5 2.Nf3 e6 3.Bg5: the queen is attacked by a bishop.
PIN = "rnbqkbnr/ppp2ppp/4p3/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R b KQkq - 1 3"
CENTRE = "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - 0 2"  # 1.e4 d5
KEPT = "3r2k1/5ppp/8/8/8/b7/5PPP/R5K1 b - - 0 1"  # Rxa3 is mated on d1
FORK = "8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1"  # Ke2 attacks bishop and rook


def position(fen: str, plain: Plain, reach: int = 1) -> Position:
    survey = core.survey(fen, reach=reach)
    board = Position(survey, plain, 0)
    board.base = board.bare(not board.own)
    return board


def false(one: Position) -> list[str]:
    return [fault for _, faults in statements(one) for fault in faults]


def unit_on(survey: Any, square: str) -> Any:
    units = [*survey["units"], *survey["takings"]]
    return next(unit for unit in units if unit["square"] == square)


def move(survey: Any, san: str) -> Any:
    return next(one for one in survey["moves"] if one["san"] == san)


def altered(**facts: Any) -> Callable[[Any], None]:
    return lambda told: told.update(facts)


ALTERED: list[tuple[str, str, Callable[[Any], Any], dict[str, Any]]] = [
    ("danger", PIN, lambda survey: survey, {"danger": [500]}),
    ("a kind of unit", PIN, lambda survey: unit_on(survey, "d8"), {"unit": "rook"}),
    ("attackers", PIN, lambda survey: unit_on(survey, "d8"), {"attackers": ["g4"]}),
    ("guards", PIN, lambda survey: unit_on(survey, "d8"), {"guards": ["e8", "f8"]}),
    ("loose", PIN, lambda survey: unit_on(survey, "d8"), {"loose": True}),
    ("a loss", PIN, lambda survey: unit_on(survey, "d8"), {"loses": 700}),
    ("a line cut short", PIN, lambda survey: unit_on(survey, "d8"), {"line": ["0000"]}),
    ("a line of another unit", PIN, lambda survey: unit_on(survey, "d8"),
     {"line": ["0000", "f3e5"]}),
    ("a mate", PIN, lambda survey: unit_on(survey, "d8"), {"loses": "mate"}),
    ("a status", PIN, lambda survey: unit_on(survey, "d8"), {"status": "safe by tactics"}),
    ("won back", PIN, lambda survey: unit_on(survey, "d8"), {"status": "won back"}),
    ("in check", PIN, lambda survey: unit_on(survey, "e8"), {"status": "in check"}),
    ("unsafe", KEPT, lambda survey: unit_on(survey, "a3"),
     {"status": "unsafe", "loses": 300, "reach": 1, "line": ["0000", "a1a3"]}),
    ("one for certain", FORK, lambda survey: unit_on(survey, "e3"), {"status": "unsafe"}),
    ("a net", CENTRE, lambda survey: move(survey, "Nc3"), {"net": 100}),
    ("holding", CENTRE, lambda survey: move(survey, "Nc3"), {"holds": False}),
    ("falling", CENTRE, lambda survey: move(survey, "Qg4"), {"holds": True}),
    ("a refutation", CENTRE, lambda survey: move(survey, "Qg4"), {"line": ["d1g4"]}),
    ("a way", CENTRE, lambda survey: move(survey, "Nc3"), {"ways": ["block"]}),
    ("a blocked line", PIN, lambda survey: move(survey, "Be7"), {"blocks": ["g5", "c1"]}),
    ("other", CENTRE, lambda survey: move(survey, "e5"), {"ways": ["other"]}),
]  # fmt: skip


@pytest.mark.parametrize("row", ALTERED, ids=lambda row: row[0])
def test_an_altered_fact_is_called_false(row: tuple[Any, ...], plain: Plain) -> None:
    _, fen, told, facts = row
    one = position(fen, plain, reach=2 if fen in (FORK, KEPT) else 1)
    assert not false(one)
    one.survey = copy.deepcopy(one.survey)
    told(one.survey).update(facts)
    assert false(one)


@pytest.mark.parametrize("name", MECHANISMS)
def test_a_wrong_mechanism_is_called_false(name: str) -> None:
    # A pawn that nothing guards, taken by a pawn; a queen with a guard, taken by a bishop.
    pawn, queen = ["0000", "d5e4"], ["0000", "g5d8", "e8d8"]
    if name in ("unguarded", "discovered attack"):
        assert falls_because(PIN, queen, "d8", name)
    else:
        assert falls_because(CENTRE, pawn, "e4", name)


@pytest.mark.parametrize(
    ("name", "right", "wrong"),
    [("unguarded", ["e4"], ["d5"]), ("less valuable attacker", ["g5", "d8"], ["g5", "e8"])],
)
def test_a_square_that_takes_no_part_is_called_false(
    name: str, right: list[str], wrong: list[str]
) -> None:
    fen, line, unit = (
        (CENTRE, ["0000", "d5e4"], "e4")
        if name == "unguarded"
        else (PIN, ["0000", "g5d8", "e8d8"], "d8")
    )
    assert not falls_because(fen, line, unit, name, right)
    assert falls_because(fen, line, unit, name, wrong)


@pytest.mark.parametrize(
    ("way", "san"),
    [
        ("capture", "Nc3"),
        ("move", "Nc3"),
        ("block", "exd5"),
        ("guard", "e5"),
        ("counterattack", "d3"),
    ],
)
def test_a_wrong_way_is_called_false(way: str, san: str, plain: Plain) -> None:
    one = position(CENTRE, plain)
    verdict = move(one.survey, san)
    assert way in WAYS
    assert all(not works_by(one, verdict["uci"], told) for told in verdict["ways"])
    assert works_by(one, verdict["uci"], way)


@pytest.mark.parametrize("reason", REASONS)
def test_a_wrong_reason_is_called_false(reason: str, plain: Plain) -> None:
    # 2.Bd3 guards the pawn and holds: with no refutation, no reason can be right.
    one = position(CENTRE, plain)
    assert fails_because(one, ["f1d3"], reason)

"""Every line of every survey replays by the rules of PyPI chess to its claim."""

from collections.abc import Sequence

import chess
import pytest

from fastness import core
from fastness.core.shapes import Survey
from tests.checks.positions import few_men, historic, random_play, sample
from tests.checks.questions import played, table
from tests.checks.replay import base_of, deeper_faults, move_faults, promotion_faults, unit_faults

Rows = Sequence[tuple[str, Sequence[str]]]


def bare(fens: Sequence[str]) -> Rows:
    return [(fen, ()) for fen in fens]


def faults_of(survey: Survey, row: tuple[str, Sequence[str]]) -> list[str]:
    white = base_of(*row, survey["values"])
    base = white if survey["side"] == "white" else -white
    found = []
    for unit in survey["units"]:
        found += [f"{unit['square']}: {f}" for f in unit_faults(survey, unit, taking=False)]
    for unit in survey["takings"]:
        found += [f"x{unit['square']}: {f}" for f in unit_faults(survey, unit, taking=True)]
    for move in survey["moves"]:
        faults = move_faults(survey, move, base) + deeper_faults(survey, move, base)
        found += [f"{move['san']}: {f}" for f in faults]
    return found + promotion_faults(survey)


def assert_lines_hold(
    rows: Rows, reach: int, values: str = "classical", *, firm: bool = False
) -> int:
    """Every line shows what is claimed; answers how many moves fall one reach deeper alone."""
    faulty, deeper = {}, 0
    surveys = core.survey_many(rows, reach=reach, values=values, firm=firm)
    for row, survey in zip(rows, surveys, strict=True):
        assert isinstance(survey, dict), row
        if faults := faults_of(survey, row):
            faulty[survey["fen"]] = faults
        deeper += sum(move["deeper"] is not None for move in survey["moves"])
    assert not faulty
    return deeper


@pytest.mark.slow
@pytest.mark.parametrize("part", range(8))
def test_lines_from_historic_games(part: int) -> None:
    assert_lines_hold(bare(historic()[part::8]), reach=2)


@pytest.mark.slow
@pytest.mark.parametrize("part", range(4))
def test_lines_from_random_play(part: int) -> None:
    assert_lines_hold(bare(random_play(12, seed=part)), reach=2)


@pytest.mark.parametrize("part", range(2))
def test_lines_one_move_deeper(part: int) -> None:
    rows = bare(sample(historic(), 300, seed=9)[part::2])
    assert assert_lines_hold(rows, reach=1, firm=True) > 30
    assert assert_lines_hold(rows[:40], reach=2, firm=True) > 3


@pytest.mark.slow
@pytest.mark.parametrize("part", range(4))
def test_lines_at_reach_3(part: int) -> None:
    fens = sample(historic(), 160, seed=3) + sample(random_play(20, seed=4), 80, seed=5)
    assert_lines_hold(bare(fens[part::4]), reach=3)


@pytest.mark.parametrize("men", ["KPkp", "KRkb", "KQkp", "KPPk", "KRPkr", "KPPkpp", "KBPkn"])
def test_lines_with_few_men(men: str) -> None:
    assert_lines_hold(bare(few_men(men, 60, seed=6)), reach=3)


@pytest.mark.parametrize("values", ["turing", "kaufman", "berliner"])
def test_lines_with_other_values(values: str) -> None:
    assert_lines_hold(bare(sample(historic(), 60, seed=7)), reach=2, values=values)


def test_lines_in_trades() -> None:
    """Positions in the middle of a run of captures, judged from its start."""
    rows = []
    for fen in sample(historic(), 150, seed=8):
        board = chess.Board(fen)
        captures = sorted(move.uci() for move in board.legal_moves if board.is_capture(move))
        rows += [(fen, (uci,)) for uci in captures]
    assert len(rows) > 300
    assert_lines_hold(rows, reach=2)


def test_lines_of_the_tables() -> None:
    names = ("facts.csv", "trades.csv", "status-cases.csv", "handbook.csv", "zugzwang.csv")
    positions = dict.fromkeys(row["position"] for name in names for row in table(name))
    assert_lines_hold([played(position) for position in positions], reach=3)

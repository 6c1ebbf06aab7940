"""Every claim of the surveys of games' positions, judged a second time."""

from collections import Counter
from collections.abc import Callable, Sequence

import chess
import pytest

from fastness import core
from fastness.survey.claims import claims
from tests.judge import positions
from tests.judge.judge import JUDGES, KINDS, judge
from tests.judge.plain import Plain
from tests.judge.worth import Position

PARTS = 4
"""The positions are judged in this many tests."""
RANK_NODES = 200
"""Nodes a move: the ranks follow from few as from many."""
ROWS = positions.rows()
SEARCHES: dict[str, tuple[Sequence[positions.Row], int, bool, int]] = {
    "reach 1, ranked": (ROWS, 1, False, RANK_NODES),
    "reach 1, firm": (ROWS[3::11], 1, True, 0),
    "reach 2": (ROWS[::10], 2, False, 0),
    "reach 3": (ROWS[5::350], 3, False, 0),
}
"""The positions, the reach, whether the verdicts are checked one deeper, and the nodes a rank."""


def judged(search: str, part: int, plain: Plain) -> tuple[Counter[str], list[str]]:
    """How many claims of each kind the surveys make, and what is false in them."""
    every, reach, firm, nodes = SEARCHES[search]
    rows = every[part::PARTS]
    kinds: Counter[str] = Counter()
    false: list[str] = []
    for row, survey in zip(
        rows, core.survey_many(rows, reach=reach, firm=firm, rank_nodes=nodes), strict=True
    ):
        assert isinstance(survey, dict), survey
        kinds["positions"] += 1
        position = Position(survey, plain, positions.base(row))
        for claim in claims(survey, moves_given=bool(row[1])):
            kinds[type(claim).__name__] += 1
            false += [f"{survey['fen']} {fault}" for fault in judge(claim, position)]
    return kinds, false


@pytest.mark.slow
@pytest.mark.parametrize("part", range(PARTS))
@pytest.mark.parametrize("search", SEARCHES)
def test_no_claim_is_false(
    search: str, part: int, plain: Plain, record_property: Callable[[str, object], None]
) -> None:
    kinds, false = judged(search, part, plain)
    assert kinds["positions"] > 0
    told = ", ".join(f"{kind} {count}" for kind, count in sorted(kinds.items()))
    record_property("report", f"claims judged, {search}, part {part + 1} of {PARTS}: {told}")
    assert not false, "\n".join(false)


def test_at_least_2000_positions_are_judged() -> None:
    boards = set()
    for fen, moves in ROWS:
        board = chess.Board(fen)
        for uci in moves:
            board.push_uci(uci)
        boards.add(board.epd())
    assert len(boards) >= 2000


def test_every_kind_of_claim_has_a_judge() -> None:
    assert set(JUDGES) == set(KINDS)

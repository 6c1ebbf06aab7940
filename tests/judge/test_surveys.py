"""Every statement of the surveys of games' positions, judged a second time."""

from collections import Counter
from collections.abc import Callable, Sequence

import pytest

from fastness import core
from tests.judge import positions
from tests.judge.plain import Plain
from tests.judge.statements import statements
from tests.judge.worth import Position

PARTS = 4
"""The positions are judged in this many tests."""
ROWS = positions.rows()
DEEPER = ROWS[::7]
"""Positions judged at reach 2 as well."""


def judged(
    rows: Sequence[positions.Row], reach: int, plain: Plain
) -> tuple[Counter[str], list[str]]:
    """How many statements of each kind the surveys make, and the false ones."""
    kinds: Counter[str] = Counter()
    false: list[str] = []
    for row, survey in zip(rows, core.survey_many(rows, reach=reach), strict=True):
        assert isinstance(survey, dict), survey
        kinds["positions"] += 1
        for kind, faults in statements(Position(survey, plain, positions.base(row))):
            kinds[kind] += 1
            false += [f"{survey['fen']} {' '.join(row[1])}: {kind}: {fault}" for fault in faults]
    return kinds, false


@pytest.mark.slow
@pytest.mark.parametrize("part", range(PARTS))
@pytest.mark.parametrize(("reach", "rows"), [(1, ROWS), (2, DEEPER)], ids=["reach 1", "reach 2"])
def test_no_statement_is_false(
    part: int,
    reach: int,
    rows: Sequence[positions.Row],
    plain: Plain,
    record_property: Callable[[str, object], None],
) -> None:
    kinds, false = judged(rows[part::PARTS], reach, plain)
    told = ", ".join(f"{kind} {count}" for kind, count in sorted(kinds.items()))
    record_property("report", f"statements judged, reach {reach}, part {part}: {told}")
    assert not false, "\n".join(false)

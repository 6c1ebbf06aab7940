"""How many of the moves that hold work in no way that has a name, on positions of real games."""

from collections import Counter
from collections.abc import Callable

import pytest

from fastness import core
from tests.checks.positions import historic, sample

POSITIONS = 300
"""Positions with danger, half a pawn or more, that the share is taken over."""
MOST = 0.05
"""A few in a hundred."""


@pytest.mark.slow
def test_few_remedies_work_in_another_way(record_property: Callable[[str, object], None]) -> None:
    ways: Counter[str] = Counter()
    seen = 0
    for survey in core.survey_many([(fen, ()) for fen in sample(historic(), 700, seed=61)]):
        assert isinstance(survey, dict), survey
        danger = (survey["danger"] or [0])[-1]
        if seen < POSITIONS and (danger == "mate" or (isinstance(danger, int) and danger >= 50)):
            seen += 1
            ways.update(move["ways"][0] for move in survey["moves"] if move["holds"])
    assert seen == POSITIONS
    share = ways["other"] / ways.total()
    told = ", ".join(f"{way} {count}" for way, count in ways.most_common())
    record_property("report", f"ways of {ways.total()} remedies: {told}; other {share:.1%}")
    assert share < MOST

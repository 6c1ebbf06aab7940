"""Expected scores against the numbers of FIDE's table (Handbook B.02) and Elo's normal curve."""

import math

import pytest

from fastness.record import Results, expected_score, results
from tests.record.made import student_game


@pytest.mark.parametrize(
    ("difference", "score"), [(0, 0.50), (35, 0.55), (100, 0.64), (401, 0.92), (2000, 0.92)]
)
def test_fides_table(difference: int, score: float) -> None:
    assert expected_score(1500 + difference, 1500) == score
    assert expected_score(1500, 1500 + difference) == pytest.approx(1 - score)


@pytest.mark.parametrize("difference", range(401))
def test_the_steps_follow_the_normal_curve(difference: int) -> None:
    """Elo 1978: the difference of two performances has a standard deviation of 2000/7 (from
    memory)."""
    curve = (1 + math.erf(difference / (2000 / 7) / math.sqrt(2))) / 2
    assert expected_score(1500 + difference, 1500) == pytest.approx(curve, abs=0.0101)


def test_results_count_only_games_with_both_ratings_and_a_score() -> None:
    whole = student_game([], rating=1500, opponent_rating=1400, score=0.5)
    unrated = student_game([], rating=1500, score=1.0)
    unfinished = student_game([], rating=1500, opponent_rating=1400)
    assert results([whole, unrated, unfinished]) == Results(1, 0.5, 0.64)

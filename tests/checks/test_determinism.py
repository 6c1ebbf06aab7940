"""The same input gives the same answer, whatever runs beside it and whatever ran before."""

import chess
import pytest

from fastness import core
from fastness.errors import MoveError, PositionError
from tests.checks.positions import historic, random_play, sample


@pytest.mark.slow
@pytest.mark.parametrize("reach", [1, 2, 3])
def test_threads_order_and_repetition_change_nothing(reach: int) -> None:
    count = 90 if reach < 3 else 24
    fens = sample(historic(), count, seed=61) + sample(random_play(6, seed=62), 30, seed=63)
    rows = [(fen, ()) for fen in fens[:count]]
    one = core.survey_many(rows, reach=reach, threads=1)
    assert core.survey_many(rows, reach=reach, threads=2) == one
    assert core.survey_many(rows, reach=reach, threads=1) == one
    assert core.survey_many(rows[::-1], reach=reach, threads=2) == one[::-1]
    assert [core.survey(fen, reach=reach) for fen, _ in rows] == one


def test_a_batch_keeps_order_and_answers_around_bad_rows() -> None:
    good = (chess.STARTING_FEN, ("e2e4", "d7d5"))
    rows = [good, ("8/8/8/8/8/8/8/8 w - - 0 1", ()), (chess.STARTING_FEN, ("e2e5",)), good]
    first, empty, illegal, last = core.survey_many(rows, reach=1)
    assert first == last == core.survey(*good[:1], moves=good[1], reach=1)
    assert isinstance(empty, PositionError)
    assert isinstance(illegal, PositionError | MoveError)
    assert core.survey_many([], reach=1) == []

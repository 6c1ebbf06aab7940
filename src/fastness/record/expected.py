"""Expected scores by rating, to set results against what was to be expected. For the teacher."""

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass

from fastness.record.student_game import StudentGame

MOST = 400
"""A difference of more than this counts as this."""
_UP_TO = (
    *(3, 10, 17, 25, 32, 39, 46, 53, 61, 68, 76, 83, 91, 98, 106, 113, 121, 129, 137, 145, 153),
    *(162, 170, 179, 188, 197, 206, 215, 225, 235, 245, 256, 267, 278, 290, 302, 315, 328, 344),
    *(357, 374, 391, 411),
)
"""The largest difference with a score of .50, .51, .52 and so on to .92."""


@dataclass(frozen=True, slots=True)
class Results:
    """What was scored in `games` with both ratings and the result known, and what was expected."""

    games: int
    scored: float
    expected: float


def expected_score(rating: int, opponent: int) -> float:
    """The expected score of one game, between 0 and 1.

    Source: FIDE Handbook B.02, the table of rating differences, with a difference of more than 400
    counted as 400: 35 gives .55, 100 .64, more than 400 .92. Those three are checked; the other
    steps of the table are from memory and agree with the normal curve of Elo 1978 to .01.
    """
    difference = min(abs(rating - opponent), MOST)
    higher = 50 + bisect_left(_UP_TO, difference)
    return (higher if rating >= opponent else 100 - higher) / 100


def results(games: Iterable[StudentGame]) -> Results:
    """The results of these games against those to be expected."""
    scored, expected = [], []
    for game in games:
        if game.score is None or game.rating is None or game.opponent_rating is None:
            continue
        scored.append(game.score)
        expected.append(expected_score(game.rating, game.opponent_rating))
    return Results(len(scored), sum(scored), sum(expected))

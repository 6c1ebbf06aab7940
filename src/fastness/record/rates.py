"""Held rates with 95 % intervals: Jeffreys, and a bootstrap by game; the wider one is shown."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from fastness.record.episode import Episode

ENOUGH = 8
"""Below this number of episodes it is too few to tell. Common practice, no source: with fewer, a
95 % interval spans half of all there is or more."""
RESAMPLES = 2000
_NORMAL = 1.959964
"""The quantile .975 of the normal distribution."""
SEED = 1851
"""The same games give the same interval on any machine."""

Counts = tuple[int, int]
"""Episodes held, and episodes where a move that holds was there."""


@dataclass(frozen=True, slots=True)
class Rate:
    """Episodes `held` out of those `of` which a move that holds was there.

    `low` and `high` are a 95 % interval for the share, between 0 and 1. `pooled` is the share drawn
    towards the group's, None without a group. Without `enough` it is too few to tell.
    """

    held: int
    of: int
    low: float
    high: float
    pooled: float | None
    enough: bool


def counts_by_game(episodes: Iterable[Episode]) -> list[Counts]:
    """Of each game with an episode that could be held: how many were held, out of how many."""
    games: dict[str, Counts] = {}
    for episode in episodes:
        if episode.could_hold:
            held, of = games.get(episode.game, (0, 0))
            games[episode.game] = held + episode.held, of + 1
    return list(games.values())


def rate_of(episodes: Iterable[Episode]) -> Rate:
    """The held rate of these episodes."""
    return rate_of_counts(counts_by_game(episodes))


def rate_of_counts(games: Sequence[Counts]) -> Rate:
    """The rate of what happened in each of some games, as (held, of)."""
    held, of = sum(one[0] for one in games), sum(one[1] for one in games)
    low, high = interval(games)
    return Rate(held, of, low, high, None, of >= ENOUGH)


def interval(games: Sequence[Counts]) -> tuple[float, float]:
    """The wider of the two 95 % intervals for the share held.

    Jeffreys' takes the episodes to be independent; the bootstrap by game allows for several that
    hang together in one game.
    """
    held, of = sum(one[0] for one in games), sum(one[1] for one in games)
    plain, by_game = jeffreys(held, of), bootstrap_by_game(games)
    return max(plain, by_game, key=lambda ends: ends[1] - ends[0])


def jeffreys(held: int, of: int) -> tuple[float, float]:
    """Jeffreys' 95 % interval: the quantiles .025 and .975 of Beta(held + 1/2, of - held + 1/2).

    The lower end is 0 where nothing was held, the upper end 1 where everything was. Source: Brown,
    Cai and DasGupta 2001, Interval Estimation for a Binomial Proportion, Statistical Science 16.
    """
    from scipy.special import betaincinv

    a, b = held + 0.5, of - held + 0.5
    low = 0.0 if held == 0 else float(betaincinv(a, b, 0.025))
    high = 1.0 if held == of else float(betaincinv(a, b, 0.975))
    return low, high


def bootstrap_by_game(games: Sequence[Counts]) -> tuple[float, float]:
    """A 95 % interval from games drawn again with replacement, each with all its episodes.

    Whole games are drawn, since what happens in one game hangs together: the cluster bootstrap of
    Davison and Hinkley 1997, Bootstrap Methods and their Application, section 3.8. The deviations
    are widened by sqrt(n / (n - 1)) for n games. Its ends stay between 0 and 1; one game alone
    tells nothing, and gives a point.
    """
    held, of = sum(one[0] for one in games), sum(one[1] for one in games)
    if not of:
        return 0.0, 1.0
    share, number = held / of, len(games)
    if number == 1:
        return share, share
    table = np.array(sorted(games), dtype=float)
    drawn = draws(number) @ table
    shares = drawn[:, 0] / np.maximum(drawn[:, 1], 1.0)
    wider = share + (shares - share) * (number / (number - 1)) ** 0.5
    low, high = np.quantile(wider, (0.025, 0.975))
    return max(0.0, float(low)), min(1.0, float(high))


@dataclass(frozen=True, slots=True)
class Sums:
    """What many games come to: their number, what was `held`, out of what, and the squares.

    With h held out of n in a game: `held_held` sums h h, `held_of` h n, `of_of` n n.
    """

    games: int
    held: int
    of: int
    held_held: int
    held_of: int
    of_of: int


def interval_of_sums(sums: Sums) -> tuple[float, float]:
    """The wider of Jeffreys' interval and one by game, where there are too many games to draw from.

    By game it is the share p and 1.96 standard errors of a ratio of totals to either side, with the
    variance m / (m - 1) times the sum over m games of (h - p n)^2, over (sum of n)^2: Cochran 1977,
    Sampling Techniques, equations 6.4 and 6.9 for a small part of all there is (from memory). It
    is what the bootstrap by game comes to with many games. Its ends stay between 0 and 1.
    """
    if not sums.of:
        return 0.0, 1.0
    share = sums.held / sums.of
    plain = jeffreys(sums.held, sums.of)
    if sums.games < 2:
        return plain
    squares = sums.held_held - 2 * share * sums.held_of + share * share * sums.of_of
    error = (max(squares, 0.0) * sums.games / (sums.games - 1)) ** 0.5 / sums.of
    by_game = max(0.0, share - _NORMAL * error), min(1.0, share + _NORMAL * error)
    return max(plain, by_game, key=lambda ends: ends[1] - ends[0])


def draws(games: int, seed: int = SEED) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """How often each game is drawn in each of the resamples: `RESAMPLES` rows, a column a game."""
    dice = np.random.default_rng(seed)
    return dice.multinomial(games, np.full(games, 1 / games), RESAMPLES).astype(np.float64)

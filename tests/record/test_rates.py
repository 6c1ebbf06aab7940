"""Intervals against scipy, a case by hand, and how often they cover the truth."""

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import beta

from fastness.record import episodes_of
from fastness.record.rates import (
    ENOUGH,
    bootstrap_by_game,
    counts_by_game,
    interval,
    jeffreys,
    rate_of,
)
from tests.record.made import occasion, student_game


@pytest.mark.parametrize("held", range(12))
def test_jeffreys_has_the_quantiles_of_scipys_beta(held: int) -> None:
    low, high = jeffreys(held, 11)
    wanted = [float(beta.ppf(q, held + 0.5, 11 - held + 0.5)) for q in (0.025, 0.975)]
    assert low == (0.0 if held == 0 else pytest.approx(wanted[0], abs=1e-12))
    assert high == (1.0 if held == 11 else pytest.approx(wanted[1], abs=1e-12))


def test_jeffreys_by_hand() -> None:
    """One episode, held: Beta(3/2, 1/2). With x = sin^2 t its share below x is (2t - sin 2t) / pi.

    At t = 0.5 that is 0.05046, at t = 0.4 it is 0.02631, at t = 0.39 0.02442: the quantile .025
    lies at t = 0.3931, where x = sin^2 t = 0.1467.
    """
    low, high = jeffreys(1, 1)
    assert low == pytest.approx(0.1467, abs=2e-4)
    assert high == 1.0


def test_nothing_known_is_everything_possible() -> None:
    assert interval([]) == (0.0, 1.0)
    rate = rate_of([])
    assert (rate.held, rate.of, rate.enough) == (0, 0, False)


def test_games_that_hang_together_make_a_wider_interval() -> None:
    apart = interval([(1, 2)] * 10)
    together = interval([(2, 2), (0, 2)] * 5)
    assert apart == jeffreys(10, 20)
    assert together[1] - together[0] > apart[1] - apart[0]


def test_the_wider_of_the_two_is_shown() -> None:
    games = [(5, 5), (0, 5), (5, 5), (4, 5), (0, 5)]
    assert interval(games) == bootstrap_by_game(games) != jeffreys(14, 25)


def test_enough() -> None:
    games = [student_game([occasion()], key=str(number)) for number in range(ENOUGH)]
    episodes = [one for game in games for one in episodes_of(game)]
    assert rate_of(episodes).enough
    assert not rate_of(episodes[1:]).enough


def test_only_what_could_be_held_counts() -> None:
    game = student_game([occasion(40), occasion(42, "saved most", holding=[])])
    assert counts_by_game(episodes_of(game)) == [(1, 1)]


counts = st.integers(1, 5).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of)))


@settings(deadline=None, max_examples=50)
@given(st.lists(counts, max_size=12), st.randoms(use_true_random=False))
def test_the_order_of_the_games_changes_nothing(
    games: list[tuple[int, int]], dice: random.Random
) -> None:
    shuffled = dice.sample(games, len(games))
    assert interval(games) == interval(shuffled)
    low, high = interval(games)
    assert 0 <= low <= high <= 1


@pytest.mark.slow
@pytest.mark.parametrize(
    ("share", "together", "games"),
    [(0.5, 0.1, 30), (0.7, 0.1, 30), (0.7, 0.25, 40), (0.8, 0.1, 60)],
)
def test_95_percent_intervals_cover(share: float, together: float, games: int) -> None:
    """Each game has its own chance, drawn from a beta with this correlation within a game."""
    dice = np.random.default_rng(5)
    weight = 1 / together - 1
    rounds, covered = 1500, 0
    for _ in range(rounds):
        of = dice.poisson(6, games)
        held = dice.binomial(of, dice.beta(share * weight, (1 - share) * weight, games))
        low, high = interval([(int(h), int(n)) for h, n in zip(held, of, strict=True) if n])
        covered += low <= share <= high
    assert 0.92 <= covered / rounds <= 0.98

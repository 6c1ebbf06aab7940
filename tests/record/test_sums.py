"""The interval of sums is that of the bootstrap by game, without the games."""

import numpy as np
import pytest

from fastness.record.rates import Sums, bootstrap_by_game, interval_of_sums, jeffreys


def sums(games: list[tuple[int, int]]) -> Sums:
    held, of = np.array(games).T
    return Sums(
        len(games),
        *(int(one) for one in (held.sum(), of.sum(), held @ held, held @ of, of @ of)),
    )


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_it_is_what_the_bootstrap_comes_to(seed: int) -> None:
    dice = np.random.default_rng(seed)
    chances = dice.beta(2, 30, size=800)
    sizes = dice.integers(100, 800, size=800)
    games = list(zip(dice.binomial(sizes, chances).tolist(), sizes.tolist(), strict=True))
    low, high = interval_of_sums(sums(games))
    from_draws = bootstrap_by_game(games)
    assert (low, high) == pytest.approx(from_draws, abs=0.1 * (high - low))


def test_a_case_by_hand() -> None:
    # Of 1 in 4 and 3 in 4: p = 1/2, residuals -1 and 1, so the error is sqrt(2 * 2) / 8 = 1/4.
    low, high = interval_of_sums(Sums(2, 4, 8, 1 + 9, 4 + 12, 16 + 16))
    assert (low, high) == pytest.approx((0.5 - 1.959964 / 4, 0.5 + 1.959964 / 4))


def test_one_game_and_none() -> None:
    assert interval_of_sums(Sums(1, 3, 9, 9, 27, 81)) == jeffreys(3, 9)
    assert interval_of_sums(Sums(0, 0, 0, 0, 0, 0)) == (0.0, 1.0)

"""Pooling towards the group against a case worked by hand."""

import math

import pytest

from fastness.record import Prior, Rate, group_prior, pooled, pooled_share


def test_a_case_worked_by_hand() -> None:
    """Three students held 2, 5 and 8 of 10.

    p = 15/30 = 1/2; S = 10 (0.09 + 0 + 0.09) = 1.8; p(1-p) = 1/4; k - 1 = 2.
    N - sum n_i^2 / N - (k-1) = 30 - 300/30 - 2 = 18.
    g = (1.8 - 0.25 * 2) / (0.25 * 18) = 1.3 / 4.5 = 13/45; the weight is 45/13 - 1 = 32/13.
    A student with 1 of 4: (1 + 32/13 * 1/2) / (4 + 32/13) = (29/13) / (84/13) = 29/84.
    """
    prior = group_prior([(2, 10), (5, 10), (8, 10)])
    assert prior is not None
    assert prior.share == pytest.approx(1 / 2)
    assert prior.weight == pytest.approx(32 / 13)
    assert pooled_share(1, 4, prior) == pytest.approx(29 / 84)


def test_students_who_differ_by_chance_only_share_one_rate() -> None:
    prior = group_prior([(5, 10), (5, 10), (5, 10)])
    assert prior == Prior(0.5, math.inf)
    assert pooled_share(0, 3, prior) == 0.5


def test_many_episodes_outweigh_the_group() -> None:
    prior = Prior(0.9, 10)
    assert pooled_share(200, 1000, prior) == pytest.approx(209 / 1010)
    assert pooled_share(0, 0, prior) == pytest.approx(0.9)


def test_students_who_are_all_or_nothing() -> None:
    assert group_prior([(0, 5), (5, 5)]) == Prior(0.5, 0.0)
    assert pooled_share(0, 0, Prior(0.5, 0.0)) == 0.5


@pytest.mark.parametrize("group", [[], [(3, 4)], [(3, 4), (0, 0)]])
def test_one_student_is_no_group(group: list[tuple[int, int]]) -> None:
    rate = Rate(1, 4, 0.1, 0.7, None, enough=False)
    assert group_prior(group) is None
    assert pooled(rate, group) == rate

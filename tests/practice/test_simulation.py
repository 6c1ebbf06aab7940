"""Spacing by FSRS against a fixed interval, on students who forget by laws of their own."""

from __future__ import annotations

import statistics

import pytest

from scripts.simulate_practice import GROWS, LAWS, WAYS, term

STUDENTS = 12


@pytest.mark.slow
@pytest.mark.parametrize("law", LAWS)
@pytest.mark.parametrize("sort", GROWS)
def test_more_is_known_later_than_by_asking_every_week(law: str, sort: str) -> None:
    def later(way: str) -> list[float]:
        found = (term(LAWS[law], GROWS[sort], WAYS[way], seed) for seed in range(STUDENTS))
        return [one.later for one in found]

    spaced, weekly = later("fsrs"), later("weekly")
    assert statistics.fmean(spaced) > statistics.fmean(weekly) + 0.05
    assert sum(one > other for one, other in zip(spaced, weekly, strict=True)) >= STUDENTS - 1

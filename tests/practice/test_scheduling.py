"""When what was tried comes back: against the library's published values, and worked by hand."""

from __future__ import annotations

import datetime

import pytest
from fsrs import Card, Rating, Scheduler

from fastness.errors import InputError
from fastness.practice.scheduling import Tried, rating_of, schedule

DAY = datetime.date(2026, 9, 1)


def after(days: int) -> datetime.date:
    return DAY + datetime.timedelta(days=days)


def right(days: int, pattern: str = "a") -> Tried:
    return Tried(pattern, after(days), right=True)


def wrong(days: int, pattern: str = "a") -> Tried:
    return Tried(pattern, after(days), right=False)


def test_the_library_gives_its_published_intervals() -> None:
    """`test_review_card` of tests/test_basic.py in the source archive of PyPI `fsrs` 6.3.2."""
    ratings = [Rating.Good] * 6 + [Rating.Again] * 2 + [Rating.Good] * 5
    scheduler, card, found = Scheduler(enable_fuzzing=False), Card(), []
    moment = datetime.datetime(2022, 11, 29, 12, 30, tzinfo=datetime.UTC)
    for rating in ratings:
        card, _ = scheduler.review_card(card, rating, moment)
        assert card.last_review is not None
        found.append((card.due - card.last_review).days)
        moment = card.due
    assert found == [0, 2, 11, 46, 163, 498, 0, 0, 2, 4, 7, 12, 21]


def test_the_library_gives_its_published_stability() -> None:
    """`test_memo_state` of the same file."""
    scheduler, card = Scheduler(), Card()
    moment = datetime.datetime(2022, 11, 29, 12, 30, tzinfo=datetime.UTC)
    ratings = [Rating.Again] + [Rating.Good] * 5
    for rating, days in zip(ratings, [0, 0, 1, 3, 8, 21], strict=True):
        moment += datetime.timedelta(days=days)
        card, _ = scheduler.review_card(card, rating, moment)
    assert card.stability == pytest.approx(53.62691, abs=1e-4)
    assert card.difficulty == pytest.approx(6.3574867, abs=1e-4)


def test_the_first_answer_by_hand() -> None:
    """At a retention of 0.9 the interval is the stability: 2.3065 days if right, 0.212 if wrong.

    The third and the first of the 21 default weights; whole days, and one at the least.
    """
    found = schedule([right(0, "right"), wrong(0, "wrong")])
    assert found["right"].stability == pytest.approx(2.3065)
    assert found["right"].due == after(2)
    assert found["wrong"].stability == pytest.approx(0.212)
    assert found["wrong"].due == after(1)


def test_the_chance_of_knowing_it_is_the_retention_when_it_is_due() -> None:
    one = schedule([right(0), right(2), right(13)])["a"]
    assert one.recall(one.due) == pytest.approx(0.9, abs=0.01)
    assert one.recall(one.due + datetime.timedelta(days=60)) < one.recall(one.due) < 1


def test_what_was_missed_comes_back_sooner() -> None:
    kept, missed = [right(0), right(2), right(13)], [right(0), right(2), wrong(13)]
    assert schedule(missed)["a"].due < schedule(kept)["a"].due
    asked_for_more = schedule(kept, retention=0.97)["a"]
    assert asked_for_more.due < schedule(kept)["a"].due


def test_the_order_of_the_attempts_is_their_days() -> None:
    assert schedule([right(2), wrong(0)]) == schedule([wrong(0), right(2)])


@pytest.mark.parametrize(
    ("tried", "rating"),
    [
        (Tried("a", DAY, False, 10, 60), Rating.Again),
        (Tried("a", DAY, True, 60, 60), Rating.Good),
        (Tried("a", DAY, True, 179, 60), Rating.Good),
        (Tried("a", DAY, True, 181, 60), Rating.Hard),
        (Tried("a", DAY, True), Rating.Good),
    ],
)
def test_an_answer_as_the_library_rates_it(tried: Tried, rating: Rating) -> None:
    assert rating_of(tried) == rating


@pytest.mark.parametrize("retention", [0, 1, -0.5, 1.5])
def test_a_retention_that_cannot_be(retention: float) -> None:
    with pytest.raises(InputError, match="between 0 and 1"):
        schedule([right(0)], retention)

"""A rate over the dates, and before and after a date."""

import pytest

from fastness.record import Episode, before_and_after, episodes_of, halves, trend
from tests.record.made import occasion, student_game


def episodes(*days: tuple[str, int, int], each: int = 2) -> list[Episode]:
    """For each (date, held, of), that many episodes, `each` so many a game."""
    found = []
    for date, held, of in days:
        for number in range(of):
            outcome = "held" if number < held else "let fall"
            made = occasion(40 + number % 2 * 2, outcome)
            found += episodes_of(student_game([made], key=f"{date} {number // each}", date=date))
    return found


def test_before_and_after_stand_side_by_side() -> None:
    change = before_and_after(episodes(("2026.09.07", 2, 20), ("2026.09.14", 18, 20)), "2026.09.14")
    assert (change.before.held, change.before.of) == (2, 20)
    assert (change.after.held, change.after.of) == (18, 20)
    assert change.enough
    # 0.8 less and more the root of the sum of the squared distances: Newcombe 1998, method 10.
    before, after = change.before, change.after
    assert change.low == pytest.approx(
        0.8 - ((0.9 - after.low) ** 2 + (before.high - 0.1) ** 2) ** 0.5
    )
    assert change.high == pytest.approx(
        0.8 + ((after.high - 0.9) ** 2 + (0.1 - before.low) ** 2) ** 0.5
    )


def test_newcombes_own_example_of_two_shares() -> None:
    """56 of 70 against 48 of 80, from memory: .20, and .0524 to .3339 by Wilson's intervals.

    Jeffreys' intervals, used here, lie within a hundredth of Wilson's at these numbers.
    """
    change = before_and_after(
        episodes(("2026.09.07", 48, 80), ("2026.09.14", 56, 70), each=1), "2026.09.14"
    )
    assert change.low == pytest.approx(0.0524, abs=0.01)
    assert change.high == pytest.approx(0.3339, abs=0.01)


def test_few_on_one_side_are_too_few_to_tell() -> None:
    change = before_and_after(episodes(("2026.09.07", 2, 20), ("2026.09.14", 2, 2)), "2026.09.14")
    assert not change.enough
    none = before_and_after(episodes(("2026.09.07", 2, 20)), "2026.09.14")
    assert (none.low, none.high, none.enough) == (-1.0, 1.0, False)


def test_a_trend_has_periods_of_as_many_days() -> None:
    days = [(f"2026.09.{day:02}", day % 3, 4) for day in range(1, 9)]
    periods = trend(episodes(*days))
    assert [(one.first, one.last) for one in periods] == [
        ("2026.09.01", "2026.09.02"),
        ("2026.09.03", "2026.09.04"),
        ("2026.09.05", "2026.09.06"),
        ("2026.09.07", "2026.09.08"),
    ]
    assert [one.rate.held for one in periods] == [3, 1, 2, 3]


def test_dates_not_known_in_full_are_left_out() -> None:
    assert trend(episodes(("2026.??.??", 3, 4))) == []
    assert halves(episodes(("2026.??.??", 3, 4), ("2026.09.07", 3, 4))) is None


def test_halves() -> None:
    change = halves(episodes(("2026.09.07", 1, 10), ("2026.09.14", 9, 10)))
    assert change is not None
    assert (change.before.held, change.after.held) == (1, 9)

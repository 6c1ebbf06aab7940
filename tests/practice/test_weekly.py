"""A week's set: what comes back, what is new, its length, and what stands beside what."""

from __future__ import annotations

import datetime
import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fastness.errors import InputError
from fastness.exercises.choice import Candidate
from fastness.exercises.exercise import KINDS, Kind
from fastness.practice.scheduling import SECONDS, Tried, schedule
from fastness.practice.weekly import SHOWN_SECONDS, Item, Student, week_set

WEEK = datetime.date(2026, 11, 30)
CAUSES = ("pin", "fork", "unguarded", "trapped")


def seconds(item: Item) -> float:
    return SECONDS[item.exercise.kind]


def item(
    number: int, cause: str = "pin", kind: Kind = "better way", of: int = 0, pattern: str = ""
) -> Item:
    """An exercise in a position of its own; `of` is the number whose twin it is."""
    fen = f"position{number} w - - 0 1"
    one = Candidate(
        number, fen, kind, "club", True, (cause,), ("move",), pattern or f"pattern{number}"
    )
    return Item(one, number / 100, f"position{of} w - - 0 1" if of else "")


def shelf(count: int) -> list[Item]:
    """All causes and kinds; every fifth is the twin of the one before it."""
    return [
        item(
            number,
            CAUSES[number % len(CAUSES)] if number % 5 else CAUSES[(number - 1) % len(CAUSES)],
            KINDS[number // 5 % len(KINDS)],
            of=number - 1 if number % 5 == 0 else 0,
        )
        for number in range(1, count + 1)
    ]


def missed(pattern: str, days: int) -> Tried:
    return Tried(pattern, WEEK - datetime.timedelta(days=days), right=False)


def test_what_was_missed_comes_first() -> None:
    due = schedule([missed("pattern7", 3), missed("pattern3", 10)])
    made = week_set(shelf(20), Student(due, frozenset({3, 7})), WEEK, 4, seconds)
    back = {one.item.exercise.number for one in made.asked if one.why == "due"}
    assert back == {3, 7}


def test_one_of_the_like_that_was_not_tried_comes_back() -> None:
    alike = [item(1, pattern="same"), item(2, pattern="same")]
    due = schedule([missed("same", 3)])
    made = week_set(alike, Student(due, frozenset({1})), WEEK, 10, seconds)
    assert [one.item.exercise.number for one in made.asked] == [2]


def test_what_is_not_due_does_not_come() -> None:
    kept = [Tried("pattern1", WEEK - datetime.timedelta(days=at), True) for at in (30, 28, 17, 1)]
    made = week_set([item(1), item(2)], Student(schedule(kept)), WEEK, 10, seconds)
    assert [one.item.exercise.number for one in made.asked] == [2]


def test_weaknesses_come_before_the_rest_in_turn() -> None:
    items = [item(at, "unguarded") for at in range(1, 9)]
    items += [item(20, "fork"), item(21, "fork"), item(30, "trapped")]
    student = Student(weak=("fork", "trapped"), met=frozenset({"fork", "trapped", "unguarded"}))
    made = week_set(items, student, WEEK, 6, seconds)
    assert {one.item.exercise.number for one in made.asked} == {20, 21, 30}


def test_a_new_theme_is_shown_before_it_is_asked() -> None:
    items = [item(at) for at in range(1, 6)]
    made = week_set(items, Student(), WEEK, 8, seconds)
    assert len(made.shown) == 1
    asked = {one.item.exercise.number for one in made.asked}
    assert made.shown[0].exercise.number not in asked
    known = week_set(items, Student(met=frozenset({"pin"})), WEEK, 8, seconds)
    assert not known.shown


def test_a_twin_stands_behind_its_position() -> None:
    items = [item(1), item(2, "fork"), item(3, of=1), item(4, "trapped")]
    made = week_set(items, Student(met=frozenset(CAUSES)), WEEK, 30, seconds)
    numbers = [one.item.exercise.number for one in made.asked]
    assert numbers.index(3) == numbers.index(1) + 1


def test_neighbours_differ_where_they_can() -> None:
    items = [item(at, cause) for at, cause in enumerate(["pin"] * 4 + ["fork"] * 4, 1)]
    made = week_set(items, Student(met=frozenset(CAUSES)), WEEK, 60, seconds)
    themes = [one.item.theme for one in made.asked]
    assert len(themes) == 8
    assert all(one != other for one, other in itertools.pairwise(themes))


@given(
    count=st.integers(1, 60),
    minutes=st.integers(1, 60),
    tried=st.lists(st.tuples(st.integers(1, 60), st.integers(0, 90), st.booleans()), max_size=40),
    weak=st.lists(st.sampled_from(CAUSES), unique=True),
)
def test_any_set_is_as_long_as_asked_and_nothing_stands_twice(
    count: int, minutes: int, tried: list[tuple[int, int, bool]], weak: list[str]
) -> None:
    items = shelf(count)
    attempts = [
        Tried(f"pattern{at}", WEEK - datetime.timedelta(days=days), right)
        for at, days, right in tried
    ]
    student = Student(
        schedule(attempts), frozenset(at for at, _, _ in tried), 0.0, tuple(weak), frozenset(weak)
    )
    made = week_set(items, student, WEEK, minutes, seconds)
    assert made == week_set(list(reversed(items)), student, WEEK, minutes, seconds)
    longest = 2 * max(SECONDS.values()) + SHOWN_SECONDS
    assert made.seconds < minutes * 60 + longest
    every = [*made.shown, *(one.item for one in made.asked)]
    assert len({one.exercise.pattern for one in every}) == len(every)
    assert len({one.exercise.fen for one in every}) == len(every)
    numbers = [one.item.exercise.number for one in made.asked]
    for at, one in enumerate(made.asked):
        if one.why == "twin":
            assert one.item.of == made.asked[at - 1].item.exercise.fen
    if made.seconds < minutes * 60:
        # All that is new or due and fits was taken.
        new = {
            one.exercise.number for one in items if one.exercise.pattern not in student.scheduled
        }
        left = new - set(numbers) - {one.exercise.number for one in made.shown}
        assert not left


@pytest.mark.parametrize("minutes", [0, -1, 121])
def test_a_length_that_cannot_be(minutes: float) -> None:
    with pytest.raises(InputError, match="1 to 120 minutes"):
        week_set(shelf(3), Student(), WEEK, minutes, seconds)

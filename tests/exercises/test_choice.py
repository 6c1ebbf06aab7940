"""A balanced choice: what is in it, and that it is the same each time."""

import random
from collections import Counter

import pytest

from fastness.errors import InputError
from fastness.exercises.choice import ONE_IN, Candidate, choose, choose_each_level
from fastness.exercises.exercise import LEVELS


def candidates(count: int = 240) -> list[Candidate]:
    """Mostly plain ones of one cause, as mining finds them."""
    dice = random.Random(6)
    found = []
    for number in range(count):
        unsafe = dice.random() < 0.9
        causes = ("unguarded",) * 8 + ("pin", "fork")
        found.append(
            Candidate(
                number=number,
                fen=f"position{number % 200} w - - 0 {number}",
                kind="every move" if dice.random() < 0.8 else "which unit",
                level=dice.choice(("plain", "plain", "plain", "club", "stretch")),
                unsafe=unsafe,
                mechanisms=(dice.choice(causes),) if unsafe else (),
                ways=(dice.choice(("move", "move", "guard", "block")),) if unsafe else (),
                pattern=f"pattern{number % 150}",
            )
        )
    return found


def test_levels_causes_and_ways_are_balanced_and_some_are_safe() -> None:
    chosen = choose(candidates(), 24, seed=3)
    assert len(chosen) == 24
    assert Counter(one.level for one in chosen) == dict.fromkeys(LEVELS, 8)
    assert sum(not one.unsafe for one in chosen) == 24 // ONE_IN
    causes = Counter(name for one in chosen for name in one.mechanisms)
    assert set(causes) == {"unguarded", "pin", "fork"}
    assert min(causes.values()) >= 4
    ways = Counter(name for one in chosen for name in one.ways)
    assert set(ways) == {"move", "guard", "block"}
    assert min(ways.values()) >= 4


def test_each_level_has_its_own_balance() -> None:
    chosen = choose_each_level(candidates(), 8, seed=3)
    assert Counter(one.level for one in chosen) == dict.fromkeys(LEVELS, 8)
    for level in LEVELS:
        of_level = [one for one in chosen if one.level == level]
        assert sum(not one.unsafe for one in of_level) == 8 // ONE_IN
        assert len({name for one in of_level for name in one.mechanisms}) == 3
    assert len({one.pattern for one in chosen}) == len(chosen)


def test_a_level_with_few_has_what_there_is() -> None:
    every = [one for one in candidates() if one.level != "stretch" or one.number < 40]
    chosen = Counter(one.level for one in choose_each_level(every, 12, seed=3))
    assert chosen["plain"] == chosen["club"] == 12
    assert 0 < chosen["stretch"] < 12
    with pytest.raises(InputError, match="at least 1"):
        choose_each_level(every, 0, seed=3)


def test_no_two_of_one_pattern_or_position() -> None:
    chosen = choose(candidates(), 300, seed=3)
    assert len({one.pattern for one in chosen}) == len(chosen)
    assert len({one.fen.split()[0] for one in chosen}) == len(chosen)
    # All are taken that may be: the patterns are fewer than the positions.
    assert len(chosen) > 100


def test_the_seed_decides_and_the_order_does_not() -> None:
    every = candidates()
    turned = list(reversed(every))
    assert choose(every, 12, seed=1) == choose(turned, 12, seed=1)
    assert choose(every, 12, seed=1) != choose(every, 12, seed=2)


def test_few_and_none() -> None:
    assert choose([], 6, seed=1) == []
    assert len(choose(candidates(2), 6, seed=1)) == 2
    with pytest.raises(InputError, match="at least 1"):
        choose(candidates(), 0, seed=1)

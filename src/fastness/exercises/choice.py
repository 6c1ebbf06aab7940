"""A balanced choice of exercises: levels, causes, ways and kinds, and some where nothing falls."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from fastness.errors import InputError
from fastness.exercises.exercise import Kind, Level
from fastness.survey.position import position_key

ONE_IN = 4
"""One exercise in so many has nothing unsafe, so that guessing does not pay; common practice, no
source."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """What a choice looks at: the number on the shelf and what the exercise is about."""

    number: int
    fen: str
    kind: Kind
    level: Level
    unsafe: bool
    mechanisms: tuple[str, ...]
    ways: tuple[str, ...]
    pattern: str


def choose(candidates: Sequence[Candidate], count: int, *, seed: int) -> list[Candidate]:
    """`count` exercises, fewer where there are not enough; no two of one pattern or position.

    Each time the one is taken of which least was taken before: first that one in `ONE_IN` has
    nothing unsafe, then the level, then cause, way and kind. Equals are drawn by `seed`; the same
    candidates in any order and the same seed give the same choice. Raises InputError where
    `count` is below 1.
    """
    if count < 1:
        raise InputError(f"at least 1 exercise can be chosen, not {count}")
    return _drawn(candidates, seed, _crowded, lambda _, chosen: len(chosen) < count)


def choose_each_level(candidates: Sequence[Candidate], count: int, *, seed: int) -> list[Candidate]:
    """`count` exercises of each level, fewer where there are not enough; otherwise as `choose`.

    Each level is for readers of its own: it has its own share with nothing unsafe, and its own
    balance of causes, ways and kinds.
    """
    if count < 1:
        raise InputError(f"at least 1 exercise of a level can be chosen, not {count}")

    def crowded(one: Candidate, chosen: Sequence[Candidate]) -> tuple[bool, int, float]:
        return _crowded(one, _of_level(one, chosen))

    def is_wanted(one: Candidate, chosen: Sequence[Candidate]) -> bool:
        return len(_of_level(one, chosen)) < count

    return _drawn(candidates, seed, crowded, is_wanted)


def _of_level(one: Candidate, chosen: Sequence[Candidate]) -> list[Candidate]:
    return [other for other in chosen if other.level == one.level]


def _drawn(
    candidates: Sequence[Candidate],
    seed: int,
    crowded: Callable[[Candidate, Sequence[Candidate]], tuple[bool, int, float]],
    is_wanted: Callable[[Candidate, Sequence[Candidate]], bool],
) -> list[Candidate]:
    """One after another the least crowded of those that are still wanted, none like another."""
    left = sorted(candidates, key=lambda one: one.number)
    random.Random(seed).shuffle(left)
    chosen: list[Candidate] = []
    while left := [one for one in left if is_wanted(one, chosen)]:
        best = min(left, key=lambda one: crowded(one, chosen))
        chosen.append(best)
        left = [
            one
            for one in left
            if one.pattern != best.pattern and position_key(one.fen) != position_key(best.fen)
        ]
    return chosen


def _crowded(one: Candidate, chosen: Sequence[Candidate]) -> tuple[bool, int, float]:
    """How much there is of the like already; the least is taken next."""
    quiet = sum(not other.unsafe for other in chosen)
    wants_quiet = (len(chosen) + 1) // ONE_IN > quiet
    levels = sum(other.level == one.level for other in chosen)
    themes = (
        _mean(one.mechanisms, (name for other in chosen for name in other.mechanisms))
        + _mean(one.ways, (name for other in chosen for name in other.ways))
        + sum(other.kind == one.kind for other in chosen)
    )
    return one.unsafe == wants_quiet, levels, themes


def _mean(names: Sequence[str], before: Iterable[str]) -> float:
    """How often the names came before, on average; 0 without a name."""
    counted = Counter(before)
    return sum(counted[name] for name in names) / len(names) if names else 0.0

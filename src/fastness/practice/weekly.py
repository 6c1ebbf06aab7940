"""A set for one week: what is due, then what is new, as long as the teacher says."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain
from typing import Literal

from fastness.errors import InputError
from fastness.exercises.choice import Candidate
from fastness.practice.scheduling import Scheduled
from fastness.survey.position import position_key

DAYS = 7
SHOWN_SECONDS = 60.0
"""Seconds to read a worked example; common practice, no source."""
EASIER = 1.1
"""Logits below the student's ability at which what is new is looked for: right three times in four
by the model of Rasch 1960."""
MOST_MINUTES = 120

Why = Literal["due", "new", "twin"]


@dataclass(frozen=True, slots=True)
class Item:
    """An exercise of the shelf as a week is made of it.

    `difficulty` is in logits. `of` is the FEN of the position that a twin was made from.
    """

    exercise: Candidate
    difficulty: float
    of: str = ""

    @property
    def theme(self) -> str:
        """What it is about: the first cause, or else the first way; empty without either."""
        return next(iter([*self.exercise.mechanisms, *self.exercise.ways]), "")


@dataclass(frozen=True, slots=True)
class Student:
    """What is known of a student: what was tried and when it is due, ability, and weaknesses.

    `ability` is in logits. `tried` are the numbers of the exercises answered before. `weak` are
    causes and ways, the one that costs most first; `met` those of all that was answered before.
    """

    scheduled: Mapping[str, Scheduled] = field(default_factory=dict)
    tried: frozenset[int] = frozenset()
    ability: float = 0.0
    weak: tuple[str, ...] = ()
    met: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Asked:
    """An exercise of the set, and why it is there."""

    item: Item
    why: Why


@dataclass(frozen=True, slots=True)
class WeekSet:
    """What is shown with its answer first, then what is asked in its order; how long it takes."""

    shown: tuple[Item, ...]
    asked: tuple[Asked, ...]
    seconds: float


Seconds = Callable[[Item], float]
"""How long an exercise takes."""


def week_set(
    items: Sequence[Item], student: Student, week: datetime.date, minutes: float, seconds: Seconds
) -> WeekSet:
    """The set for the seven days from `week` on, about `minutes` long.

    It is longer by an exercise and its twin at most. What is due by the end of the week comes
    first, the likeliest forgotten before; then what is new: weaknesses in turn, and nearest to
    what the student should find. A twin follows its position. No two exercises of one pattern or
    position. Equals are taken by number, so that the same input gives the same set. Raises
    InputError where the length is not above 0, or too long.
    """
    if not 0 < minutes <= MOST_MINUTES:
        raise InputError(f"a week's practice takes 1 to {MOST_MINUTES} minutes, not {minutes:g}")
    room = minutes * 60
    taken: list[list[Asked]] = []
    shown: list[Item] = []
    used: set[str] = set()
    themes = set(student.met)
    ordered = sorted(items, key=lambda one: one.exercise.number)
    for first in _wanted(ordered, student, week):
        if room <= 0:
            break
        block = [one for one in _with_twin(first, ordered, student) if not _used(one.item, used)]
        if not block or block[0] is not first:
            continue
        theme = first.item.theme
        if theme and theme not in themes:
            example = _example(
                theme, ordered, student, used.union(*(_keys(one.item) for one in block))
            )
            if example is not None:
                shown.append(example)
                used |= _keys(example)
                room -= SHOWN_SECONDS
            themes.add(theme)
        taken.append(block)
        for one in block:
            used |= _keys(one.item)
            room -= seconds(one.item)
    asked = tuple(chain.from_iterable(_interleaved(taken)))
    length = sum(seconds(one.item) for one in asked) + SHOWN_SECONDS * len(shown)
    return WeekSet(tuple(shown), asked, length)


def _wanted(items: Sequence[Item], student: Student, week: datetime.date) -> Iterator[Asked]:
    """What is due by the end of the week, then what is new, the most wanted first."""
    end = week + datetime.timedelta(days=DAYS - 1)
    by_pattern: dict[str, list[Item]] = {}
    for item in items:
        by_pattern.setdefault(item.exercise.pattern, []).append(item)
    due = [
        one
        for pattern, one in student.scheduled.items()
        if pattern in by_pattern and one.due <= end
    ]
    due.sort(key=lambda one: (one.recall(week), one.pattern))
    for one in due:
        # One of the like that was not tried yet, so that no picture is learnt by heart.
        alike = by_pattern[one.pattern]
        yield Asked(min(alike, key=lambda item: item.exercise.number in student.tried), "due")
    new = [item for item in items if item.exercise.pattern not in student.scheduled]
    yield from (Asked(item, "new") for item in _new_in_turn(new, student))


def _new_in_turn(items: Sequence[Item], student: Student) -> Iterator[Item]:
    """Weakness by weakness in turn, then the rest; of each, what is nearest to be found."""
    aim = student.ability - EASIER
    left = sorted(items, key=lambda one: (abs(one.difficulty - aim), one.exercise.number))
    while left:
        round_: list[Item] = []
        for weak in student.weak:
            fits = [one for one in left if one not in round_ and _is_about(one, weak)]
            round_ += fits[:1]
        if not round_:
            yield from left
            return
        yield from round_
        left = [one for one in left if one not in round_]


def _is_about(item: Item, name: str) -> bool:
    return name in item.exercise.mechanisms or name in item.exercise.ways


def _with_twin(first: Asked, items: Sequence[Item], student: Student) -> list[Asked]:
    """An exercise with its twin behind it, or before it the position that it is a twin of."""
    key = position_key(first.item.exercise.fen)
    same = [
        one
        for one in items
        if one.exercise.kind == first.item.exercise.kind
        and one.exercise.number not in student.tried
        and one.of
        and position_key(one.of) == key
    ]
    return [first, *(Asked(twin, "twin") for twin in same[:1])]


def _example(theme: str, items: Iterable[Item], student: Student, used: set[str]) -> Item | None:
    """The easiest exercise about a theme that was not tried and is like nothing in the set."""
    fits = [
        one
        for one in items
        if one.theme == theme
        and one.exercise.kind in ("better way", "every move")
        and one.exercise.number not in student.tried
        and not _used(one, used)
    ]
    return min(fits, key=lambda one: (one.difficulty, one.exercise.number), default=None)


def _keys(item: Item) -> set[str]:
    return {item.exercise.pattern, position_key(item.exercise.fen)}


def _used(item: Item, used: set[str]) -> bool:
    return bool(_keys(item) & used)


def _interleaved(blocks: Sequence[list[Asked]]) -> list[list[Asked]]:
    """The blocks so that neighbours differ in theme and kind as far as that can be."""
    left, ordered = list(blocks), list[list[Asked]]()
    while left:
        last = ordered[-1][-1].item if ordered else None
        best = min(left, key=lambda block: _likeness(last, block[0].item))
        left.remove(best)
        ordered.append(best)
    return ordered


def _likeness(last: Item | None, following: Item) -> int:
    if last is None:
        return 0
    theme = bool(last.theme) and last.theme == following.theme
    return 2 * theme + (last.exercise.kind == following.exercise.kind)

"""When what a student has tried comes back, by the FSRS library from the attempts alone.

FSRS (Ye, Su and Cao, "A Stochastic Shortest Path Algorithm for Optimizing Spaced Repetition
Scheduling", KDD 2022) keeps for each item a stability, the days after which it is recalled with a
chance of 0.9, and a difficulty. Nothing of it is stored here: a schedule is the attempts played
through again, so that a correction of an attempt changes all that follows from it.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fastness.errors import InputError
from fastness.exercises.exercise import Kind

if TYPE_CHECKING:
    from fsrs import Card, Rating, Scheduler

RETENTION = 0.9
"""The chance of knowing it still when it comes back; the library's own default."""
SLOW = 3.0
"""A right answer that takes so many times as long as expected was hard; common practice, no
source."""
SECONDS: dict[Kind, float] = {
    "which unit": 60.0,
    "every move": 150.0,
    "better way": 120.0,
    "why it fails": 90.0,
    "is it safe": 45.0,
}
"""Seconds that a question takes where nobody has been timed at it; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Tried:
    """One judged attempt: at which pattern of exercises, on which day, and whether right.

    `seconds` is how long it took and `expected` how long such a question takes, if it was timed.
    """

    pattern: str
    made: datetime.date
    right: bool
    seconds: float | None = None
    expected: float | None = None


@dataclass(frozen=True, slots=True)
class Scheduled:
    """A pattern that was tried: when it is due, and its stability in days.

    `last` is the day of the last attempt.
    """

    pattern: str
    due: datetime.date
    stability: float
    last: datetime.date
    card: Card

    def recall(self, day: datetime.date) -> float:
        """The chance of knowing it on a day, by the model, from 0 to 1."""
        from fsrs import Scheduler

        return float(Scheduler().get_card_retrievability(self.card, _noon(day)))


def schedule(tried: Iterable[Tried], retention: float = RETENTION) -> dict[str, Scheduled]:
    """Each pattern that was tried with the day it is due, by pattern.

    Attempts at different exercises of one pattern count as attempts at one thing. Those of a day
    are played in the order given. Raises InputError where `retention` is not between 0 and 1.
    """
    if not 0 < retention < 1:
        raise InputError(f"the retention is a chance between 0 and 1, not {retention}")
    scheduler = _scheduler(retention)
    cards: dict[str, Card] = {}
    last: dict[str, datetime.date] = {}
    for one in sorted(tried, key=lambda each: each.made):
        card = cards.get(one.pattern) or _new(one.made)
        cards[one.pattern], _ = scheduler.review_card(card, rating_of(one), _noon(one.made))
        last[one.pattern] = one.made
    return {
        pattern: Scheduled(
            pattern, card.due.date(), float(card.stability or 0.0), last[pattern], card
        )
        for pattern, card in cards.items()
    }


def rating_of(tried: Tried) -> Rating:
    """Again for a wrong answer, Hard for a right one that took long, Good for any other."""
    from fsrs import Rating

    if not tried.right:
        return Rating.Again
    timed = tried.seconds is not None and tried.expected is not None
    if timed and (tried.seconds or 0) > SLOW * (tried.expected or 0):
        return Rating.Hard
    return Rating.Good


def _scheduler(retention: float) -> Scheduler:
    """Days alone: no steps of minutes, and no chance in the intervals."""
    from fsrs import Scheduler

    return Scheduler(
        desired_retention=retention,
        learning_steps=(),
        relearning_steps=(),
        enable_fuzzing=False,
    )


def _new(day: datetime.date) -> Card:
    from fsrs import Card

    return Card(card_id=0, due=_noon(day))


def _noon(day: datetime.date) -> datetime.datetime:
    return datetime.datetime.combine(day, datetime.time(12), tzinfo=datetime.UTC)

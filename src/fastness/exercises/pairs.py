"""Pairs: a position and its twin, and the questions that both can be asked.

Shown beside each other, the same question has two answers.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fastness.exercises.admission import exercises_of, firm_enough
from fastness.exercises.change_words import twin_in_words
from fastness.exercises.exercise import Exercise, Kind, Proved
from fastness.exercises.twin import Twin
from fastness.language import ENGLISH, Language

ASKED: tuple[Kind, ...] = ("better way", "every move")
"""The questions whose answers differ between twins, besides whether the old best move is safe."""


@dataclass(frozen=True, slots=True)
class Pair:
    """A position and its twin, both proved.

    `exercises` are the same question about the one and about the other, the best pair first.
    """

    first: Proved
    twin: Proved
    change: Twin
    exercises: tuple[tuple[Exercise, Exercise], ...]

    def told(self, language: Language = ENGLISH) -> str:
        """What the change does."""
        return twin_in_words(self.change, language)

    def all_exercises(self) -> list[Exercise]:
        """The exercises of both positions, each position's after one another."""
        return [one for place in (0, 1) for one in (both[place] for both in self.exercises)]


def pair_of(first: Proved, change: Twin, twin: Proved) -> Pair | None:
    """A position and its twin as a pair; None where no question about both has firm answers."""
    exercises = tuple(_same_questions(first, twin, change.lead))
    return Pair(first, twin, change, exercises) if exercises else None


def _same_questions(first: Proved, twin: Proved, lead: str) -> Iterator[tuple[Exercise, Exercise]]:
    asked, of_twin = _by_kind(first), _by_kind(twin)
    pairs = [(asked[kind], of_twin[kind]) for kind in ASKED if kind in asked and kind in of_twin]
    safe, still_safe = _is_it_safe(first, lead), _is_it_safe(twin, lead)
    if safe and still_safe:
        pairs.append((safe, still_safe))
    yield from (both for both in pairs if both[0].accepted != both[1].accepted)


def _by_kind(proved: Proved) -> dict[Kind, Exercise]:
    return {one.kind: one for one in exercises_of(proved) if one.kind in ASKED}


def _is_it_safe(proved: Proved, lead: str) -> Exercise | None:
    """The move that is best in the one: is it safe here? None where that is not firm."""
    verdict = proved.verdict(lead)
    if not verdict["firm"] or not firm_enough(proved):
        return None
    return Exercise("is it safe", proved, ("yes" if verdict["holds"] else "no",), (), lead)

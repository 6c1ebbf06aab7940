"""A lesson as it is shown and spoken: each picture with its sentences, and when they are said."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from fastness.exercises.proving import REACH
from fastness.language import Language
from fastness.lessons.lesson import Lesson
from fastness.lessons.prose import clauses, title_of
from fastness.lessons.script import Said, Section, sections
from fastness.lessons.seen import Seen
from fastness.publish.lesson_steps import Step, bare, steps_of
from fastness.survey.lines import read_notation

WORDS_A_MINUTE = 130
"""How fast is spoken, where nothing else is asked for."""
SLOWEST, FASTEST = 60, 240
SILENT = 3000
"""Milliseconds for which a picture stands of which nothing is said."""
_ASKS = re.compile(r"\?|^\d+[.)]\s")
"""A question, or its number."""
_MOVE = re.compile(r"(\d+\.+\s?)?\b([A-Z]?[a-h]?[1-8]?x?[a-h][1-8](?:=[A-Z])?|O-O-O|O-O|0-0-0|0-0)")


@dataclass(frozen=True, slots=True)
class Timed:
    """A sentence with its beginning and its end, in milliseconds from the beginning."""

    text: str
    start: int
    end: int
    chapter: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture in its turn: `number` from 1, `position` from 1, its step and what is said.

    It is shown from `start` to `end`, in milliseconds. `chapter` is the heading or the position
    that begins with it.
    """

    number: int
    position: int
    step: Step
    said: tuple[Timed, ...]
    start: int
    end: int
    chapter: str = ""


@dataclass(frozen=True, slots=True)
class Show:
    """The whole of it."""

    title: str
    language: Language
    words_a_minute: int
    pictures: tuple[Picture, ...]
    sections: tuple[Section, ...]
    seen: dict[int, Seen] = field(default_factory=dict)
    """The positions as they were looked at, by their number."""

    @property
    def length(self) -> int:
        """How long it takes, in milliseconds."""
        return self.pictures[-1].end if self.pictures else 0


def show_of(
    lesson: Lesson, otherwise: str, language: Language, words_a_minute: int = WORDS_A_MINUTE
) -> Show:
    """The pictures of a lesson without faults, with the prose as it is spoken.

    `otherwise` is its title where it has no heading. What is said, up to a comma, goes to the next
    picture of the position that shows a move it names, and what follows it stays there.
    """
    clock = _Clock(words_a_minute)
    title, found = title_of(lesson, otherwise), sections(lesson)
    pictures: list[Picture] = []
    seen: dict[int, Seen] = {}
    for section in found:
        place = section.block.place
        if place is None:
            continue
        seen[section.number] = Seen(place, REACH, 0)
        steps = steps_of(section.block, seen[section.number], language)
        said = _assigned(section, steps, language)
        chapter = section.chapter
        if not chapter and not any(one.chapter for one in said[0]):
            chapter = language.say("Position {number}", number=section.number)
        for at, step in enumerate(steps):
            start, timed = clock.now, tuple(clock.say(one) for one in said[at])
            if not timed:
                clock.now += SILENT
            pictures.append(
                Picture(
                    len(pictures) + 1,
                    section.number,
                    step,
                    timed,
                    start,
                    clock.now,
                    chapter if at == 0 else "",
                )
            )
    return Show(title, language, words_a_minute, tuple(pictures), found, seen)


class _Clock:
    """Counts milliseconds by the words that are spoken."""

    def __init__(self, words_a_minute: int) -> None:
        self.words_a_minute = words_a_minute
        self.now = 0

    def say(self, one: Said) -> Timed:
        """The sentence with its time; whole milliseconds, each word as long as any other."""
        start = self.now
        self.now += max(1, len(one.text.split())) * 60_000 // self.words_a_minute
        return Timed(one.text, start, self.now, one.chapter)


def _assigned(section: Section, steps: Sequence[Step], language: Language) -> list[list[Said]]:
    """For each picture of a position the sentences that belong to it, in their order."""
    said: list[list[Said]] = [[] for _ in steps]
    at = 0
    asks = any(_ASKS.search(one.text) for one in section.before)
    for one in section.before:
        if asks:
            # A picture that shows a move would answer what is asked about it.
            said[0].append(one)
        else:
            at = _spread(one, steps, at, said, language)
    if section.before:
        at = min(max(at, 1), len(steps) - 1)
    for one in section.after:
        at = _spread(one, steps, at, said, language)
    return said


def _spread(
    one: Said, steps: Sequence[Step], at: int, said: list[list[Said]], language: Language
) -> int:
    """Give a sentence to its picture, or its clauses to theirs, and tell where it ends.

    What stands before the first move that is named goes with that move.
    """
    parts: dict[int, list[str]] = {}
    waiting: list[str] = []
    for clause in clauses(one.text):
        named = _named(clause, steps, at, language)
        waiting.append(clause)
        if named is None and not parts:
            continue
        at = at if named is None else named
        parts.setdefault(at, []).extend(waiting)
        waiting = []
    if waiting:
        parts.setdefault(at, []).extend(waiting)
    chapter = one.chapter
    for number, told in parts.items():
        said[number].append(Said(" ".join(told), chapter))
        chapter = ""
    return at


def _named(text: str, steps: Sequence[Step], at: int, language: Language) -> int | None:
    """The first picture from `at` on that shows a move which the text names."""
    names = moves_named(text, language)
    return next((later for later in range(at, len(steps)) if names & steps[later].about), None)


def moves_named(text: str, language: Language) -> frozenset[str]:
    """The moves that a sentence names, in SAN with English letters and without signs for check.

    A square alone is a pawn's move only with a number before it: ``12...e5``.
    """
    found = set()
    for number, name in _MOVE.findall(text):
        if not number and re.fullmatch("[a-h][1-8]", name):
            continue
        found |= {bare(name), bare(read_notation(name, language))}
    return frozenset(name.replace("0", "O") if name.startswith("0") else name for name in found)

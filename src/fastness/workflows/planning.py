"""The coming weeks' themes as data: for whom, what to do about it, and own examples."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fastness.language import ENGLISH, Language
from fastness.record import months_plan
from fastness.workflows.advice import task_for_student
from fastness.workflows.record_words import finding_name, games_counted, place, ringed
from fastness.workflows.recording import StudentRecord, owner_of


@dataclass(frozen=True, slots=True)
class PlannedExample:
    """A student's own example of a theme: where it is, and what happened in a sentence."""

    student: str
    game: int
    ply: int
    fen: str
    ringed: tuple[str, ...]
    told: str


@dataclass(frozen=True, slots=True)
class PlannedTheme:
    """A theme for one week, counted from 1."""

    week: int
    theme: str
    task: str
    students: tuple[str, ...]
    examples: tuple[PlannedExample, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """The themes, the one that costs most first; `told` where nothing stands out."""

    themes: tuple[PlannedTheme, ...]
    told: str


def plan(records: Sequence[StudentRecord], language: Language = ENGLISH) -> Plan:
    """The themes of the coming weeks for one student or a group."""
    by_name = {one.name: one for one in records}
    themes = []
    for theme in months_plan({name: one.diagnosis for name, one in by_name.items()}):
        examples = []
        for one in theme.examples:
            owner = owner_of([by_name[name] for name in theme.students], one)
            told = place(owner, one, language)
            fen = one.occasion["fen"]
            examples.append(
                PlannedExample(owner.name, int(one.game), one.ply, fen, ringed(one), told)
            )
        task = task_for_student(theme.cause, language)
        name = finding_name(theme.cause, language)
        themes.append(PlannedTheme(theme.week, name, task, theme.students, tuple(examples)))
    return Plan(tuple(themes), "" if themes else nothing_stands_out(records, language))


def nothing_stands_out(records: Sequence[StudentRecord], language: Language) -> str:
    """That no theme is more needed than another."""
    games = {each.game.game for one in records for each in one.games}
    return language.say(
        "Nothing stands out in {games} yet; no theme is more needed than another.",
        games=games_counted(len(games), language),
    )

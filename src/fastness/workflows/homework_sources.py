"""Where the exercises of a homework come from: a week's folder, or a lesson."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import cast

from fastness.errors import FileError, InputError
from fastness.exercises.admission import exercises_of
from fastness.exercises.exercise import Exercise, Kind, Level, Source
from fastness.exercises.proving import prove
from fastness.exercises.shelving import as_entry
from fastness.language import ENGLISH, Language
from fastness.lessons.lesson import (
    AllThatKeep,
    Better,
    Block,
    Claim,
    FallsBy,
    Keeps,
    Loses,
    Safety,
)
from fastness.store import Store, shelf
from fastness.store.shelf import Wanted
from fastness.store.shelf_tables import ShelvedExercise
from fastness.workflows.lessons import demand_true, open_lesson
from fastness.workflows.shelf_page import is_struck
from fastness.workflows.week_folder import ASKED

_KINDS: dict[type[Claim], Kind] = {
    Safety: "which unit",
    FallsBy: "which unit",
    Keeps: "every move",
    AllThatKeep: "every move",
    Better: "better way",
    Loses: "why it fails",
}


def of_week(store: Store, folder: Path, level: Level) -> list[int]:
    """The numbers of the exercises that a week's sheet of a level asks, its twins among them.

    Raises FileError where the folder is no week's, InputError where nothing of it is on the shelf.
    """
    file = folder / "week.json"
    try:
        told = json.loads(file.read_text("utf-8"))
        positions = [(str(one["fen"]), one["twin"]) for one in told["positions"]]
        twins = [str(twin["fen"]) if twin else None for _, twin in positions]
    except OSError as error:
        raise FileError(f"{file}: {error.strerror}; give a folder that a week wrote") from error
    except (ValueError, KeyError, TypeError) as error:
        raise FileError(f"{file} is no file of a week") from error
    numbers: list[int] = []
    with store.reading() as session:
        rows = [one for one in shelf.find(session, Wanted()) if not is_struck(one)]
        for (fen, _), twin in zip(positions, twins, strict=True):
            first = _first(rows, fen, ASKED[level])
            if first is None:
                continue
            numbers.append(first.id)
            same = _first(rows, twin, (cast("Kind", first.kind),)) if twin else None
            if same is not None and level != "plain":
                numbers.append(same.id)
    if not numbers:
        raise InputError(f"no exercise of {folder} is on the shelf of this store")
    return list(dict.fromkeys(numbers))


def _first(
    rows: list[ShelvedExercise], fen: str, kinds: tuple[Kind, ...]
) -> ShelvedExercise | None:
    for kind in kinds:
        for row in rows:
            if (row.fen, row.kind) == (fen, kind):
                return row
    return None


@dataclass(frozen=True, slots=True)
class FromLesson:
    """The exercises of a lesson by their numbers, and the lines of positions that give none."""

    numbers: tuple[int, ...]
    without: tuple[int, ...]


def of_lesson(
    store: Store, path: Path, language: Language = ENGLISH, *, anyway: bool = False
) -> FromLesson:
    """An exercise for each position of a lesson, put on the shelf: it asks what is claimed first.

    Where that is not firm enough to be asked, the first question that the position admits is
    taken. Raises FileError where the lesson cannot be opened, UntrueError where something in it
    cannot be read or, unless it is to be handed out `anyway`, is false; InputError where it has no
    position that can be asked about.
    """
    lesson = open_lesson(path)
    if lesson.faults or not anyway:
        demand_true(lesson, language)
    asked, without = [], []
    for block in lesson.blocks:
        exercise = _of_block(block)
        if exercise is None:
            without.append(block.line)
        else:
            asked.append(exercise)
    if not asked:
        raise InputError(
            "No position of this lesson is firm enough to be asked about; add one that is."
        )
    with store.writing() as session:
        rows = [shelf.put(session, as_entry(one))[0] for one in asked]
        numbers = tuple(dict.fromkeys(row.id for row in rows if not is_struck(row)))
    return FromLesson(numbers, tuple(without))


def _of_block(block: Block) -> Exercise | None:
    if block.place is None:
        return None
    admitted = exercises_of(prove(block.place.fen, Source("composed")))
    for fits in (_wanted(block), [(one.kind, None) for one in admitted]):
        for kind, move in fits:
            for one in admitted:
                if one.kind == kind and move in (None, one.asked):
                    return one
    return None


def _wanted(block: Block) -> Iterator[tuple[Kind, str | None]]:
    """The questions that the claims answer, with the move that they are about."""
    for claim in block.claims:
        kind = _KINDS.get(type(claim))
        if kind is not None:
            yield kind, claim.move if isinstance(claim, Loses) else None

"""Homework from a lesson: exercises in its positions, as far as their answers are firm."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import chess

from fastness.exercises.admission import exercises_of
from fastness.exercises.epd import epd
from fastness.exercises.exercise import Exercise, Kind, Level, Source
from fastness.exercises.proving import prove
from fastness.language import ENGLISH, Language
from fastness.lessons.lesson import Lesson, Place
from fastness.publish.document import Block, Document, Heading, NewPage
from fastness.publish.pdf import pdf
from fastness.publish.sheet import Layout, SheetExercise, sheets
from fastness.workflows.week_folder import ASKED


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A position, counted from 1, of which nothing is asked, and why."""

    position: int
    reason: str


@dataclass(frozen=True, slots=True)
class Homework:
    """The exercises of a lesson, level by level, and the positions that give none."""

    asked: tuple[SheetExercise, ...]
    left_out: tuple[LeftOut, ...]


def homework_exercises(lesson: Lesson) -> list[Exercise]:
    """The exercises of a lesson's positions, each once, position by position.

    A position gives the question that each level asks of it (`ASKED`). It gives none where its
    answers are not firm, or where it stands in the middle of a trade, which a bare position does
    not show.
    """
    asked = homework_of(lesson).asked
    places = {one.exercise.fen: at for at, one in reversed(list(enumerate(asked)))}
    ordered = sorted(asked, key=lambda one: places[one.exercise.fen])
    found: list[Exercise] = []
    for one in ordered:
        if one.exercise not in found:
            found.append(one.exercise)
    return found


def homework_of(
    lesson: Lesson,
    language: Language = ENGLISH,
    on_progress: Callable[[], None] = lambda: None,
) -> Homework:
    """The exercises of the lesson; `on_progress` is called after each position."""
    by_level: dict[Level, list[SheetExercise]] = {level: [] for level in ASKED}
    left_out: list[LeftOut] = []
    seen: set[str] = set()
    for number, block in enumerate([one for one in lesson.blocks if one.place], 1):
        if block.place is None or block.place.fen in seen:
            continue
        seen.add(block.place.fen)
        if _in_trade(block.place):
            reason = language.say("it may be the middle of a trade")
            left_out.append(LeftOut(number, reason))
        elif not (found := _of_levels(block.place)):
            reason = language.say("no question about it has firm answers")
            left_out.append(LeftOut(number, reason))
        else:
            for one in found:
                by_level[one.level].append(one)
        on_progress()
    asked = tuple(one for level in ASKED for one in by_level[level])
    return Homework(asked, tuple(left_out))


def _in_trade(place: Place) -> bool:
    """Whether the last of the moves given was a capture."""
    if not place.moves:
        return False
    board = chess.Board(place.start)
    for uci in place.moves[:-1]:
        board.push_uci(uci)
    return board.is_capture(chess.Move.from_uci(place.moves[-1]))


def _of_levels(place: Place) -> list[SheetExercise]:
    """The question that each level asks of a position; a question is asked at one level only."""
    exercises = exercises_of(prove(place.fen, Source("composed")))
    found: list[SheetExercise] = []
    for level, kinds in ASKED.items():
        used = [one.exercise for one in found]
        exercise = _first([one for one in exercises if one not in used], kinds)
        if exercise is not None:
            found.append(SheetExercise(exercise, level))
    return found


def _first(exercises: list[Exercise], kinds: tuple[Kind, ...]) -> Exercise | None:
    return next((one for kind in kinds for one in exercises if one.kind == kind), None)


def homework_files(title: str, homework: Homework, layout: Layout) -> dict[str, bytes]:
    """``homework.pdf``, ``homework-answers.pdf`` and ``homework.epd``; none without exercises.

    Raises PrintError where no type face at hand has the letters of a text.
    """
    if not homework.asked:
        return {}
    named = layout.language.say("Homework: {title}", title=title)
    made = sheets(named, homework.asked, replace(layout, side_by_side=True))
    counted: dict[Level, int] = {}
    lines = []
    for one in homework.asked:
        counted[one.level] = counted.get(one.level, 0) + 1
        lines.append((f"{one.level} {counted[one.level]}", one.exercise))
    return {
        "homework.pdf": pdf(_joined(named, [sheet.questions for sheet in made])),
        "homework-answers.pdf": pdf(
            _joined(
                layout.language.say("Answers: {title}", title=named),
                [sheet.answers for sheet in made],
            )
        ),
        "homework.epd": epd(lines).encode(),
    }


def _joined(title: str, parts: list[Document]) -> Document:
    """One document of the sheets of each level, which large print keeps apart."""
    if len(parts) == 1:
        return parts[0]
    blocks: list[Block] = []
    for part in parts:
        if blocks:
            blocks.append(NewPage())
        blocks += [Heading(part.title), *part.blocks]
    return replace(parts[0], title=title, blocks=blocks, footer=title)

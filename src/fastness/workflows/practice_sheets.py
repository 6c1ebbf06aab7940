"""A week's practice on paper: the student's page and the answers."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import cast

from fastness.exercises.exercise import Exercise, Level
from fastness.exercises.shelving import as_exercise
from fastness.exercises.words import question
from fastness.language import Language, marked
from fastness.publish.answers import answer_in_words, ringed
from fastness.publish.document import Beside, Block, Diagram, Heading, Paragraph
from fastness.publish.html import html
from fastness.publish.pdf import pdf
from fastness.publish.sheet import Layout, Sheet, SheetExercise, one_sheet
from fastness.publish.writing import write_files
from fastness.store import Store, shelf
from fastness.workflows.practising import Practice
from fastness.workflows.shelf_page import said_of

TITLE = marked("Practice for {name}, week of {date}")
LOOK_FIRST = marked("First look at this")
NOW_YOU = marked("Now you")
LOOK_HOW = marked("Here the answer is given. Play it through on a board until you see why.")


def practice_sheet(store: Store, practice: Practice, layout: Layout) -> Sheet:
    """The student's page, worked examples first, and the answers with the marking grid.

    The page shows positions and sentences, and no number but that of an exercise.
    """
    language, told = layout.language, practice.set
    with store.reading() as session:
        shown = [as_exercise(shelf.numbered(session, one.exercise.number)) for one in told.shown]
        rows = [shelf.numbered(session, one.item.exercise.number) for one in told.asked]
        asked = [
            SheetExercise(as_exercise(row), cast("Level", row.level), said_of(row, language))
            for row in rows
        ]
    title = language.say(TITLE, name=practice.student, date=practice.week.isoformat())
    return one_sheet(title, asked, layout, list(_worked(shown, language)))


def _worked(shown: Sequence[Exercise], language: Language) -> Iterator[Block]:
    """What is shown with its answer, before anything is asked about it."""
    if not shown:
        return
    yield Heading(language.say(LOOK_FIRST))
    yield Paragraph(language.say(LOOK_HOW))
    for one in shown:
        texts = (question(one, language), *answer_in_words(one, (), language))
        yield Beside(Diagram(one.fen, "", ringed(one)), texts)
    yield Heading(language.say(NOW_YOU))


def write_practice(
    store: Store, folder: Path, practices: Sequence[Practice], layout: Layout
) -> list[Path]:
    """Write each student's page as PDF and HTML, and the answers, and give the files.

    Nothing is written before everything is laid out. Raises FileError where the folder cannot be
    written, PrintError where no type face at hand has the letters of a text.
    """
    made: dict[str, bytes] = {}
    for one, name in zip(practices, file_names([one.student for one in practices]), strict=True):
        sheet = practice_sheet(store, one, layout)
        made[f"practice-{name}.pdf"] = pdf(sheet.questions)
        made[f"practice-{name}.html"] = html(sheet.questions).encode()
        made[f"practice-{name}-answers.pdf"] = pdf(sheet.answers)
    return list(write_files(folder, made))


def file_names(names: Sequence[str]) -> list[str]:
    """A part of a file's name for each name: letters and digits, numbered where two are alike."""
    found: list[str] = []
    for name in names:
        plain = re.sub(r"[^\w]+", "-", name.lower()).strip("-") or "student"
        alike = sum(one == plain or one.startswith(f"{plain}-") for one in found)
        found.append(f"{plain}-{alike + 1}" if plain in found else plain)
    return found

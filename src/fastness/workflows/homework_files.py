"""Homework as files: the page, the sheet for those without, the slips; results and grid later."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Literal, cast

from fastness.exercises.exercise import Level
from fastness.exercises.shelving import as_exercise
from fastness.language import language as language_of
from fastness.publish.document import Document
from fastness.publish.html import html
from fastness.publish.pdf import pdf
from fastness.publish.sheet import Layout, Sheet, SheetExercise, one_sheet
from fastness.publish.text import text
from fastness.publish.writing import write_files
from fastness.store import Store
from fastness.store import homework as kept
from fastness.workflows.homework import page_html, show
from fastness.workflows.homework_results import grid_document, result_document, slips_document
from fastness.workflows.homework_told import HandedIn
from fastness.workflows.shelf_page import said_of

PAGE, SLIPS, SHEET, ANSWERS = "homework.html", "slips.pdf", "sheet.pdf", "answers.pdf"

Form = Literal["pdf", "html", "md"]
_FORMS: dict[Form, Callable[[Document], bytes]] = {
    "pdf": pdf,
    "html": lambda document: html(document).encode(),
    "md": lambda document: text(document).encode(),
}


def paper_version(store: Store, number: int, layout: Layout) -> Sheet:
    """The exercises of a homework on paper, in its order, with the answers and the marking grid.

    Raises MissingError where there is none of this number.
    """
    with store.reading() as session:
        homework = kept.numbered(session, number)
        rows = [one.exercise for one in homework.asked]
        asked = [
            SheetExercise(as_exercise(row), cast("Level", row.level), said_of(row, layout.language))
            for row in rows
        ]
        return one_sheet(homework.title, asked, layout)


def write_homework(
    store: Store, number: int, folder: Path, layout: Layout, *, address: str = ""
) -> list[Path]:
    """Write the page, the slips, the sheet and its answers to a folder; the files written.

    The folder is made where it is not there. `layout` is that of the prints; the texts of all are
    in its language but for the page, which has its own. Raises MissingError, PrintError, and
    FileError where the folder cannot be written.
    """
    told = show(store, number, layout.language)
    sheet = paper_version(store, number, layout)
    slips = slips_document(
        told,
        language_of(told.language),
        file=PAGE,
        address=address,
        paper=layout.paper,
        large=layout.large,
    )
    made = {
        PAGE: page_html(store, number).encode(),
        SLIPS: pdf(slips),
        SHEET: pdf(sheet.questions),
        ANSWERS: pdf(sheet.answers),
    }
    return _written(folder, made)


def write_results(
    store: Store, handed_in: Sequence[HandedIn], folder: Path, layout: Layout, form: Form = "pdf"
) -> list[Path]:
    """Write a result for each student, and the grid of each homework; the files written.

    Raises PrintError, and FileError where the folder cannot be written.
    """
    made = dict(_results(handed_in, layout, form))
    for number in dict.fromkeys(one.homework for one in handed_in):
        told = show(store, number, layout.language)
        grid = grid_document(told, layout.language, paper=layout.paper, large=layout.large)
        made[f"grid-{number}.{form}"] = _FORMS[form](grid)
    return _written(folder, made)


def _results(
    handed_in: Sequence[HandedIn], layout: Layout, form: Form
) -> Iterator[tuple[str, bytes]]:
    for one in handed_in:
        document = result_document(one, layout.language, paper=layout.paper, large=layout.large)
        name = "-".join(re.findall(r"\w+", one.student)) or "student"
        yield f"result-{one.homework}-{name}.{form}", _FORMS[form](document)


def _written(folder: Path, made: dict[str, bytes]) -> list[Path]:
    return list(write_files(folder, made))

"""`fastness group catch-up`: a sheet of a lesson for those who were absent."""

from __future__ import annotations

import datetime
import sys
from pathlib import Path

from fastness.classroom.catch_up import catch_up as catch_up_sheet
from fastness.classroom.catch_up import write_catch_up
from fastness.classroom.keeping import place_beside
from fastness.classroom.taught import Taught, class_board, taught_by_board, taught_by_lesson
from fastness.cli.bar import Bar
from fastness.cli.languages import TextLanguage, chosen
from fastness.cli.places import StorePlace, opened
from fastness.errors import InputError
from fastness.language import Language
from fastness.publish.document import Paper
from fastness.store import Store
from fastness.workflows.attending import Attended, lesson_on, theme_without_names
from fastness.workflows.writable import check_writable


def catch_up(
    group: str,
    *,
    to: Path,
    lesson: Path | None = None,
    board: str | None = None,
    date: datetime.date | None = None,
    theme: str = "",
    title: str = "",
    paper: Paper = "a4",
    large: bool = False,
    language: TextLanguage = None,
    store: StorePlace = None,
) -> None:
    """Make a sheet of a lesson for those who were absent, as PDF and HTML.

    First the positions as questions, then the answers: every move that was tried with its
    verdict, and the refutation of each that falls. No student's name is on it.

    Args:
        group: the group.
        to: the folder to write.
        lesson: a lesson file whose positions were shown.
        board: a class board, by its title or its number: its positions and the class's tries.
        date: the day of the lesson, that of the last one if not given.
        theme: what it was about, where there were several that day.
        title: what stands at the top, by default the theme, with no student's name in it.
        paper: a4 or us-letter.
        large: large print.
        language: the language of the text; that of LANG if there are texts in it, else English.
        store: the store's file or URL.
    """
    if (lesson is None) == (board is None):
        raise InputError("Say what was shown: --lesson FILE, or --board with its title or number.")
    words = chosen(language)
    check_writable(to, folder=True)
    with opened(store) as place:
        held = lesson_on(place, group, date, theme)
        shown = _shown(place, store, lesson, board, words)
        bar = Bar((), shown=sys.stderr.isatty(), total=len(shown), doing="Looking at the positions")
        with bar:
            document = catch_up_sheet(
                title.strip() or theme_without_names(place, held.theme, words),
                held.held,
                shown,
                words,
                paper=paper,
                large=large,
                on_progress=bar.advance,
            )
    for path in write_catch_up(document, to):
        print(path)
    print(_for_whom(held))


def _shown(
    place: Store, store: StorePlace, lesson: Path | None, board: str | None, language: Language
) -> tuple[Taught, ...]:
    if lesson is not None:
        return taught_by_lesson(lesson, language)
    return taught_by_board(class_board(place_beside(store), board or ""), place, language)


def _for_whom(held: Attended) -> str:
    if held.absent is None:
        return (
            f"Who was there on {held.held} is not noted. Note it: fastness group attended"
            f' "{held.group}" --date {held.held}'
        )
    if not held.absent:
        return f"Nobody of {held.group} was away on {held.held}."
    return f"For {'; '.join(held.absent)}."

"""`fastness lesson`: lesson files, whose claims are checked like code."""

from __future__ import annotations

import sys
from contextlib import closing
from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

from fastness.cli.bar import Bar
from fastness.cli.languages import TextLanguage, chosen
from fastness.cli.lesson_told import BAD_INPUT, Told, print_found
from fastness.cli.places import StorePlace, opened
from fastness.errors import FileError, InputError
from fastness.lessons.lesson import Lesson
from fastness.workflows.lesson_tries import lesson_taught, rows
from fastness.workflows.lessons import (
    check_lessons,
    count_claims,
    new_lesson,
    open_lesson,
)

lesson = App(name="lesson", help="Write or draft lessons, check what they claim, and build them.")
lesson.command(
    "fastness.cli.lesson_building:build",
    name="build",
    help="Check a lesson, and make the board, papers, pictures, captions and homework of it.",
)
lesson.command("fastness.cli.drafting:draft", name="draft", help="Draft a lesson for you to edit.")


@lesson.command
def new(file: Path, *, language: TextLanguage = None) -> None:
    """Write a small lesson to begin with, every claim of which is true.

    Args:
        file: the Markdown file to write; nothing is written over.
        language: the language of the text; that of LANG if there are texts in it, else English.
    """
    words = chosen(language)
    new_lesson(file, words)
    print(words.say("{file} is written. Check it with: fastness lesson check {file}", file=file))


@lesson.command
def check(
    *file: Annotated[str, Parameter(allow_leading_hyphen=True)], language: TextLanguage = None
) -> int:
    """Prove every claim of lesson files, and say what is not true, and the line that shows it.

    Each claim is searched 3 moves ahead, and once more 4 moves ahead. The status is 0 where all
    are true, 1 where one is false or not settled, 2 where something cannot be read.

    Args:
        file: Markdown files with position blocks.
        language: the language of the text; that of LANG if there are texts in it, else English.
    """
    unknown = [word for word in file if word.startswith("-")]
    if unknown:
        raise InputError(f"Unknown option {unknown[0]}. See: fastness lesson check --help")
    if not file:
        raise InputError("No file given. Give one lesson or more.")
    words = chosen(language)
    lessons, status = _opened(file)
    found = Told(words)
    total = count_claims([one for _, one in lessons])
    bar = Bar((), shown=sys.stderr.isatty(), total=total, doing="Checking the claims")
    with bar, closing(check_lessons(lessons, words, bar.advance)) as checked:
        rows = [(one, found.row(one)) for one in checked]
    print_found(rows)
    print(found.summary())
    return max(status, found.status)


@lesson.command
def taught(file: Path, *, language: TextLanguage = None, store: StorePlace = None) -> None:
    """Tell when a lesson was taught on the class board, and what was tried with how many hands.

    Args:
        file: the lesson's file; its name without the ending is enough.
        language: the language of the text; that of LANG if there are texts in it, else English.
        store: the store's file or URL.
    """
    words = chosen(language)
    text = open_lesson(file) if file.exists() else None
    with opened(store) as place:
        told = lesson_taught(place, file.name.removesuffix(".md"), text, words)
    for row in rows(told, words) or [words.say("Nothing is kept of this lesson yet.")]:
        print(row)


def _opened(files: tuple[str, ...]) -> tuple[list[tuple[str, Lesson]], int]:
    """The lessons that can be opened; the others are told, and cost the others nothing."""
    lessons, status = [], 0
    for path in files:
        try:
            lessons.append((path, open_lesson(path)))
        except FileError as error:
            print(f"fastness: {error}", file=sys.stderr)
            status = BAD_INPUT
    return lessons, status

"""`fastness lesson build`: a lesson that is true becomes pictures, papers and captions."""

from __future__ import annotations

import sys
from contextlib import closing
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from fastness.cli.bar import Bar, Counting
from fastness.cli.languages import TextLanguage, chosen
from fastness.cli.lesson_told import Told, print_found
from fastness.publish.captions import clock
from fastness.publish.document import Paper
from fastness.publish.lesson_show import WORDS_A_MINUTE
from fastness.workflows.lesson_building import Built, Look, build_lesson, check_folder
from fastness.workflows.lessons import check_lessons, count_claims, open_lesson


def build(
    file: Path,
    *,
    to: Path,
    paper: Paper = "a4",
    large: Annotated[bool, Parameter(negative="")] = False,
    words_a_minute: int = WORDS_A_MINUTE,
    language: TextLanguage = None,
) -> int:
    """Check a lesson, and make of it the class board, papers, pictures, captions and homework.

    A lesson that says something false or not settled, or cannot be read, is not built: what check
    prints is printed, nothing is written, and the status is 1 or 2.

    Args:
        file: the Markdown file.
        to: the folder; a new one, an empty one, or one that a lesson was built into before.
        paper: the size of the paper.
        large: print the papers large.
        words_a_minute: how fast you speak, from which the times of captions and pictures are taken.
        language: the language of the texts around yours; that of LANG if there are texts in it,
            else English.
    """
    words = chosen(language)
    look = Look(paper, large, words_a_minute, words)
    check_folder(to, look)
    lesson = open_lesson(file)
    told = Told(words)
    bar = Bar(
        (),
        shown=sys.stderr.isatty(),
        total=count_claims([lesson]),
        doing="Checking the claims",
    )
    with bar, closing(check_lessons([(str(file), lesson)], words, bar.advance)) as checked:
        found = [(one, told.row(one)) for one in checked]
    print_found(found)
    if told.status:
        print(told.summary())
        return told.status
    counting = Counting("Making the homework", len(lesson.blocks), shown=sys.stderr.isatty())
    with counting:
        built = build_lesson(lesson, file.stem, to, look, counting.advance)
    print(told.summary())
    for row in _rows(built, to, look):
        print(row)
    return 0


def _rows(built: Built, folder: Path, look: Look) -> list[str]:
    say = look.language.say
    rows = [
        say(
            "{folder}: {pictures} pictures, {time} at {words} words a minute, and {exercises}"
            " exercises.",
            folder=folder,
            pictures=built.pictures,
            time=clock(built.length),
            words=look.words_a_minute,
            exercises=built.exercises,
        )
    ]
    rows += [
        say(
            "Position {number} is left out of the homework: {reason}.",
            number=one.position,
            reason=one.reason,
        )
        for one in built.left_out
    ]
    return rows

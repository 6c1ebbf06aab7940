"""`fastness lesson draft`: a lesson drafted from the record, a week or the shelf."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from fastness.cli.bar import Bar
from fastness.cli.languages import TextLanguage, chosen
from fastness.cli.places import StorePlace, opened
from fastness.exercises.exercise import Level
from fastness.workflows.drafting import LOOKED_AT, draft_lesson, source_of, write_draft
from fastness.workflows.writable import check_writable


def draft(
    file: Path,
    *,
    group: Annotated[str, Parameter(show_default=False)] = "",
    student: Annotated[str, Parameter(show_default=False)] = "",
    theme: Annotated[str, Parameter(show_default=False)] = "",
    week: Annotated[Path | None, Parameter(show_default=False)] = None,
    level: Level = "club",
    store: StorePlace = None,
    language: TextLanguage = None,
) -> None:
    """Draft a lesson for you to edit, every claim of which is true.

    From what the record says a group or a student needs most, from a week's folder, or from the
    exercises on the shelf that show a theme: what it is, a worked example without names, a twin,
    questions and homework. It takes half a minute or so.

    Args:
        file: the Markdown file to write; nothing is written over.
        group: what this group needs most.
        student: what this student needs most.
        theme: a mechanism (fork, pin, unguarded ...) or a way (move, block, guard ...).
        week: a folder that `fastness week` wrote.
        level: plain, club or stretch.
        store: the store's file or PostgreSQL URL; by default one of your own.
        language: the language of the text; that of LANG if there are texts in it, else English.
    """
    check_writable(file, folder=False)
    words = chosen(language)
    with opened(store) as place:
        source = source_of(place, group=group, student=student, theme=theme, week=week)
    total = min(len(source.positions), LOOKED_AT)
    bar = Bar((), shown=sys.stderr.isatty(), total=total, doing="Looking at positions")
    with bar:
        drafted = draft_lesson(source, level, words, on_progress=bar.advance)
    write_draft(drafted, file)
    told = words.say_many(
        "{file} is written: {number} claim, and it is true.",
        "{file} is written: {number} claims, and all are true.",
        drafted.claims,
        file=file,
    )
    print(told)

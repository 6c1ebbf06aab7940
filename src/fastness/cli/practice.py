"""`fastness practice`: a student's exercises for this week."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from fastness.cli.languages import TextLanguage, chosen
from fastness.cli.places import StorePlace, opened
from fastness.errors import InputError
from fastness.language import Language
from fastness.publish.document import Paper
from fastness.publish.sheet import Layout
from fastness.workflows.practice_sheets import write_practice
from fastness.workflows.practising import Practice, practice_for, practice_of_group
from fastness.workflows.writable import check_writable

USUAL_MINUTES = 20.0


def practice(
    *student: str,
    group: str = "",
    minutes: float = USUAL_MINUTES,
    week: datetime.date | None = None,
    to: Annotated[Path | None, Parameter(show_default=False)] = None,
    paper: Paper = "a4",
    large: Annotated[bool, Parameter(negative=())] = False,
    language: TextLanguage = None,
    store: StorePlace = None,
) -> None:
    """Make a student's practice for a week: what was missed comes back, beside what is new.

    It is as long as you say, by an exercise and its twin at most. For each student there is a page,
    on paper and for a browser, and the answers with the marking grid.

    Args:
        student: one student or more, by name.
        group: all students of a group instead.
        minutes: about how long a student is to practise in the week.
        week: the first of its seven days, such as 2026-11-30; today if nothing is said.
        to: the folder to write; by default practice-DATE here.
        paper: a4 or us-letter.
        large: large print.
        language: the language of the text; that of LANG if there are texts in it, else English.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    if bool(student) == bool(group):
        raise InputError("Give students by name, or --group and its name.")
    begins = week or datetime.date.today()
    folder = to or Path(f"practice-{begins.isoformat()}")
    check_writable(folder, folder=True)
    words = chosen(language)
    layout = Layout(paper=paper, large=large, language=words)
    with opened(store) as club:
        if group:
            made = practice_of_group(club, group, minutes, week=begins)
        else:
            names = dict.fromkeys(student)
            made = [practice_for(club, name, minutes, week=begins) for name in names]
        files = write_practice(club, folder, made, layout)
    for one in made:
        print(_told(one, words))
    print(words.say("{number} files in {folder}.", number=len(files), folder=folder))


def _told(practice: Practice, language: Language) -> str:
    """What a set is made of, for the teacher."""
    asked = practice.set.asked
    return language.say(
        "{name}: {due} that come back, {new} that are new, {shown} shown first; about {minutes}"
        " minutes.",
        name=practice.student,
        due=sum(one.why == "due" for one in asked),
        new=sum(one.why != "due" for one in asked),
        shown=len(practice.set.shown),
        minutes=max(1, round(practice.set.seconds / 60)),
    )

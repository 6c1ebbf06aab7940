"""Homework handed out to a group or some students, and looked at; its page."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

from sqlalchemy.orm import Session

from fastness.errors import InputError
from fastness.language import ENGLISH, Language
from fastness.language import language as language_of
from fastness.practice.code import (
    MOST_HOMEWORK,
    MOST_STUDENTS,
    new_key,
    new_number,
)
from fastness.publish.homework_page import PageExercise, homework_page
from fastness.store import Store, shelf, students
from fastness.store import homework as kept
from fastness.store.tables import Group, Student
from fastness.workflows.homework_told import (
    HomeworkRow,
    HomeworkTold,
    asked_in,
    homework_told,
    row_of,
)
from fastness.workflows.record_words import day
from fastness.workflows.shelf_page import is_struck

MOST = 30
"""Exercises in a homework."""
LONGEST_TITLE = 120


def make(
    store: Store,
    title: str,
    exercises: Sequence[int],
    due: datetime.date,
    *,
    group: str | None = None,
    students: Sequence[str] = (),
    language: Language = ENGLISH,
    made: datetime.date | None = None,
) -> HomeworkTold:
    """Hand out exercises (by their numbers on the shelf) to a group or to some students.

    Each student gets a number and a key of their own, by chance. `language` is that of the page.

    Raises InputError where there are no exercises, too many, one is struck, nobody is to do them,
    or the day it is due is before that it is `made`; MissingError and StudentError where an
    exercise, the group or a student is not there.
    """
    numbers = list(dict.fromkeys(exercises))
    title, today = title.strip(), made or datetime.date.today()
    if not 1 <= len(numbers) <= MOST:
        raise InputError(f"a homework has 1 to {MOST} exercises, not {len(numbers)}")
    if not 1 <= len(title) <= LONGEST_TITLE:
        raise InputError(f"a homework's title has 1 to {LONGEST_TITLE} letters, not {len(title)}")
    if due < today:
        raise InputError(f"the homework is due on {due}, before it is handed out on {today}")
    with store.writing() as session:
        for number in numbers:
            if is_struck(shelf.numbered(session, number)):
                raise InputError(f"exercise {number} is struck and given to nobody; leave it out")
        known, pupils = _pupils(session, group, students)
        taken: set[int] = set()
        given = []
        for student in pupils:
            taken.add(number := new_number(taken, MOST_STUDENTS))
            given.append((student, number, new_key()))
        homework = kept.hand_out(
            session,
            title,
            numbers,
            given,
            number=new_number(kept.numbers(session), MOST_HOMEWORK),
            due=due,
            made=today,
            language=language.code,
            group=known,
        )
        return homework_told(homework, language)


def _pupils(
    session: Session, group: str | None, names: Sequence[str]
) -> tuple[Group | None, list[Student]]:
    if group is not None and names:
        raise InputError("give a group or students by name, not both")
    known = students.group_named(session, group) if group is not None else None
    pupils = (
        students.students(session, known)
        if known is not None
        else [students.student_named(session, name) for name in names]
    )
    pupils = list({one.id: one for one in pupils}.values())
    if not pupils:
        whom = f'the group "{known.name}" has no students' if known else "no student was named"
        raise InputError(f"{whom}, and homework is given to somebody")
    if len(pupils) > MOST_STUDENTS:
        raise InputError(f"{len(pupils)} students are too many; {MOST_STUDENTS} at most")
    return known, pupils


def list_homework(store: Store) -> list[HomeworkRow]:
    """All homework, the newest first."""
    with store.reading() as session:
        return [row_of(one) for one in kept.every(session)]


def show(store: Store, number: int, language: Language = ENGLISH) -> HomeworkTold:
    """One homework with what came back. Raises MissingError where there is none such."""
    with store.reading() as session:
        return homework_told(kept.numbered(session, number), language)


def page_html(store: Store, number: int, *, word: str = "") -> str:
    """The homework as one HTML file that asks nothing of any other, in its own language.

    `word`, a student's, is filled in where it is given. Raises MissingError.
    """
    with store.reading() as session:
        homework = kept.numbered(session, number)
        language = language_of(homework.language)
        asked = [PageExercise(one.exercise, one.said) for one in asked_in(homework, language)]
        return homework_page(
            homework.title,
            homework.number,
            homework.salt,
            day(f"{homework.due:%Y.%m.%d}", language),
            asked,
            language,
            word=word,
        )

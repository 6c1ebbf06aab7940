"""Homework that comes back: by a code, on paper, or answer by answer; marked and kept once."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

import chess
from sqlalchemy.orm import Session

from fastness.errors import CodeError, InputError
from fastness.exercises.marking_grid import grid_row, read_marks
from fastness.exercises.words import NONE, answer_name, answer_word, board_of_answers
from fastness.language import ENGLISH, Language
from fastness.practice.choices import Given, in_order, read_number
from fastness.practice.code import is_sealed_by, read_code
from fastness.practice.explaining import question_on_page, right_in_words, told_of
from fastness.store import Store, shelf, students
from fastness.store import homework as kept
from fastness.store.homework_tables import HomeworkStudent
from fastness.workflows.homework_told import (
    Asked,
    ExerciseResult,
    HandedIn,
    answers_of,
    asked_in,
    outcomes,
)

CODE, PAPER, PAGE = "code", "paper", "page"
"""The ways in which answers come back."""


def hand_in_code(
    store: Store, code: str, language: Language = ENGLISH, *, made: datetime.date | None = None
) -> HandedIn:
    """Mark what a code brings and keep it, of today if no day is given; the same again is no news.

    Raises CodeError where the code is mistyped, altered, or of no homework or student here.
    """
    read = read_code(code)
    with store.writing() as session:
        homework = kept.find(session, read.homework)
        if homework is None:
            raise CodeError(f"the code {code.strip()} is of no homework here, or it is altered")
        given = next((one for one in homework.students if one.number == read.student), None)
        if given is None or not is_sealed_by(read, given.key):
            raise CodeError(
                f"the code {code.strip()} is of no student who was given this homework, or it is"
                " altered"
            )
        asked = asked_in(homework, language)
        answers = read_number([one.exercise for one in asked], read.answers)
        return _handed_in(session, given, asked, answers, CODE, language, made)


def hand_in_answers(
    store: Store,
    number: int,
    student: str,
    answers: Sequence[Sequence[str] | None],
    language: Language = ENGLISH,
    *,
    made: datetime.date | None = None,
) -> HandedIn:
    """Mark answers given one by one and keep them: None where an exercise was left open.

    Raises InputError where they are not as many as the exercises, or cannot be answered;
    MissingError and StudentError where the homework or the student is not there.
    """
    with store.writing() as session:
        given = _given(session, number, student)
        asked = asked_in(given.homework, language)
        _as_many(asked, len(answers))
        ordered = [in_order(one.exercise, some) for one, some in zip(asked, answers, strict=True)]
        return _handed_in(session, given, asked, ordered, PAGE, language, made)


def hand_in_paper(
    store: Store,
    number: int,
    student: str,
    letters: str,
    language: Language = ENGLISH,
    *,
    made: datetime.date | None = None,
) -> HandedIn:
    """Mark a sheet by the letters of its marking grid, a word for each exercise, and keep it.

    Something else than the boxes counts as left open, since what it was is not known. Raises as
    `hand_in_answers` does, and OptionError where a letter has no box.
    """
    with store.writing() as session:
        given = _given(session, number, student)
        asked = asked_in(given.homework, language)
        rows = [
            grid_row(
                str(at),
                one.exercise,
                [said.answer for said in one.said if said.answer and said.counts == "wrong"],
            )
            for at, one in enumerate(asked, 1)
        ]
        answers = [
            _from_boxes(one, some)
            for one, some in zip(asked, read_marks(letters, rows), strict=True)
        ]
        return _handed_in(session, given, asked, answers, PAPER, language, made)


def result_of(
    store: Store, number: int, student: str, language: Language = ENGLISH
) -> HandedIn | None:
    """What counts of a student's homework, marked and explained; None where nothing came back.

    Raises MissingError and StudentError where the homework or the student is not there.
    """
    with store.reading() as session:
        given = _given(session, number, student)
        if not given.hand_ins:
            return None
        first = given.hand_ins[0]
        pairs = zip(asked_in(given.homework, language), answers_of(first), strict=True)
        return HandedIn(
            homework=number,
            title=given.homework.title,
            student=given.student.name,
            made=first.made,
            new=False,
            counts=True,
            later=first.made > given.homework.due,
            results=tuple(
                _result(str(at), one, some, language) for at, (one, some) in enumerate(pairs, 1)
            ),
        )


def _from_boxes(one: Asked, letters: tuple[str, ...] | None) -> Given:
    if not letters:
        return None
    return in_order(one.exercise, [box for box in letters if box != NONE])


def _given(session: Session, number: int, student: str) -> HomeworkStudent:
    homework = kept.numbered(session, number)
    return kept.given_to(homework, students.student_named(session, student))


def _as_many(asked: Sequence[Asked], answers: int) -> None:
    if answers != len(asked):
        raise InputError(f"{answers} answers for {len(asked)} exercises; give one for each")


def _handed_in(
    session: Session,
    given: HomeworkStudent,
    asked: Sequence[Asked],
    answers: Sequence[Given],
    way: str,
    language: Language,
    made: datetime.date | None,
) -> HandedIn:
    """Keep what was handed in once, and an attempt for each exercise answered otherwise before."""
    day = made or datetime.date.today()
    before = {
        (at, None if one is None else tuple(one))
        for known in given.hand_ins
        for at, one in enumerate(known.answers)
    }
    found, new = kept.hand_in(session, given, answers, way=way, made=day)
    exercises = [one.exercise for one in asked]
    verdicts = outcomes(exercises, answers)
    for at, (some, verdict) in enumerate(zip(answers, verdicts, strict=True)):
        if new and some is not None and verdict != "open" and (at, some) not in before:
            row = given.homework.asked[at].exercise
            shelf.record_attempt(session, given.student, row, some, verdict, made=day)
    homework = given.homework
    return HandedIn(
        homework=homework.number,
        title=homework.title,
        student=given.student.name,
        made=found.made,
        new=new,
        counts=found is given.hand_ins[0],
        later=found.made > homework.due,
        results=tuple(
            _result(str(at), one, some, language)
            for at, (one, some) in enumerate(zip(asked, answers, strict=True), 1)
        ),
    )


def _result(label: str, one: Asked, given: Given, language: Language) -> ExerciseResult:
    exercise = one.exercise
    board = board_of_answers(exercise)
    told = told_of(exercise, given, one.said, language)
    names = [answer_name(exercise, some, language) for some in given or ()]
    if given == ():
        names = [answer_word(NONE, language)]
    return ExerciseResult(
        label=label,
        question=question_on_page(exercise, language),
        fen=board.fen(),
        flip=board.turn == chess.BLACK,
        asked=exercise.asked,
        kind=exercise.kind,
        given=given,
        given_names=", ".join(names),
        verdict=told.outcome,
        told=told.sentences,
        right=right_in_words(exercise, language),
    )

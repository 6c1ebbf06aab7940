"""What a session begins with: positions of a week, of the shelf, or given by the teacher."""

from __future__ import annotations

import datetime
import json
from collections.abc import Sequence
from dataclasses import replace

from fastness.classroom.commands import MOST_POSITIONS, add
from fastness.classroom.lesson_file import is_lesson, positions_of_lesson
from fastness.classroom.session import (
    BoardPosition,
    ClassSession,
    Origin,
    Words,
    board_after,
    in_each_language,
)
from fastness.errors import InputError, MoveError, PositionError
from fastness.exercises.exercise import Exercise
from fastness.exercises.shelving import as_exercise
from fastness.exercises.words import question
from fastness.language import LanguageName
from fastness.store import Store, shelf
from fastness.workflows.surveying import board_of, read_moves, read_position
from fastness.workflows.week_desk import WeekTold

FOLDER_FILE = "week.json"
"""The file of a week's folder that names its positions."""


def begin(
    number: int,
    title: str,
    positions: Sequence[BoardPosition],
    language: LanguageName = "en",
    *,
    lesson: str = "",
    held: datetime.date | None = None,
) -> ClassSession:
    """A session at the first of some positions, with the lesson that they are of, if they are.

    Raises InputError where there is none.
    """
    if not positions:
        raise InputError("A class board needs a position: a FEN, an exercise, or a week's.")
    empty = ClassSession(number, title, (), current=0, language=language, lesson=lesson, held=held)
    session = add(empty, tuple(positions))
    return replace(session, current=session.positions[0].number)


def given(text: str, moves: str = "", origin: Origin = "own", of: int = 0) -> BoardPosition:
    """A position given as FEN or EPD, after moves (SAN or UCI) from it.

    Raises PositionError, MoveError as `survey_position` does, InputError where the game is over.
    """
    start = read_position(text)
    played = tuple(read_moves(start, moves))
    board_of(start)
    board = board_after(start, played)
    if not any(board.legal_moves):
        raise InputError("The game is over in this position; give one with a move to try.")
    return BoardPosition(0, board.fen(), start, played, origin, of)


def of_exercises(store: Store, numbers: Sequence[int]) -> list[BoardPosition]:
    """The positions of exercises on the shelf, with their questions.

    Raises MissingError where there is no exercise of a number.
    """
    with store.reading() as session:
        found = [as_exercise(shelf.numbered(session, number)) for number in numbers]
    return [
        replace(given(one.fen, origin="exercise", of=number), asked=_question(one))
        for number, one in zip(numbers, found, strict=True)
    ]


def _question(exercise: Exercise) -> Words:
    return in_each_language(lambda language: question(exercise, language))


def of_week(week: WeekTold) -> list[BoardPosition]:
    """The positions of a week that were taken, each followed by its twin if that was taken.

    Raises InputError where none was taken.
    """
    found = []
    taken = [one for one in week.positions if one.taken]
    for place, one in enumerate(taken, 1):
        found.append(given(one.fen, origin="week", of=place))
        if one.twin is not None and one.twin.taken:
            found.append(given(one.twin.fen, origin="twin", of=place))
    if not found:
        raise InputError("No position of the week was taken; say yes to one at least.")
    return found


def of_text(text: str) -> list[BoardPosition]:
    """The positions of a file.

    That is `board.json` of a lesson that was built, `week.json` of a week's folder, or a FEN or EPD
    record a line. What `week.json` says of students and games is left out. Raises InputError where
    the text is none of these, PositionError for a line that cannot stand on a board, with its
    number.
    """
    if text.lstrip("\ufeff \t\r\n").startswith("{"):
        return of_lesson(text) if is_lesson(text) else _of_folder(text)
    lines = [(at, line) for at, line in enumerate(text.splitlines(), 1) if line.strip()]
    if len(lines) > MOST_POSITIONS:
        raise InputError(f"A class board has at most {MOST_POSITIONS} positions.")
    found = []
    for at, line in lines:
        try:
            found.append(given(line))
        except PositionError as error:
            raise PositionError(error.code, f"Line {at}: {error}") from error
        except InputError as error:
            raise InputError(f"Line {at}: {error}") from error
    return found


def of_lesson(text: str) -> list[BoardPosition]:
    """The positions of a lesson's `board.json`, with its questions, and its notes for the teacher.

    Raises InputError where something in it is missing or of the wrong kind, or too many positions
    stand there; PositionError or MoveError where a position cannot be reached.
    """
    told = positions_of_lesson(text)
    if len(told) > MOST_POSITIONS:
        raise InputError(f"A class board has at most {MOST_POSITIONS} positions.")
    return [
        replace(given(one.start, " ".join(one.moves)), asked=one.asked, note=one.note)
        for one in told
    ]


def _of_folder(text: str) -> list[BoardPosition]:
    try:
        told = json.loads(text)["positions"]
        fens = [(str(one["fen"]), (one.get("twin") or {}).get("fen")) for one in told]
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise InputError(
            f"This is no {FOLDER_FILE} of a week's folder and no board.json of a lesson; give such"
            " a file, or a FEN or EPD record on each line."
        ) from error
    found = []
    for place, (fen, twin) in enumerate(fens[:MOST_POSITIONS], 1):
        found.append(given(fen, origin="week", of=place))
        if twin:
            found.append(given(str(twin), origin="twin", of=place))
    return found


def read_move(fen: str, text: str) -> str:
    """One legal move (SAN or UCI) of a position, as UCI.

    Raises MoveError where it cannot be read, is ambiguous or is not legal.
    """
    moves = read_moves(fen, text)
    if len(moves) != 1:
        raise MoveError(f'"{text.strip()}" is not one move; give one, such as Nf6 or g8f6.')
    return moves[0]

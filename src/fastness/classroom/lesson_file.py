"""`board.json` of a lesson that was built, as the class board reads it."""

from __future__ import annotations

import json

from pydantic import BaseModel, Field, ValidationError

from fastness.classroom.session import Words
from fastness.errors import InputError
from fastness.workflows.lesson_board import KIND

MOST_LETTERS = 4000
"""Letters of a note; a longer one is cut at the end of a word."""


class LessonPosition(BaseModel):
    """One position of the file, as `workflows.lesson_board` writes it."""

    start: str
    moves: tuple[str, ...] = ()
    said: str = Field("", alias="note")
    asked: Words = {}
    answers: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()

    @property
    def note(self) -> str:
        """What only the teacher sees: the prose, and below it what is claimed, a claim a row."""
        claims = "\n".join((*self.answers, *self.lines))
        note = "\n\n".join(filter(None, (self.said, claims)))
        if len(note) <= MOST_LETTERS:
            return note
        return note[: MOST_LETTERS - 2].rsplit(maxsplit=1)[0] + " …"


class _File(BaseModel):
    kind: str
    lesson: str = Field("", max_length=200)
    positions: tuple[LessonPosition, ...]


def is_lesson(text: str) -> bool:
    """Whether a JSON text says that it is a lesson's."""
    try:
        told = json.loads(text)
    except ValueError:
        return False
    return isinstance(told, dict) and told.get("kind") == KIND


def lesson_named(text: str) -> str:
    """The name of the lesson that a `board.json` is of; empty where the text is none."""
    if not is_lesson(text):
        return ""
    try:
        return _File.model_validate_json(text).lesson
    except ValidationError:
        return ""


def positions_of_lesson(text: str) -> tuple[LessonPosition, ...]:
    """The positions of the file. Raises InputError where one is not as a lesson writes it."""
    try:
        return _File.model_validate_json(text).positions
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(one) for one in first["loc"])
        raise InputError(
            f"This board.json cannot be read: {where}: {first['msg']}. Build the lesson again, with"
            " fastness lesson build."
        ) from error

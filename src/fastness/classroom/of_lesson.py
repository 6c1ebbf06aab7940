"""A class board from a lesson: its positions in order, its prose as the teacher's notes."""

from __future__ import annotations

from dataclasses import replace

from fastness.classroom.commands import MOST_POSITIONS
from fastness.classroom.preparing import given
from fastness.classroom.session import BoardPosition, in_each_language
from fastness.errors import InputError
from fastness.lessons.lesson import Block, Lesson, Prose
from fastness.lessons.seen import Seen
from fastness.workflows.lesson_board import question_of

MOST_NOTE = 4000
"""Letters of a note."""


def of_lesson(lesson: Lesson) -> list[BoardPosition]:
    """The positions that can be played on, each with the prose that stands before it as a note.

    What stands behind the last position is noted with it. Raises InputError where there is none.
    """
    found: list[BoardPosition] = []
    prose = ""
    for part in lesson.parts:
        if isinstance(part, Prose):
            prose = "\n\n".join(filter(None, (prose, part.text.strip())))
            continue
        position = _position(part)
        if position is not None and len(found) < MOST_POSITIONS:
            found.append(replace(position, note=prose[:MOST_NOTE]))
            prose = ""
    if not found:
        raise InputError("No position of this lesson can be played on; add one first.")
    if prose:
        last = found[-1]
        note = "\n\n".join(filter(None, (last.note, prose)))
        found[-1] = replace(last, note=note[:MOST_NOTE])
    return found


def _position(block: Block) -> BoardPosition | None:
    place = block.place
    if place is None:
        return None
    seen = Seen(place, 1, 0)
    if not any(seen.board.legal_moves):
        return None
    asked = in_each_language(lambda language: question_of(block, seen, language))
    return replace(given(place.start, " ".join(place.moves)), asked=asked)

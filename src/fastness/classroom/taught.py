"""What a group was shown: positions with the moves tried in them, of a class board or a lesson."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import chess

from fastness.classroom.keeping import kept_at
from fastness.classroom.preparing import given
from fastness.classroom.session import BoardPosition, ClassSession
from fastness.errors import FileError, InputError, MissingError
from fastness.exercises.shelving import as_exercise
from fastness.language import ENGLISH, Language
from fastness.lessons.found import Answer
from fastness.lessons.lesson import AllThatKeep, Better, Block, Claim, Keeps, Lesson, Loses
from fastness.publish.answers import said_in_words
from fastness.store import Store, shelf
from fastness.survey.lines import move_name
from fastness.workflows.lessons import check_lessons, open_lesson
from fastness.workflows.shelf_page import is_struck, said_of


@dataclass(frozen=True, slots=True)
class Taught:
    """A position, its question if it has one, and the moves (UCI) tried in it.

    `by_class`: the class proposed them; else a lesson file names them. `said` is what the teacher
    said of the exercise that it is from, a sentence each.
    """

    position: BoardPosition
    tries: tuple[str, ...]
    by_class: bool
    asked: str = ""
    said: tuple[str, ...] = ()


def class_board(place: Path, name: str) -> ClassSession:
    """The class board of a number or a title in the file where they are kept.

    Raises MissingError where there is none, InputError where a title is that of several, and
    StoreError where the file cannot be read.
    """
    every = kept_at(place)
    asked = name.strip().casefold()
    found = [one for one in every if str(one.number) == asked]
    found = found or [one for one in every if one.title.strip().casefold() == asked]
    listed = "; ".join(f"{one.number} {one.title}".strip() for one in every) or "none"
    if not found:
        raise MissingError(f'there is no class board "{name}"; there is {listed}')
    if len(found) > 1:
        numbers = ", ".join(str(one.number) for one in found)
        raise InputError(
            f'there are {len(found)} class boards "{name}"; give one\'s number: {numbers}'
        )
    return found[0]


def taught_by_board(
    session: ClassSession, store: Store, language: Language = ENGLISH
) -> tuple[Taught, ...]:
    """The positions of a class board with the class's tries in their order.

    No hands and no notes; an exercise that was struck is left out, and what else the teacher said
    of one is there.
    """
    found = []
    for one in session.positions:
        said = _said(store, one, language)
        if said is not None:
            tries = tuple(dict.fromkeys(tried.move for tried in one.tries))
            asked = one.asked.get(language.code, "")
            found.append(Taught(one, tries, by_class=True, asked=asked, said=said))
    return tuple(found)


def _said(store: Store, position: BoardPosition, language: Language) -> tuple[str, ...] | None:
    """What the teacher said of an exercise; None where it was struck."""
    if position.origin != "exercise":
        return ()
    with store.reading() as session:
        try:
            row = shelf.numbered(session, position.of)
        except MissingError:
            return ()
        # Another store may have another exercise of this number.
        exercise = as_exercise(row)
        if exercise.fen != position.fen:
            return ()
        if is_struck(row):
            return None
        return tuple(said_in_words(exercise, one, language) for one in said_of(row, language))


def taught_by_lesson(path: str | Path, language: Language = ENGLISH) -> tuple[Taught, ...]:
    """The positions of a lesson file with the moves that it claims something about.

    The moves are in alphabetical order, so that it does not give away which of them hold. Raises
    FileError, with the line, where the lesson cannot be read or a claim in it is false.
    """
    lesson = open_lesson(path)
    for fault in lesson.faults:
        raise FileError(f"{path}:{fault.line}:{fault.column}: {fault.message}")
    _check(path, lesson, language)
    return taught_in(lesson)


def taught_in(lesson: Lesson) -> tuple[Taught, ...]:
    """The same of a lesson that was read and checked."""
    return tuple(_of_block(block) for block in lesson.blocks)


def _check(path: str | Path, lesson: Lesson, language: Language) -> None:
    for one in check_lessons([(str(path), lesson)], language):
        if isinstance(one.found, Answer) and one.found.verdict == "false":
            claim = one.found.claim
            raise FileError(
                f"{path}:{claim.line}: {claim.text} is false; see what is true, and mend it:"
                f" fastness lesson check {path}"
            )


def _of_block(block: Block) -> Taught:
    place = block.place
    if place is None:
        raise FileError(f"line {block.line}: this block has no position")
    position = given(place.start, " ".join(place.moves))
    moves = dict.fromkeys(move for claim in block.claims for move in _moves_of(claim))
    board = chess.Board(position.fen)
    tries = tuple(sorted(moves, key=lambda uci: move_name(board, uci)))
    return Taught(position, tries, by_class=False)


def _moves_of(claim: Claim) -> Iterator[str]:
    if isinstance(claim, Keeps | AllThatKeep):
        yield from claim.moves
    elif isinstance(claim, Loses):
        yield claim.move
    elif isinstance(claim, Better):
        yield from (move for move, _ in claim.moves)

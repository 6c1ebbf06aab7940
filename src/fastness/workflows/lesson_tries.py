"""When a lesson was taught, and what was tried in its positions: told from the store."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

import chess

from fastness.language import ENGLISH, Language
from fastness.lessons.lesson import Lesson
from fastness.store import Store, taught
from fastness.store.taught import KeptPosition
from fastness.store.taught_tables import KeptTry, Taught, TaughtPosition
from fastness.survey.lines import move_name
from fastness.survey.position import position_key


@dataclass(frozen=True, slots=True)
class TryKept:
    """A move that a class tried, the hands counted for it, and its verdict in words."""

    uci: str
    name: str
    hands: int
    holds: bool
    firm: bool
    told: str


@dataclass(frozen=True, slots=True)
class PositionTried:
    """A position in which something was tried.

    `number` counts the positions of the lesson from 1; 0 where it is no longer in the lesson, or
    was added at the class board. `moves` (UCI) lead to it from the FEN `start`.
    """

    number: int
    fen: str
    start: str
    moves: tuple[str, ...]
    tries: tuple[TryKept, ...]


@dataclass(frozen=True, slots=True)
class LessonTaught:
    """A class board, by its number, on which a lesson was taught, and the day."""

    number: int
    held: datetime.date
    positions: tuple[PositionTried, ...]


def lesson_taught(
    store: Store, name: str, lesson: Lesson | None = None, language: Language = ENGLISH
) -> list[LessonTaught]:
    """When the lesson of a name was taught, the last time first, with what was tried.

    `lesson` is its text as it is now, by which its positions are numbered.
    """
    with store.reading() as session:
        return [_told(one, lesson, language) for one in taught.of_lesson(session, name)]


def forget_taught(store: Store, name: str, number: int) -> LessonTaught:
    """Remove what was kept of a class board with a lesson; what it was is told.

    Raises MissingError where nothing is kept of it.
    """
    with store.writing() as session:
        kept = taught.numbered(session, number, name)
        told = _told(kept, None, ENGLISH)
        session.delete(kept)
    return told


def put_back(store: Store, name: str, told: LessonTaught) -> None:
    """Keep again what `forget_taught` removed."""
    positions = [
        KeptPosition(
            one.start,
            one.moves,
            tuple(
                KeptTry(move=tried.uci, hands=tried.hands, holds=tried.holds, firm=tried.firm)
                for tried in one.tries
            ),
        )
        for one in told.positions
    ]
    with store.writing() as session:
        taught.keep(session, told.number, name, told.held, positions)


def taught_under(store: Store, name: str, other: str) -> None:
    """Let what was kept with a lesson belong to its new name."""
    with store.writing() as session:
        taught.rename(session, name, other)


def _told(kept: Taught, lesson: Lesson | None, language: Language) -> LessonTaught:
    numbers: dict[str, int] = {}
    for at, block in enumerate(lesson.blocks if lesson else (), 1):
        if block.place is not None:
            numbers.setdefault(position_key(block.place.fen), at)
    positions = [_position(one, numbers, language) for one in kept.positions]
    positions.sort(key=lambda one: (one.number == 0, one.number))
    return LessonTaught(kept.number, kept.held, tuple(positions))


def _position(kept: TaughtPosition, numbers: dict[str, int], language: Language) -> PositionTried:
    board, moves = chess.Board(kept.start_fen), tuple(kept.moves.split())
    for move in moves:
        board.push_uci(move)
    fen = board.fen()
    tries = tuple(_try(board, one, language) for one in kept.tries)
    number = numbers.get(position_key(fen), 0)
    return PositionTried(number, fen, kept.start_fen, moves, tries)


def _try(board: chess.Board, kept: KeptTry, language: Language) -> TryKept:
    name = move_name(board, kept["move"], language)
    told = verdict_in_words(kept, language)
    return TryKept(kept["move"], name, kept["hands"], kept["holds"], kept["firm"], told)


def verdict_in_words(kept: KeptTry, language: Language) -> str:
    """``keeps the material``, ``falls``, or ``not settled``."""
    if not kept["firm"]:
        return language.say("not settled")
    return language.say("keeps the material") if kept["holds"] else language.say("falls")


def rows(told: Sequence[LessonTaught], language: Language = ENGLISH) -> list[str]:
    """What was tried, a row for each class board and below it one for each position."""
    found = []
    for one in told:
        found.append(language.say("Taught on {date}:", date=one.held.isoformat()))
        found += [_row(at, language) for at in one.positions]
    return found


def _row(position: PositionTried, language: Language) -> str:
    say = language.say
    tries = "; ".join(
        f"{one.name} {one.told} ({_hands(one.hands, language)})" for one in position.tries
    )
    if position.number:
        return "  " + say("Position {number}: {tries}", number=position.number, tries=tries)
    return "  " + say("Not in the lesson now, {fen}: {tries}", fen=position.fen, tries=tries)


def _hands(number: int, language: Language) -> str:
    return language.say_many("{number} hand", "{number} hands", number)

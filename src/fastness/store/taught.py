"""Class boards that lessons were taught on, in the store: kept, found, brought back."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.errors import MissingError
from fastness.store.naming import Naming
from fastness.store.tables import Student
from fastness.store.taught_tables import KeptTry, Taught, TaughtPosition


@dataclass(frozen=True, slots=True)
class KeptPosition:
    """A position with what was tried in it; `moves` (UCI) lead to it from the FEN `start`."""

    start: str
    moves: tuple[str, ...]
    tries: tuple[KeptTry, ...]


def keep(
    session: Session,
    number: int,
    lesson: str,
    held: datetime.date,
    positions: Sequence[KeptPosition],
) -> None:
    """Keep what was tried at a class board, in place of what was kept of it before.

    Without a position nothing is kept of it any more.
    """
    found = session.scalar(select(Taught).where(Taught.number == number))
    if not positions:
        if found is not None:
            session.delete(found)
        return
    if found is None:
        found = Taught(number=number, lesson=lesson, held=held)
        session.add(found)
    if [(one.start_fen, one.moves) for one in found.positions] != [
        (one.start, " ".join(one.moves)) for one in positions
    ]:
        found.positions = []
        session.flush()
        found.positions = [
            TaughtPosition(
                place=place, start_fen=one.start, moves=" ".join(one.moves), tries=list(one.tries)
            )
            for place, one in enumerate(positions)
        ]
    for row, one in zip(found.positions, positions, strict=True):
        row.tries = list(one.tries)
    session.flush()


def of_lesson(session: Session, lesson: str) -> list[Taught]:
    """The class boards that a lesson was taught on, the last first."""
    asked = select(Taught).where(Taught.lesson == lesson)
    return list(session.scalars(asked.order_by(Taught.held.desc(), Taught.number.desc())))


def numbered(session: Session, number: int, lesson: str) -> Taught:
    """What was kept with a lesson of the class board of a number.

    Raises MissingError where nothing was.
    """
    asked = select(Taught).where(Taught.number == number, Taught.lesson == lesson)
    found = session.scalar(asked)
    if found is None:
        raise MissingError(f'Nothing is kept of a class board {number} with "{lesson}".')
    return found


def rename(session: Session, lesson: str, other: str) -> None:
    """Let what was kept with a lesson belong to the name that it has now."""
    for one in of_lesson(session, lesson):
        one.lesson = other


def told(session: Session, only: Student | None = None) -> dict[str, Any]:
    """What an export has of it; nothing in the export of one student, since no student is named."""
    rows = [] if only else session.scalars(select(Taught).order_by(Taught.number)).all()
    return {
        "taught": [
            {
                "number": one.number,
                "lesson": one.lesson,
                "held": one.held.isoformat(),
                "positions": [
                    {"start_fen": at.start_fen, "moves": at.moves, "tries": at.tries}
                    for at in one.positions
                ],
            }
            for one in rows
        ]
    }


def bring_back(session: Session, record: dict[str, Any]) -> None:
    """Add what an export has of it; what is there already stays."""
    for one in record.get("taught", ()):
        if session.scalar(select(Taught).where(Taught.number == one["number"])) is None:
            positions = [
                KeptPosition(at["start_fen"], tuple(at["moves"].split()), tuple(at["tries"]))
                for at in one["positions"]
            ]
            held = datetime.date.fromisoformat(one["held"])
            keep(session, one["number"], one["lesson"], held, positions)


def take_out(session: Session, naming: Naming, nobody: str) -> None:
    """Leave no name of an erased student in the name of a lesson."""
    for one in session.scalars(select(Taught)):
        one.lesson = naming.without(one.lesson, nobody)[:200]

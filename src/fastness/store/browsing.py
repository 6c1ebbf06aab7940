"""Looking through the store: which games there are, by student, group, date and name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import ColumnElement, Select, exists, func, or_, select
from sqlalchemy.orm import Session

from fastness.errors import MissingError
from fastness.store.tables import Game, Group, Seat, Student


@dataclass(frozen=True, slots=True)
class Asked:
    """Which games are asked for; what is None or empty asks for nothing.

    `since` is a PGN date, ``2026.09.01``. `text` stands in one of the players' names.
    """

    student: int | None = None
    group: int | None = None
    game: int | None = None
    since: str = ""
    text: str = ""


def seats_of(session: Session, asked: Asked) -> Sequence[Seat]:
    """The sides of the games asked for that a student of the store played, the last game first."""
    wanted = select(Seat).join(Seat.game).join(Seat.student)
    wanted = wanted.order_by(Game.date.desc(), Game.id.desc(), Seat.colour.desc())
    if asked.student is not None:
        wanted = wanted.where(Seat.student_id == asked.student)
    if asked.group is not None:
        wanted = wanted.where(Student.group_id == asked.group)
    if asked.game is not None:
        wanted = wanted.where(Seat.game_id == asked.game)
    if asked.since:
        wanted = wanted.where(Game.date >= asked.since)
    return session.scalars(wanted).all()


def games_of(
    session: Session, asked: Asked, *, most: int, after: int = 0
) -> tuple[int, Sequence[Game]]:
    """How many games are asked for, and `most` of them from the one after `after` on."""
    wanted = _games(asked)
    count = session.scalar(select(func.count()).select_from(wanted.subquery())) or 0
    shown = wanted.order_by(Game.date.desc(), Game.id.desc()).offset(after).limit(most)
    return count, session.scalars(shown).all()


def _games(asked: Asked) -> Select[Game]:
    wanted = select(Game)
    if asked.game is not None:
        wanted = wanted.where(Game.id == asked.game)
    if asked.student is not None:
        wanted = wanted.where(_seat(Seat.student_id == asked.student))
    if asked.group is not None:
        members = select(Student.id).where(Student.group_id == asked.group)
        wanted = wanted.where(_seat(Seat.student_id.in_(members)))
    if asked.since:
        wanted = wanted.where(Game.date >= asked.since)
    if asked.text:
        names = (Game.white, Game.black)
        wanted = wanted.where(or_(*(name.icontains(asked.text, autoescape=True) for name in names)))
    return wanted


def _seat(condition: ColumnElement[bool]) -> ColumnElement[bool]:
    return exists().where(Seat.game_id == Game.id, condition)


def games_counted(session: Session) -> dict[int, tuple[int, str]]:
    """For each student who has games, how many, and the last date known of them, as PGN has it."""
    counted = (
        select(Seat.student_id, func.count(), func.max(Game.date))
        .join(Seat.game)
        .group_by(Seat.student_id)
    )
    return {student: (games, last or "") for student, games, last in session.execute(counted)}


def game_numbered(session: Session, number: int) -> Game:
    """The game of this number. Raises MissingError where there is none."""
    found = session.get(Game, number)
    if found is None:
        raise MissingError(f"There is no game {number} in the store.")
    return found


def student_numbered(session: Session, number: int) -> Student:
    """The student of this number. Raises MissingError where there is none."""
    found = session.get(Student, number)
    if found is None:
        raise MissingError(f"There is no student {number} in the store.")
    return found


def group_numbered(session: Session, number: int) -> Group:
    """The group of this number. Raises MissingError where there is none."""
    found = session.get(Group, number)
    if found is None:
        raise MissingError(f"There is no group {number} in the store.")
    return found

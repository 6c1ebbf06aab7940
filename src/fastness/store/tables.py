"""The tables of the store: clubs, groups, students, games, what was found in them, corrections."""

from __future__ import annotations

import datetime
from typing import Any

from sqlalchemy import JSON, ForeignKey, Index, MetaData, String, Text, UniqueConstraint
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column, relationship

# Named after what they hold, so that a migration can name them on every database.
NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s",
    "pk": "pk_%(table_name)s",
}


class Table(DeclarativeBase):
    """The base of all tables."""

    metadata = MetaData(naming_convention=NAMES)


class Group(Table):
    """Students who are taught together. A group belongs to a club."""

    __tablename__ = "student_group"
    __table_args__ = (UniqueConstraint("club", "name"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    club: Mapped[str] = mapped_column(String(200), default="")
    name: Mapped[str] = mapped_column(String(200))
    students: Mapped[list[Student]] = relationship(
        back_populates="group", order_by="Student.name", passive_deletes=True
    )


class Student(Table):
    """A student, by the name that the teacher uses. `born` and the like are not kept."""

    __tablename__ = "student"

    id: Mapped[int] = mapped_column(primary_key=True)
    name: Mapped[str] = mapped_column(String(200), unique=True)
    group_id: Mapped[int | None] = mapped_column(
        ForeignKey("student_group.id", ondelete="SET NULL"), index=True
    )
    group: Mapped[Group | None] = relationship(back_populates="students")
    aliases: Mapped[list[Alias]] = relationship(
        back_populates="student",
        cascade="all, delete-orphan",
        passive_deletes=True,
        order_by="Alias.name",
    )
    seats: Mapped[list[Seat]] = relationship(
        back_populates="student", cascade="all, delete-orphan", passive_deletes=True
    )


class Alias(Table):
    """A name by which a student appears in games; `form` is the same for all its spellings."""

    __tablename__ = "alias"

    id: Mapped[int] = mapped_column(primary_key=True)
    student_id: Mapped[int] = mapped_column(
        ForeignKey("student.id", ondelete="CASCADE"), index=True
    )
    name: Mapped[str] = mapped_column(String(200))
    form: Mapped[str] = mapped_column(String(200), unique=True)
    student: Mapped[Student] = relationship(back_populates="aliases")


class Game(Table):
    """A game, once however often it is brought in.

    `identity` is made of the start, the moves and the two names; `date` is PGN's, empty where it
    is not known in full. `moves` are UCI words, `clocks` the seconds left after each move or None,
    `spent` the seconds it took. `beside` is what stood before the first move and after each.
    """

    __tablename__ = "game"
    __table_args__ = (UniqueConstraint("identity", "date"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    identity: Mapped[str] = mapped_column(String(64), index=True)
    date: Mapped[str] = mapped_column(String(10), default="")
    white: Mapped[str] = mapped_column(String(200))
    black: Mapped[str] = mapped_column(String(200))
    result: Mapped[str] = mapped_column(String(7))
    start_fen: Mapped[str] = mapped_column(String(100))
    moves: Mapped[str] = mapped_column(Text)
    clocks: Mapped[list[float | None]] = mapped_column(JSON)
    tags: Mapped[dict[str, str]] = mapped_column(JSON)
    spent: Mapped[list[float | None]] = mapped_column(JSON, server_default="[]")
    beside: Mapped[list[str]] = mapped_column(JSON, server_default="[]")
    seats: Mapped[list[Seat]] = relationship(
        back_populates="game",
        cascade="all, delete-orphan",
        passive_deletes=True,
        order_by="Seat.colour.desc()",
    )
    corrections: Mapped[list[Correction]] = relationship(
        back_populates="game",
        cascade="all, delete-orphan",
        passive_deletes=True,
        order_by="Correction.id",
    )


class Seat(Table):
    """A student at one side of a game, and how that side was sifted, if it was.

    `settings` name the reach, the values and the version of the sift.
    """

    __tablename__ = "seat"
    __table_args__ = (UniqueConstraint("game_id", "colour"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    game_id: Mapped[int] = mapped_column(ForeignKey("game.id", ondelete="CASCADE"))
    colour: Mapped[str] = mapped_column(String(5))
    student_id: Mapped[int] = mapped_column(
        ForeignKey("student.id", ondelete="CASCADE"), index=True
    )
    settings: Mapped[str | None] = mapped_column(String(100))
    game: Mapped[Game] = relationship(back_populates="seats")
    student: Mapped[Student] = relationship(back_populates="seats")
    occasions: Mapped[list[FoundOccasion]] = relationship(
        back_populates="seat",
        cascade="all, delete-orphan",
        passive_deletes=True,
        order_by="FoundOccasion.place",
    )


class FoundOccasion(Table):
    """An occasion of the student's side of a game; `told` is the whole of it as published."""

    __tablename__ = "occasion"
    __table_args__ = (
        UniqueConstraint("seat_id", "place"),
        Index(None, "kind", "outcome"),
    )

    id: Mapped[int] = mapped_column(primary_key=True)
    seat_id: Mapped[int] = mapped_column(ForeignKey("seat.id", ondelete="CASCADE"))
    place: Mapped[int]
    ply: Mapped[int]
    kind: Mapped[str] = mapped_column(String(10))
    outcome: Mapped[str] = mapped_column(String(20))
    told: Mapped[dict[str, Any]] = mapped_column(JSON)
    seat: Mapped[Seat] = relationship(back_populates="occasions")


class Correction(Table):
    """The teacher's last word on an occasion: struck, given another outcome, or commented on.

    With a `move` (UCI) it is on that move alone, and `outcome` is "holds" or "falls".

    It hangs on the game and the ply, so that it stays when everything is computed again.
    """

    __tablename__ = "correction"

    id: Mapped[int] = mapped_column(primary_key=True)
    game_id: Mapped[int] = mapped_column(ForeignKey("game.id", ondelete="CASCADE"), index=True)
    ply: Mapped[int]
    kind: Mapped[str] = mapped_column(String(10))
    action: Mapped[str] = mapped_column(String(10))
    outcome: Mapped[str | None] = mapped_column(String(20))
    move: Mapped[str | None] = mapped_column(String(5))
    reason: Mapped[str] = mapped_column(Text)
    made: Mapped[datetime.date]
    game: Mapped[Game] = relationship(back_populates="corrections")


class Lesson(Table):
    """A date that a group was taught, and what."""

    __tablename__ = "lesson"

    id: Mapped[int] = mapped_column(primary_key=True)
    group_id: Mapped[int] = mapped_column(
        ForeignKey("student_group.id", ondelete="CASCADE"), index=True
    )
    held: Mapped[datetime.date]
    theme: Mapped[str] = mapped_column(String(200))
    group: Mapped[Group] = relationship()
    attendance: Mapped[list[Attendance]] = relationship(
        back_populates="lesson", cascade="all, delete-orphan", passive_deletes=True
    )


class Attendance(Table):
    """A student who was there at a lesson. A lesson without any: nobody noted who was there."""

    __tablename__ = "attendance"
    __table_args__ = (UniqueConstraint("lesson_id", "student_id"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    lesson_id: Mapped[int] = mapped_column(ForeignKey("lesson.id", ondelete="CASCADE"))
    student_id: Mapped[int] = mapped_column(
        ForeignKey("student.id", ondelete="CASCADE"), index=True
    )
    lesson: Mapped[Lesson] = relationship(back_populates="attendance")
    student: Mapped[Student] = relationship()


class Erased(Table):
    """A mark of a name that was erased, so that no import brings it back.

    The mark is a salted hash, one for each form of the name; the name itself is not kept.
    `number` stands in the games that the erased one played with another student.
    """

    __tablename__ = "erased"

    id: Mapped[int] = mapped_column(primary_key=True)
    number: Mapped[int]
    salt: Mapped[str] = mapped_column(String(32))
    mark: Mapped[str] = mapped_column(String(64), unique=True)

"""The tables of what a class tried when a lesson was taught to it. No student stands in them."""

from __future__ import annotations

import datetime
from typing import TypedDict

from sqlalchemy import JSON, ForeignKey, String, Text, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from fastness.store.tables import Table


class KeptTry(TypedDict):
    """A move (UCI) that was tried, the hands counted for it, and its verdict then."""

    move: str
    hands: int
    holds: bool
    firm: bool


class Taught(Table):
    """A class board that a lesson was taught on.

    `number` is that of the class board, `lesson` the name of the lesson's file without its ending.
    """

    __tablename__ = "taught"

    id: Mapped[int] = mapped_column(primary_key=True)
    number: Mapped[int] = mapped_column(unique=True)
    lesson: Mapped[str] = mapped_column(String(200), index=True)
    held: Mapped[datetime.date]
    positions: Mapped[list[TaughtPosition]] = relationship(
        cascade="all, delete-orphan", passive_deletes=True, order_by="TaughtPosition.place"
    )


class TaughtPosition(Table):
    """A position in which something was tried; `place` counts from 0.

    `moves` (UCI words) lead to it from `start_fen`.
    """

    __tablename__ = "taught_position"
    __table_args__ = (UniqueConstraint("taught_id", "place"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    taught_id: Mapped[int] = mapped_column(ForeignKey("taught.id", ondelete="CASCADE"))
    place: Mapped[int]
    start_fen: Mapped[str] = mapped_column(String(100))
    moves: Mapped[str] = mapped_column(Text)
    tries: Mapped[list[KeptTry]] = mapped_column(JSON)

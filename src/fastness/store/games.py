"""Games in the store: each once, with who of the students played, and what was found."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence

import chess
from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.core.shapes import Side
from fastness.intake import Game
from fastness.sift import Occasion
from fastness.store import tables
from fastness.store.students import one_form
from fastness.store.tables import FoundOccasion, Seat, Student


def identity(game: Game) -> str:
    """The same for the same moves from the same position by the same two players.

    Tags do not matter, nor how the names are written.
    """
    start = " ".join(chess.Board(game.start_fen).fen().split()[:4])
    names = [one_form(game.tags.get(tag, "?")) for tag in ("White", "Black")]
    text = "\n".join([start, " ".join(game.moves), *names])
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def full_date(tags: Mapping[str, str]) -> str:
    """The date of a game where it is known in full, else empty."""
    date = tags.get("Date", "")
    return date if re.fullmatch(r"\d{4}\.\d\d\.\d\d", date) else ""


def find_game(session: Session, game: Game) -> tables.Game | None:
    """The stored game that is this one: the dates are equal, or one of them is not known."""
    date = full_date(game.tags)
    alike = session.scalars(
        select(tables.Game).where(tables.Game.identity == identity(game)).order_by(tables.Game.id)
    ).all()
    exact = next((one for one in alike if one.date == date), None)
    return exact or next((one for one in alike if not one.date or not date), None)


def is_sifted(stored: tables.Game, colours: Iterable[Side], settings: str) -> bool:
    """Whether these sides of a stored game have been gone through with these settings."""
    done = {seat.colour for seat in stored.seats if seat.settings == settings}
    return set(colours) <= done


def add_game(
    session: Session,
    game: Game,
    players: Mapping[Side, Student],
    occasions: Sequence[Occasion],
    settings: str,
) -> bool:
    """Keep a game with what was found for the students in it; whether it was new.

    A game that is there already is not stored again; its sides are filled in, and what was found
    before with other settings is replaced. The teacher's corrections stay.
    """
    stored = find_game(session, game)
    new = stored is None
    if stored is None:
        stored = _new(game)
        session.add(stored)
    _complete(stored, game)
    for colour, student in players.items():
        seat = next((one for one in stored.seats if one.colour == colour), None)
        if seat is None:
            seat = Seat(game=stored, colour=colour, student=student)
            session.add(seat)
        seat.student = student
        if seat.settings != settings:
            _replace(session, seat, [one for one in occasions if one["colour"] == colour])
            seat.settings = settings
    session.flush()
    return new


def _new(game: Game) -> tables.Game:
    return tables.Game(
        identity=identity(game),
        date=full_date(game.tags),
        white=game.tags.get("White", "?"),
        black=game.tags.get("Black", "?"),
        result=game.result,
        start_fen=game.start_fen,
        moves=" ".join(game.moves),
        clocks=list(game.clocks),
        tags=dict(game.tags),
    )


def _complete(stored: tables.Game, game: Game) -> None:
    """What another copy of a game knows besides: its date, clocks, a result, further tags."""
    stored.date = stored.date or full_date(game.tags)
    if all(clock is None for clock in stored.clocks):
        stored.clocks = list(game.clocks)
    if stored.result == "*":
        stored.result = game.result
    known = {key: tag for key, tag in stored.tags.items() if tag.strip(" ?.")}
    stored.tags = {**game.tags, **known}


def _replace(session: Session, seat: Seat, occasions: Sequence[Occasion]) -> None:
    seat.occasions.clear()
    # The old ones must be gone before new ones take their places.
    session.flush()
    seat.occasions = [
        FoundOccasion(
            place=place,
            ply=occasion["ply"],
            kind=occasion["kind"],
            outcome=occasion["outcome"],
            told=dict(occasion),
        )
        for place, occasion in enumerate(occasions)
    ]


def as_game(stored: tables.Game) -> Game:
    """A stored game as it came in."""
    moves = tuple(stored.moves.split())
    return Game(
        file="",
        number=stored.id,
        line=1,
        tags=dict(stored.tags),
        start_fen=stored.start_fen,
        moves=moves,
        clocks=tuple(stored.clocks) or (None,) * len(moves),
        result=stored.result,
    )

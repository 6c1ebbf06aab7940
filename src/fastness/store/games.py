"""Games in the store: each once, with who of the students played, and what was found."""

from __future__ import annotations

import dataclasses
import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import chess
from sqlalchemy import delete, select, update
from sqlalchemy.orm import Session

from fastness.core.shapes import Side
from fastness.intake import Game
from fastness.sift import Occasion
from fastness.store import tables
from fastness.store.erased import NOBODY, SIDES, is_nobody, number_of
from fastness.store.students import LONGEST_NAME, is_overlong, one_form
from fastness.store.tables import Correction, FoundOccasion, Seat, Student
from fastness.survey.position import position_key


def identity(game: Game) -> str:
    """The same for the same moves from the same position by the same two players.

    Tags do not matter, nor how the names are written.
    """
    start = position_key(chess.Board(game.start_fen).fen())
    names = [one_form(game.tags.get(tag, "?")) for tag in ("White", "Black")]
    text = "\n".join([start, " ".join(game.moves), *names])
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def overlong(game: Game) -> list[str]:
    """What of a game is too long for the store, a sentence each."""
    return [
        f"the name of {tag} has {len(name)} letters, and the store takes {LONGEST_NAME}; the game"
        " is not brought in. Shorten the name in the file"
        for _, tag in SIDES
        if (name := game.tags.get(tag, "")) and is_overlong(name)
    ]


def full_date(tags: Mapping[str, str]) -> str:
    """The date of a game where it is known in full, else empty."""
    date = tags.get("Date", "")
    return date if re.fullmatch(r"\d{4}\.\d\d\.\d\d", date) else ""


def find_game(session: Session, game: Game) -> tables.Game | None:
    """The stored game that is this one: the dates are equal, or one of them is not known."""
    date = full_date(game.tags)
    alike = session.scalars(
        select(tables.Game)
        .where(tables.Game.identity.in_(_identities(session, game)))
        .order_by(tables.Game.date, tables.Game.id)
    ).all()
    exact = next((one for one in alike if one.date == date), None)
    return exact or next((one for one in alike if not one.date or not date), None)


def _identities(session: Session, game: Game) -> list[str]:
    """What a game is known by; also as it is kept where a player was erased and is back."""
    alike = [game]
    for _, tag in SIDES:
        number = number_of(session, game.tags.get(tag, "?"))
        if number is not None:
            tags = {tag: f"{NOBODY} {number}"}
            alike += [dataclasses.replace(one, tags={**one.tags, **tags}) for one in alike]
    return [identity(one) for one in alike]


def is_ply_of(game: tables.Game, ply: int, side: str) -> bool:
    """Whether a ply, counted from 1, is this side's, in a game that either may have begun."""
    first = game.start_fen.split()[1] == "w"
    return ((ply % 2 == 1) == first) == (side == "white")


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
    else:
        write_over(session, stored, completed(as_game(stored), game))
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
        spent=list(game.spent),
        beside=list(game.beside),
    )


def knows_more(stored: tables.Game, copy: Game) -> bool:
    """Whether another copy of a stored game tells something that this one does not."""
    told = as_game(stored)
    return completed(told, copy) != told


def complete(session: Session, copy: Game) -> None:
    """Add to the stored game what another copy of it knows besides."""
    stored = find_game(session, copy)
    if stored is not None:
        write_over(session, stored, completed(as_game(stored), copy))


def completed(stored: Game, copy: Game) -> Game:
    """A stored game with what another copy of it knows besides.

    Where both say something else, the copy counts whose date is known in full, and of two with
    one the game that is stored; so the order in which they come does not matter.
    """
    dated = bool(full_date(copy.tags)) and not full_date(stored.tags)
    better, other = (copy, stored) if dated else (stored, copy)
    return dataclasses.replace(
        stored,
        tags={**other.tags, **better.tags, **_known(other.tags), **_known(better.tags)},
        spent=better.spent if _told(better.spent) else other.spent,
        beside=better.beside if any(better.beside) else other.beside,
        clocks=better.clocks if _told(better.clocks) else other.clocks,
        result=better.result if better.result != "*" else other.result,
    )


def _known(tags: Mapping[str, str]) -> dict[str, str]:
    """The tags that say something."""
    return {key: tag for key, tag in tags.items() if tag.strip(" ?.*") and not is_nobody(tag)}


def _told(times: Sequence[float | None]) -> bool:
    return any(time is not None for time in times)


def write_over(session: Session, stored: tables.Game, game: Game) -> None:
    """Let a stored game be this one, which has the same moves; another one like it is merged.

    What was found in it, and the teacher's corrections, stay.
    """
    if game == as_game(stored):
        return
    own, date = identity(game), full_date(game.tags)
    asked = select(tables.Game).where(tables.Game.identity == own, tables.Game.date == date)
    twin = session.scalar(asked.where(tables.Game.id != stored.id))
    if twin is not None:
        game = completed(game, as_game(twin))
        _take_over(session, stored, twin)
    stored.identity, stored.date = own, date
    stored.white, stored.black = (game.tags.get(tag, "?") for _, tag in SIDES)
    stored.result = game.result
    stored.clocks = list(game.clocks)
    stored.spent, stored.beside = list(game.spent), list(game.beside)
    stored.tags = dict(game.tags)
    for seat in stored.seats:
        for occasion in seat.occasions:
            occasion.told = labelled(occasion.told, seat.colour, game)
    session.flush()


def _take_over(session: Session, stored: tables.Game, twin: tables.Game) -> None:
    """Let all that hangs on a twin of a stored game hang on that one; the twin goes."""
    taken = {seat.colour for seat in stored.seats}
    free = update(Seat).where(Seat.game_id == twin.id, Seat.colour.not_in(taken))
    session.execute(free.values(game_id=stored.id))
    moved = update(Correction).where(Correction.game_id == twin.id)
    session.execute(moved.values(game_id=stored.id))
    session.execute(delete(tables.Game).where(tables.Game.id == twin.id))
    session.expunge(twin)
    session.expire(stored, ["seats", "corrections"])


def labelled(told: Mapping[str, Any], colour: str, game: Game) -> dict[str, Any]:
    """An occasion as published, with the names, the date and the clock of a stored game."""
    label = {
        **told["game"],
        "event": game.tags.get("Event", "?"),
        "date": game.tags.get("Date", "????.??.??"),
        "white": game.tags.get("White", "?"),
        "black": game.tags.get("Black", "?"),
        "result": game.result,
    }
    clock = game.clocks[told["ply"] - 1]
    return {**told, "game": label, "player": label[colour], "clock": clock}


def _replace(session: Session, seat: Seat, occasions: Sequence[Occasion]) -> None:
    game = as_game(seat.game)
    seat.occasions.clear()
    # The old ones must be gone before new ones take their places.
    session.flush()
    seat.occasions = [
        FoundOccasion(
            place=place,
            ply=occasion["ply"],
            kind=occasion["kind"],
            outcome=occasion["outcome"],
            told=labelled(occasion, seat.colour, game),
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
        spent=tuple(stored.spent),
        beside=tuple(stored.beside),
    )

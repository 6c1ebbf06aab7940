"""A student's record out of the store, and its diagnosis beside the group's."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, cast

from sqlalchemy.orm import Session

from fastness.core.shapes import Side
from fastness.record import (
    Correction,
    Diagnosis,
    Episode,
    LookedThrough,
    MoveCorrection,
    MoveVerdict,
    Said,
    StudentGame,
    apply_corrections,
    diagnose_among,
    looked_through,
)
from fastness.sift import Occasion, Outcome
from fastness.store import Store, tables
from fastness.store.browsing import group_numbered, student_numbered
from fastness.store.corrections import before_ply
from fastness.store.games import is_ply_of
from fastness.store.students import group_named, student_named, students
from fastness.store.tables import Game, Group, Seat, Student

_SCORES = {"1-0": (1.0, 0.0), "0-1": (0.0, 1.0), "1/2-1/2": (0.5, 0.5)}


@dataclass(frozen=True, slots=True)
class StoredGame:
    """A student's game with what the record leaves out: whom it was against, and its moves."""

    game: StudentGame
    opponent: str
    remarks: tuple[Remark, ...]


@dataclass(frozen=True, slots=True)
class Remark:
    """What the teacher said of a place in a game: struck, overruled or commented on.

    `number` is that of the correction in the store, `at` that of the move, such as ``14...``. With
    a `move` (UCI) it is said of that move alone, in the position `fen`.
    """

    ply: int
    kind: str
    action: str
    outcome: str | None
    reason: str
    at: str
    fen: str
    move: str | None = None
    number: int = 0


@dataclass(frozen=True, slots=True)
class StudentRecord:
    """A student's games, and their diagnosis beside the others of the group."""

    name: str
    group: str | None
    games: tuple[StoredGame, ...]
    diagnosis: Diagnosis

    def game(self, key: str) -> StoredGame:
        """The game that an episode is from."""
        return next(one for one in self.games if one.game.game == key)


def record_of(store: Store, name: str) -> StudentRecord:
    """The record of one student, judged beside the others of the same group.

    Raises StudentError where there is no such student.
    """
    with store.reading() as session:
        return _record(session, student_named(session, name))


def records_of_group(store: Store, name: str) -> list[StudentRecord]:
    """The records of a group's students, by name. Raises StudentError where there is no group."""
    with store.reading() as session:
        return _records(session, group_named(session, name))


def record_numbered(store: Store, number: int) -> StudentRecord:
    """As `record_of`, by the student's number. Raises MissingError where there is none."""
    with store.reading() as session:
        return _record(session, student_numbered(session, number))


def records_of_group_numbered(store: Store, number: int) -> tuple[str, list[StudentRecord]]:
    """A group's name, and its students' records. Raises MissingError where there is no group."""
    with store.reading() as session:
        group = group_numbered(session, number)
        return group.name, _records(session, group)


def _record(session: Session, student: Student) -> StudentRecord:
    fellows = students(session, student.group) if student.group else students(session)
    return _among(student, {fellow.id: _looked_through(fellow) for fellow in fellows})


def _records(session: Session, group: Group) -> list[StudentRecord]:
    """Of a whole group: everybody's games are gone through once."""
    members = students(session, group)
    looked = {member.id: _looked_through(member) for member in members}
    return [_among(member, looked) for member in members]


def _looked_through(student: Student) -> LookedThrough:
    return looked_through([student_game(seat) for seat in _in_order(student)])


def _among(student: Student, looked: Mapping[int, LookedThrough]) -> StudentRecord:
    others = [one for number, one in looked.items() if number != student.id]
    return StudentRecord(
        name=student.name,
        group=student.group.name if student.group else None,
        games=tuple(_stored(seat) for seat in _in_order(student)),
        diagnosis=diagnose_among(looked[student.id], others),
    )


def _in_order(student: Student) -> Sequence[Seat]:
    return sorted(student.seats, key=lambda seat: (seat.game.date, seat.game_id))


def _stored(seat: Seat) -> StoredGame:
    game, white = seat.game, seat.colour == "white"
    return StoredGame(student_game(seat), game.black if white else game.white, remarks_of(seat))


def remarks_of(seat: Seat) -> tuple[Remark, ...]:
    """What the teacher said of the places of one side of a game."""
    return tuple(
        _remark(one, seat.game)
        for one in seat.game.corrections
        if is_ply_of(seat.game, one.ply, seat.colour)
    )


def _remark(one: tables.Correction, game: Game) -> Remark:
    board = before_ply(game, one.ply)
    at = f"{board.fullmove_number}{'.' if board.turn else '...'}"
    fen = board.fen()
    return Remark(one.ply, one.kind, one.action, one.outcome, one.reason, at, fen, one.move, one.id)


def _corrections(seat: Seat) -> list[Said]:
    return [
        _said(one)
        for one in seat.game.corrections
        if one.action != "comment" and is_ply_of(seat.game, one.ply, seat.colour)
    ]


def _said(one: tables.Correction) -> Said:
    kind: Literal["danger", "taking"] = "taking" if one.kind == "taking" else "danger"
    game = str(one.game_id)
    if one.move is None:
        return Correction(game, one.ply, kind, cast("Outcome | None", one.outcome), one.reason)
    verdict = cast("MoveVerdict | None", one.outcome)
    return MoveCorrection(game, one.ply, kind, one.move, verdict, one.reason)


def student_game(seat: Seat) -> StudentGame:
    """One side of a stored game as the record takes it, with the teacher's corrections."""
    game, white = seat.game, seat.colour == "white"
    scores = _SCORES.get(game.result)
    found = [cast("Occasion", occasion.told) for occasion in seat.occasions]
    ratings = {side: _rating(game.tags.get(f"{side}Elo", "")) for side in ("White", "Black")}
    return StudentGame(
        game=str(game.id),
        date=game.tags.get("Date", "????.??.??"),
        colour=cast("Side", seat.colour),
        moves=_own_moves(game, white=white),
        opponent_rating=ratings["Black" if white else "White"],
        rating=ratings["White" if white else "Black"],
        occasions=apply_corrections(found, _corrections(seat)),
        start_clock=_starting_clock(game.tags.get("TimeControl", "")),
        score=None if scores is None else scores[0 if white else 1],
    )


def _own_moves(game: Game, *, white: bool) -> int:
    plies, first = len(game.moves.split()), game.start_fen.split()[1] == "w"
    return (plies + 1) // 2 if first == white else plies // 2


def _rating(text: str) -> int | None:
    return int(text) if re.fullmatch(r"\d{3,4}", text) else None


def _starting_clock(control: str) -> float | None:
    """Seconds at the start, of a tag like ``1500+5`` or ``40/7200:3600`` (PGN 1994, 9.6.1)."""
    found = re.match(r"(?:\d+/)?(\d+)", control)
    return float(found[1]) if found else None


def owner_of(records: Sequence[StudentRecord], one: Episode) -> StudentRecord:
    """Whose side of a game an episode is from."""
    side = one.game, one.occasion["colour"]
    return next(
        record
        for record in records
        if any((game.game.game, game.game.colour) == side for game in record.games)
    )

"""Exporting a store, or one student's part of it, to plain files in a zip, and bringing it back."""

from __future__ import annotations

import dataclasses
import datetime
import json
import zipfile
from pathlib import Path
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.errors import StoreError
from fastness.intake import Game
from fastness.store import homework_transfer, lesson_transfer, shelf_transfer, tables, taught
from fastness.store.archive import FORMAT, read_archive
from fastness.store.erased import number_of, unnamed
from fastness.store.games import add_game, as_game, find_game, is_ply_of
from fastness.store.opening import Store
from fastness.store.pgn import as_pgn
from fastness.store.students import add_alias, find_student, group_or_new
from fastness.store.tables import Alias, Correction, Erased, Group, Seat, Student


def export(store: Store, to: Path, student: Student | None = None) -> None:
    """Write `record.json`, all that the store holds, and `games.pgn`, the games for other uses.

    With `student` only that student, and the games that the student played; the opponents in
    these are named as their tags name them.

    Raises StoreError where the file is there already or cannot be written.
    """
    if to.exists():
        raise StoreError(f"{to} is there already; name a new file")
    with store.reading() as session:
        record, games = _record(session, student)
    part = to.with_name(to.name + ".part")
    try:
        with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr("record.json", json.dumps(record, ensure_ascii=False, indent=1))
            archive.writestr("games.pgn", "".join(map(as_pgn, games)))
        part.chmod(0o600)
        part.replace(to)
    except OSError as error:
        raise StoreError(f"{to}: {error.strerror}") from error
    finally:
        part.unlink(missing_ok=True)


def _record(session: Session, only: Student | None) -> tuple[dict[str, Any], list[Game]]:
    students = select(Student).order_by(Student.name)
    games = select(tables.Game).order_by(tables.Game.id)
    if only is not None:
        students = students.where(Student.id == only.id)
        played = select(Seat.game_id).where(Seat.student_id == only.id)
        games = games.where(tables.Game.id.in_(played))
    stored = session.scalars(games).all()
    record: dict[str, Any] = {
        "format": FORMAT,
        "groups": [] if only else [_group(one) for one in session.scalars(select(Group))],
        "students": [_student(one) for one in session.scalars(students)],
        **lesson_transfer.told(session, only),
        "games": [_game(one, only) for one in stored],
        "erased": [] if only else [_erased(one) for one in session.scalars(select(Erased))],
        **shelf_transfer.told(session, only),
        **homework_transfer.told(session, only),
        **taught.told(session, only),
    }
    games_told = [
        dataclasses.replace(as_game(one), beside=tuple(told["beside"]))
        for one, told in zip(stored, record["games"], strict=True)
    ]
    return record, games_told


def _group(group: Group) -> dict[str, Any]:
    return {"club": group.club, "name": group.name}


def _student(student: Student) -> dict[str, Any]:
    return {
        "name": student.name,
        "group": student.group.name if student.group else None,
        "club": student.group.club if student.group else None,
        "aliases": sorted({alias.name for alias in student.aliases}),
    }


def _game(game: tables.Game, only: Student | None) -> dict[str, Any]:
    seats = [seat for seat in game.seats if only is None or seat.student_id == only.id]
    sides = {seat.colour for seat in seats}

    def is_told(ply: int) -> bool:
        """What was said of the opponent's moves is in no other student's export."""
        return only is None or ply == 0 or any(is_ply_of(game, ply, side) for side in sides)

    return {
        "tags": game.tags,
        "start_fen": game.start_fen,
        "moves": game.moves,
        "clocks": game.clocks,
        "spent": game.spent,
        "beside": [text if is_told(ply) else "" for ply, text in enumerate(game.beside)],
        "result": game.result,
        "seats": [
            {
                "colour": seat.colour,
                "student": seat.student.name,
                "settings": seat.settings,
                "occasions": [occasion.told for occasion in seat.occasions],
            }
            for seat in seats
        ],
        "corrections": [
            {
                "ply": one.ply,
                "kind": one.kind,
                "action": one.action,
                "outcome": one.outcome,
                "move": one.move,
                "reason": one.reason,
                "made": one.made.isoformat(),
            }
            for one in game.corrections
            if is_told(one.ply)
        ],
    }


def _erased(one: Erased) -> dict[str, Any]:
    return {"number": one.number, "salt": one.salt, "mark": one.mark}


def bring_back(store: Store, archive: Path) -> int:
    """Add what an export holds to a store; what is there already stays. The number of games.

    Raises StoreError where the file is no export, is incomplete, or was made by a later version;
    nothing is brought back then.
    """
    record = read_archive(archive)
    with store.writing() as session:
        for one in record["groups"]:
            group_or_new(session, one["name"], one["club"])
        for one in record.get("erased", []):
            if session.scalar(select(Erased).where(Erased.mark == one["mark"])) is None:
                session.add(Erased(**{key: one[key] for key in ("number", "salt", "mark")}))
        session.flush()
        for one in record["students"]:
            _bring_student(session, one)
        lesson_transfer.bring_back(session, record)
        for one in record["games"]:
            _bring_game(session, one)
        shelf_transfer.bring_back(session, record)
        homework_transfer.bring_back(session, record)
        taught.bring_back(session, record)
    return len(record["games"])


def _bring_student(session: Session, told: dict[str, Any]) -> None:
    student = find_student(session, told["name"])
    if student is None:
        if number_of(session, told["name"]) is not None:
            return
        group = group_or_new(session, told["group"], told["club"]) if told["group"] else None
        student = Student(name=told["name"], group=group)
        session.add(student)
        session.flush()
    for name in told["aliases"]:
        if number_of(session, name) is not None and find_student(session, name) is None:
            continue
        form = session.scalar(select(Alias).where(Alias.name == name))
        if form is None:
            add_alias(session, student, name)


def _bring_game(session: Session, told: dict[str, Any]) -> None:
    moves = tuple(told["moves"].split())
    game = Game(
        "",
        0,
        1,
        told["tags"],
        told["start_fen"],
        moves,
        tuple(told["clocks"]),
        told["result"],
        tuple(told.get("spent", ())),
        tuple(told.get("beside", ())),
    )
    game = unnamed(session, game)
    for seat in told["seats"]:
        student = find_student(session, seat["student"])
        if student is not None:
            players = {seat["colour"]: student}
            add_game(session, game, players, seat["occasions"], seat["settings"])
    stored = find_game(session, game)
    if stored is None:
        return
    known = {(one.ply, one.kind, one.action, one.move) for one in stored.corrections}
    for one in told["corrections"]:
        if (one["ply"], one["kind"], one["action"], one.get("move")) not in known:
            made = datetime.date.fromisoformat(one["made"])
            kept = {key: one[key] for key in ("ply", "kind", "action", "outcome", "reason")}
            stored.corrections.append(Correction(**kept, move=one.get("move"), made=made))

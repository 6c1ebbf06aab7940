"""Exporting a store, or one student's part of it, to plain files in a zip, and bringing it back."""

from __future__ import annotations

import datetime
import json
import zipfile
from pathlib import Path
from typing import Any

import chess
import chess.pgn
from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.errors import StoreError
from fastness.intake import Game
from fastness.store import tables
from fastness.store.games import add_game, as_game, find_game
from fastness.store.opening import Store
from fastness.store.students import add_alias, find_student
from fastness.store.tables import Alias, Correction, Group, Lesson, Seat, Student

FORMAT = 2
"""From 2 on a correction may name a move."""


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
            archive.writestr("games.pgn", "\n".join(map(as_pgn, games)))
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
        games = games.join(Seat).where(Seat.student_id == only.id).distinct()
    stored = session.scalars(games).all()
    record = {
        "format": FORMAT,
        "groups": [] if only else [_group(one) for one in session.scalars(select(Group))],
        "students": [_student(one) for one in session.scalars(students)],
        "lessons": []
        if only
        else [_lesson(session, one) for one in session.scalars(select(Lesson))],
        "games": [_game(one, only) for one in stored],
    }
    return record, [as_game(one) for one in stored]


def _group(group: Group) -> dict[str, Any]:
    return {"club": group.club, "name": group.name}


def _student(student: Student) -> dict[str, Any]:
    return {
        "name": student.name,
        "group": student.group.name if student.group else None,
        "club": student.group.club if student.group else None,
        "aliases": sorted({alias.name for alias in student.aliases}),
    }


def _lessons(session: Session) -> list[dict[str, Any]]:
    return [_lesson(session, one) for one in session.scalars(select(Lesson).order_by(Lesson.id))]


def _lesson(session: Session, lesson: Lesson) -> dict[str, Any]:
    group = session.get(Group, lesson.group_id)
    return {
        "group": group.name if group else None,
        "club": group.club if group else None,
        "held": lesson.held.isoformat(),
        "theme": lesson.theme,
    }


def _game(game: tables.Game, only: Student | None) -> dict[str, Any]:
    seats = [seat for seat in game.seats if only is None or seat.student_id == only.id]
    return {
        "tags": game.tags,
        "start_fen": game.start_fen,
        "moves": game.moves,
        "clocks": game.clocks,
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
        ],
    }


def as_pgn(game: Game) -> str:
    """A game as PGN, its clocks as `%clk` commands (PGN 1994, 2001 supplement)."""
    board = chess.Board(game.start_fen)
    tree = chess.pgn.Game()
    tree.headers.clear()
    for key, tag in game.tags.items():
        tree.headers[key] = tag
    tree.headers["Result"] = game.result
    if board.fen() != chess.STARTING_FEN:
        tree.setup(board)
    node: chess.pgn.GameNode = tree
    for uci, clock in zip(game.moves, game.clocks, strict=True):
        node = node.add_main_variation(chess.Move.from_uci(uci))
        if clock is not None:
            node.set_clock(clock)
    return str(tree) + "\n"


def bring_back(store: Store, archive: Path) -> int:
    """Add what an export holds to a store; what is there already stays. The number of games.

    Raises StoreError where the file is no export, or was made by a later version.
    """
    record = _read(archive)
    with store.writing() as session:
        for one in record["groups"]:
            _found_group(session, one["name"], one["club"])
        for one in record["students"]:
            _bring_student(session, one)
        for one in record["lessons"]:
            _bring_lesson(session, one)
        for one in record["games"]:
            _bring_game(session, one)
    return len(record["games"])


def _read(archive: Path) -> dict[str, Any]:
    try:
        with zipfile.ZipFile(archive) as opened:
            record: dict[str, Any] = json.loads(opened.read("record.json"))
    except (OSError, zipfile.BadZipFile, KeyError, ValueError) as error:
        raise StoreError(f"{archive} is no export of a store: {error}") from error
    if record.get("format") not in range(1, FORMAT + 1):
        raise StoreError(f"{archive} was made by a later version of fastness; upgrade the program")
    return record


def _found_group(session: Session, name: str, club: str) -> Group:
    group = session.scalar(select(Group).where(Group.name == name, Group.club == club))
    if group is None:
        group = Group(name=name, club=club)
        session.add(group)
        session.flush()
    return group


def _bring_student(session: Session, told: dict[str, Any]) -> None:
    student = find_student(session, told["name"])
    if student is None:
        group = _found_group(session, told["group"], told["club"]) if told["group"] else None
        student = Student(name=told["name"], group=group)
        session.add(student)
        session.flush()
    for name in told["aliases"]:
        form = session.scalar(select(Alias).where(Alias.name == name))
        if form is None:
            add_alias(session, student, name)


def _bring_lesson(session: Session, told: dict[str, Any]) -> None:
    group = _found_group(session, told["group"], told["club"])
    held = datetime.date.fromisoformat(told["held"])
    asked = select(Lesson).where(
        Lesson.group_id == group.id, Lesson.held == held, Lesson.theme == told["theme"]
    )
    if session.scalar(asked) is None:
        session.add(Lesson(group_id=group.id, held=held, theme=told["theme"]))


def _bring_game(session: Session, told: dict[str, Any]) -> None:
    moves = tuple(told["moves"].split())
    game = Game(
        "", 0, 1, told["tags"], told["start_fen"], moves, tuple(told["clocks"]), told["result"]
    )
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
            stored.corrections.append(Correction(**{**one, "made": made}))

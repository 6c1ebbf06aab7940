"""Checking a store, and backing it up, encrypted if wished."""

from __future__ import annotations

import contextlib
import os
import sqlite3
from pathlib import Path

import chess
import sqlalchemy as sa
from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.errors import StoreError
from fastness.store.opening import Store
from fastness.store.sealing import seal
from fastness.store.shelf_faults import shelf_faults
from fastness.store.tables import FoundOccasion, Game, Seat
from fastness.survey.position import position_key


def check(store: Store) -> list[str]:
    """What is wrong in a store, a sentence each; empty if nothing is. What is wrong is not raised.

    Raises StoreError where the store cannot be reached at all.
    """
    faults = []
    with store.reading() as session:
        if store.path is not None:
            faults += _file_faults(session)
        broken: set[int] = set()
        for number in session.scalars(select(Game.id).order_by(Game.id)).all():
            found = [f"game {number}: {fault}" for fault in _faults_of_game(session, number)]
            broken |= {number} if found else set()
            faults += found
        rows = select(FoundOccasion.id, Seat.game_id).join(Seat, FoundOccasion.seat)
        for number, game in session.execute(rows.order_by(FoundOccasion.id)).all():
            if game not in broken:
                faults += [f"game {game}, {one}" for one in _faults_of_occasion(session, number)]
        faults += shelf_faults(session)
    return faults


def _file_faults(session: Session) -> list[str]:
    told = session.scalars(sa.text("PRAGMA integrity_check")).all()
    faults = [f"the file: {fault}" for fault in told if fault != "ok"]
    for table, row, parent, _ in session.execute(sa.text("PRAGMA foreign_key_check")):
        faults.append(f"{table}, row {row}: belongs to nothing in {parent}")
    return faults


def _faults_of_game(session: Session, number: int) -> list[str]:
    try:
        return _game_faults(session.get_one(Game, number))
    except (ValueError, TypeError, AttributeError) as error:
        return [f"it cannot be read: {error}"]


def _faults_of_occasion(session: Session, number: int) -> list[str]:
    try:
        occasion = session.get_one(FoundOccasion, number)
        told, game = occasion.told, occasion.seat.game
        if (told.get("ply"), told.get("colour")) != (occasion.ply, occasion.seat.colour):
            return [f"ply {occasion.ply}: an occasion of another place"]
        if _position(game, occasion.ply) != position_key(str(told.get("fen"))):
            return [f"ply {occasion.ply}: an occasion of another game"]
    except (ValueError, TypeError, AttributeError) as error:
        return [f"an occasion cannot be read: {error}"]
    return []


def _game_faults(game: Game) -> list[str]:
    try:
        board = chess.Board(game.start_fen)
    except ValueError as error:
        return [f"its start is no position: {error}"]
    moves = game.moves.split()
    for ply, uci in enumerate(moves, 1):
        try:
            move = chess.Move.from_uci(uci)
        except ValueError:
            return [f"ply {ply}: {uci} is no move"]
        if not board.is_legal(move):
            return [f"ply {ply}: {uci} is not legal"]
        board.push(move)
    return _length_faults(game, len(moves))


def _length_faults(game: Game, moves: int) -> list[str]:
    """Where the times or the remarks are not as many as the moves; none at all is right too."""
    wanted = (
        ("clocks", len(game.clocks), (moves,)),
        ("times spent", len(game.spent), (0, moves)),
        ("remarks beside the moves", len(game.beside), (0, moves + 1)),
    )
    return [
        f"{kept} {what} are kept for {moves} moves"
        for what, kept, right in wanted
        if kept not in right
    ]


def _position(game: Game, ply: int) -> str:
    """The position before a ply, without the counts of moves; empty where there is no such ply."""
    board = chess.Board(game.start_fen)
    moves = game.moves.split()
    if not 1 <= ply <= len(moves):
        return ""
    for uci in moves[: ply - 1]:
        board.push_uci(uci)
    return position_key(board.fen())


def back_up(store: Store, to: Path, passphrase: str | None = None) -> None:
    """Copy a SQLite store to a file that is not there yet; with a passphrase it is sealed.

    Raises:
        StoreError: the file is there, cannot be written, or the store is on a server.
    """
    if store.path is None:
        raise StoreError("a store on a server is backed up by the server's own means, or exported")
    if to.exists():
        raise StoreError(f"{to} is there already; name a new file")
    part = to.with_name(to.name + ".part")
    try:
        os.close(os.open(part, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
        with (
            contextlib.closing(sqlite3.connect(f"file:{store.path}?mode=ro", uri=True)) as source,
            contextlib.closing(sqlite3.connect(part)) as target,
        ):
            source.backup(target)
            target.execute("PRAGMA journal_mode = DELETE")
        if passphrase is not None:
            part.write_bytes(seal(part.read_bytes(), passphrase))
        part.replace(to)
    except (OSError, sqlite3.Error) as error:
        raise StoreError(f"{to}: the backup was not made: {error}") from error
    finally:
        part.unlink(missing_ok=True)


def count(store: Store) -> dict[str, int]:
    """How many rows each table has."""
    with store.reading() as session:
        tables = sorted(Game.metadata.tables.items())
        return {
            name: session.scalar(sa.select(sa.func.count()).select_from(table)) or 0
            for name, table in tables
        }

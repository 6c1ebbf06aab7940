"""Checking a store, and backing it up, encrypted if wished, and restoring it."""

from __future__ import annotations

import contextlib
import os
import sqlite3
from pathlib import Path

import chess
import sqlalchemy as sa
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt
from sqlalchemy import select

from fastness.errors import StoreError
from fastness.store.opening import Store
from fastness.store.tables import FoundOccasion, Game, Seat

# A file begins with these bytes, then the salt, the nonce, and the sealed store.
SEALED = b"fastness sealed store 1\n"
_SALT, _NONCE = 16, 12
# Memory 64 MiB: Percival and Josefsson 2016 (RFC 7914) with N = 2**16, r = 8, p = 1.
_SCRYPT = {"length": 32, "n": 2**16, "r": 8, "p": 1}


def check(store: Store) -> list[str]:
    """What is wrong in a store, a sentence each; empty if nothing is."""
    faults = _file_faults(store)
    with store.reading() as session:
        broken: set[int] = set()
        for game in session.scalars(select(Game).order_by(Game.id)):
            found = [f"game {game.id}: {fault}" for fault in _game_faults(game)]
            broken |= {game.id} if found else set()
            faults += found
        rows = select(FoundOccasion, Seat, Game).join(Seat, FoundOccasion.seat).join(Seat.game)
        for occasion, seat, game in session.execute(rows):
            if game.id in broken:
                continue
            told = occasion.told
            if (told.get("ply"), told.get("colour")) != (occasion.ply, seat.colour):
                faults.append(f"game {game.id}, ply {occasion.ply}: an occasion of another place")
            elif _position(game, occasion.ply) != " ".join(str(told.get("fen")).split()[:4]):
                faults.append(f"game {game.id}, ply {occasion.ply}: an occasion of another game")
    return faults


def _file_faults(store: Store) -> list[str]:
    if store.path is None:
        return []
    with store.engine.connect() as connection:
        told = [row[0] for row in connection.exec_driver_sql("PRAGMA integrity_check")]
        faults = [f"the file: {fault}" for fault in told if fault != "ok"]
        for table, row, parent, _ in connection.exec_driver_sql("PRAGMA foreign_key_check"):
            faults.append(f"{table}, row {row}: belongs to nothing in {parent}")
    return faults


def _game_faults(game: Game) -> list[str]:
    board = chess.Board(game.start_fen)
    moves = game.moves.split()
    for ply, uci in enumerate(moves, 1):
        move = chess.Move.from_uci(uci)
        if not board.is_legal(move):
            return [f"ply {ply}: {uci} is not legal"]
        board.push(move)
    return [] if len(game.clocks) == len(moves) else ["as many clocks as moves are wanted"]


def _position(game: Game, ply: int) -> str:
    """The position before a ply, without the counts of moves."""
    board = chess.Board(game.start_fen)
    for uci in game.moves.split()[: ply - 1]:
        board.push_uci(uci)
    return " ".join(board.fen().split()[:4])


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
            part.write_bytes(_seal(part.read_bytes(), passphrase))
        part.replace(to)
    except (OSError, sqlite3.Error) as error:
        raise StoreError(f"{to}: the backup was not made: {error}") from error
    finally:
        part.unlink(missing_ok=True)


def restore(backup: Path, to: Path, passphrase: str | None = None, *, over: bool = False) -> None:
    """Put a backup in a store's place; with `over` also where there is a store already.

    Raises:
        StoreError: the backup cannot be read, is sealed and the passphrase is wrong or missing,
            or is no store; or a store is there and `over` was not said.
    """
    if to.exists() and not over:
        raise StoreError(f"{to} is there already; say --over to put the backup in its place")
    try:
        data = backup.read_bytes()
    except OSError as error:
        raise StoreError(f"{backup}: {error.strerror}") from error
    if data.startswith(SEALED):
        data = _unseal(data, passphrase, backup)
    if not data.startswith(b"SQLite format 3\0"):
        raise StoreError(f"{backup} is no backup of a store")
    to.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    part = to.with_name(to.name + ".part")
    descriptor = os.open(part, os.O_CREAT | os.O_TRUNC | os.O_RDWR, 0o600)
    with os.fdopen(descriptor, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    for beside in ("-wal", "-shm"):
        to.with_name(to.name + beside).unlink(missing_ok=True)
    part.replace(to)


def _key(passphrase: str, salt: bytes) -> bytes:
    return Scrypt(salt=salt, **_SCRYPT).derive(passphrase.encode("utf-8"))


def _seal(data: bytes, passphrase: str) -> bytes:
    salt, nonce = os.urandom(_SALT), os.urandom(_NONCE)
    return SEALED + salt + nonce + AESGCM(_key(passphrase, salt)).encrypt(nonce, data, SEALED)


def _unseal(data: bytes, passphrase: str | None, backup: Path) -> bytes:
    if passphrase is None:
        raise StoreError(f"{backup} is sealed; give the passphrase it was made with")
    start = len(SEALED)
    salt, nonce = data[start : start + _SALT], data[start + _SALT : start + _SALT + _NONCE]
    try:
        return AESGCM(_key(passphrase, salt)).decrypt(nonce, data[start + _SALT + _NONCE :], SEALED)
    except InvalidTag as error:
        raise StoreError(f"{backup}: the passphrase is wrong, or the file is damaged") from error


def count(store: Store) -> dict[str, int]:
    """How many rows each table has."""
    with store.reading() as session:
        tables = sorted(Game.metadata.tables.items())
        return {
            name: session.scalar(sa.select(sa.func.count()).select_from(table)) or 0
            for name, table in tables
        }

"""Putting a backup in a store's place, once it is known to be a whole store."""

from __future__ import annotations

import contextlib
import datetime
import os
import sqlite3
from pathlib import Path

from fastness.errors import StoreError
from fastness.store.opening import reason, versions
from fastness.store.sealing import SEALED, unseal
from fastness.store.tables import Table

_WAIT = 2
"""Seconds that a restoring waits for another program."""


def restore(
    backup: Path, to: Path, passphrase: str | None = None, *, over: bool = False
) -> Path | None:
    """Put a backup in a store's place; with `over` also where there is a store already.

    The store that was there is kept beside it; where, is given. Nothing is touched before the
    backup is known to be a whole store of this version of the program or an earlier one.

    Raises:
        StoreError: the backup cannot be read, is sealed and the passphrase is wrong or missing,
            or is no whole store; a store is there and `over` was not said, or is in use; or the
            disk takes no more.
    """
    if to.exists() and not over:
        raise StoreError(f"{to} is there already; say --over to put the backup in its place")
    try:
        data = backup.read_bytes()
    except OSError as error:
        raise StoreError(f"{backup}: {error.strerror}") from error
    if data.startswith(SEALED):
        data = unseal(data, passphrase, backup)
    if not data.startswith(b"SQLite format 3\0"):
        raise StoreError(f"{backup} is no backup of a store")
    part = to.with_name(to.name + ".part")
    try:
        _remove(part)
        to.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        _write(part, data)
        _check(part, backup)
        kept = _keep(to) if to.exists() else None
        part.replace(to)
        # What was in the old one's log is in the copy that was kept.
        for beside in ("-wal", "-shm"):
            to.with_name(to.name + beside).unlink(missing_ok=True)
    except OSError as error:
        raise StoreError(
            f"{to}: the backup was not put in its place: {error.strerror}. What was there stays"
        ) from error
    finally:
        with contextlib.suppress(OSError):
            _remove(part)
    return kept


def _remove(part: Path) -> None:
    """Remove an unfinished file, and what SQLite puts beside one."""
    for ending in ("", "-wal", "-shm", "-journal"):
        part.with_name(part.name + ending).unlink(missing_ok=True)


def _write(part: Path, data: bytes) -> None:
    descriptor = os.open(part, os.O_CREAT | os.O_TRUNC | os.O_RDWR, 0o600)
    with os.fdopen(descriptor, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _check(part: Path, backup: Path) -> None:
    """Whether a file is a whole store of a version that is known; raises StoreError if not."""
    try:
        with contextlib.closing(sqlite3.connect(part)) as connection:
            fault = connection.execute("PRAGMA integrity_check(1)").fetchone()[0]
            rows = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
            tables = {row[0] for row in rows}
            version = None
            if "alembic_version" in tables:
                found = connection.execute("SELECT version_num FROM alembic_version").fetchall()
                version = found[0][0] if len(found) == 1 else None
    except sqlite3.Error as error:
        raise StoreError(f"{backup} is no whole store: {error}; what was there stays") from error
    if fault != "ok":
        raise StoreError(f"{backup} is damaged: {fault}; what was there stays")
    if version is None or not {"student", "game", "seat"} <= tables:
        raise StoreError(f"{backup} is no store of fastness; what was there stays")
    if version not in versions():
        raise StoreError(
            f"{backup} was made by a later version of fastness (tables {version}); upgrade the"
            " program; what was there stays"
        )
    missing = sorted(set(Table.metadata.tables) - tables) if version == versions()[-1] else []
    if missing:
        raise StoreError(f"{backup} lacks the table {missing[0]}; what was there stays")


def _keep(to: Path) -> Path:
    """Copy the store beside itself before another takes its place; where the copy is.

    A file that is no readable store any more is copied as it is.
    """
    now = datetime.datetime.now(datetime.UTC)
    kept = to.with_name(f"{to.name}.before-restore-{now:%Y%m%d-%H%M%S-%f}")
    os.close(os.open(kept, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
    try:
        with (
            contextlib.closing(sqlite3.connect(to, timeout=_WAIT)) as present,
            contextlib.closing(sqlite3.connect(kept)) as target,
        ):
            present.backup(target)
            # This is given only to whoever has the store alone, and leaves no log beside it that
            # could be taken for the restored one's.
            present.execute("PRAGMA journal_mode = DELETE")
    except sqlite3.Error as error:
        if not any(word in str(error) for word in ("not a database", "malformed")):
            kept.unlink(missing_ok=True)
            why = "another program has it open" if "locked" in str(error) else reason(str(error))
            raise StoreError(f"{to}: the store that is there was not replaced: {why}") from error
        _write(kept, to.read_bytes())
        log = to.with_name(f"{to.name}-wal")
        if log.exists():
            _write(kept.with_name(f"{kept.name}-wal"), log.read_bytes())
            log.unlink()
    return kept

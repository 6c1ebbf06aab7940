"""The folder in which a workbench keeps what is its own, and that no other uses it meanwhile.

Its password and what it signed, its class boards and the invented club are its own; the store is
not, where it lies on a server: there several workbenches work on one club's database.
"""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Iterator
from pathlib import Path

import platformdirs

from fastness.errors import InputError, StoreError
from fastness.store import default_place
from fastness.web.settings import PORT

LOCK = "workbench.lock"
"""The file's name. It is a database of SQLite, whose locks hold on every system and end with the
program, however that ends."""


def own_folder(store: str | None, port: int = PORT) -> Path:
    """Where a workbench's own things are: beside a store in a file, else in the usual place.

    Of several workbenches of one user on one server each has its own, by its port.
    """
    place = store or default_place()
    if "://" not in place:
        return Path(place).parent
    usual = platformdirs.user_data_path("fastness")
    return usual if port == PORT else usual / f"port {port}"


@contextlib.contextmanager
def alone_in(folder: Path, address: str) -> Iterator[None]:
    """Be the only workbench of a folder, reached at `address`, as long as the block lasts.

    Raises InputError, with its address, where another one is; StoreError where the folder cannot be
    written.
    """
    place = folder / LOCK
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        # Nobody is waited for: whoever has the lock keeps it for hours.
        lock = sqlite3.connect(place, timeout=0, isolation_level=None)
    except (OSError, sqlite3.Error) as error:
        raise StoreError(f"{place}: cannot be written; look at the folder's rights") from error
    with contextlib.closing(lock):
        try:
            lock.execute("BEGIN IMMEDIATE")
            lock.execute("CREATE TABLE IF NOT EXISTS workbench (address TEXT)")
            lock.execute("DELETE FROM workbench")
            lock.execute("INSERT INTO workbench VALUES (?)", (address,))
            lock.execute("COMMIT")
            # What was written can be read while this is held.
            lock.execute("BEGIN IMMEDIATE")
        except sqlite3.OperationalError as error:
            if "locked" not in str(error):
                told = f"{place}: cannot be written ({error}); look at the folder's rights"
                raise StoreError(told) from error
            raise InputError(_taken(folder, place)) from error
        yield


def _taken(folder: Path, place: Path) -> str:
    where = ""
    with (
        contextlib.suppress(sqlite3.Error),
        contextlib.closing(sqlite3.connect(place)) as lock,
    ):
        row = lock.execute("SELECT address FROM workbench").fetchone()
        where = f", at {row[0]}" if row else ""
    return (
        f"Another workbench works in {folder}{where}. Use that one, or stop it first. Several at"
        " once can work on one club where the store is a PostgreSQL database."
    )

"""Clearing a store of what was deleted from it: in the file, beside it, and on a server."""

from __future__ import annotations

import contextlib
import sqlite3

import sqlalchemy as sa
from sqlalchemy import exc

from fastness.errors import StoreError
from fastness.store import opening
from fastness.store.opening import Store, copies_beside
from fastness.store.tables import Table

_MAY = "SELECT pg_has_role(relowner, 'USAGE') FROM pg_class WHERE oid = CAST(:name AS regclass)"
AGAIN = "Then give the same command again: it finishes the erasing."


def clear(store: Store) -> tuple[str, ...]:
    """Write the store anew without what was deleted; what there is to say, a sentence each.

    Raises StoreError where traces are left, since another program reads or writes, or the disk
    is full; calling it again finishes it.
    """
    if store.path is None:
        return _clear_server(store)
    told = _remove_copies(store)
    # A connection at rest may still hold the file as it was.
    store.engine.dispose()
    try:
        with contextlib.closing(sqlite3.connect(store.path, timeout=opening.WAIT)) as connection:
            connection.isolation_level = None
            connection.execute("PRAGMA secure_delete = ON")
            connection.execute("VACUUM")
            busy = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
    except sqlite3.Error as error:
        raise StoreError(
            f"{store.path}: the student is erased from the tables, but traces are left in the"
            f" file: {opening.reason(str(error))}. {AGAIN}"
        ) from error
    if busy:
        raise StoreError(
            f"{store.path}: the student is erased from the tables, but another program is reading"
            f" the store, so that traces are left in {store.path.name}-wal. Close the other"
            f" program. {AGAIN}"
        )
    return told


def _remove_copies(store: Store) -> tuple[str, ...]:
    """Remove the copies beside a store: they hold what it held before."""
    told = []
    for copy in copies_beside(store.path) if store.path is not None else []:
        try:
            copy.unlink(missing_ok=True)
        except OSError as error:
            raise StoreError(
                f"{copy}: this older copy of the store holds the name and cannot be removed"
                f" ({error.strerror}). Remove it. {AGAIN}"
            ) from error
        told.append(f"Removed the older copy {copy.name}, which held the name.")
    return tuple(told)


def _clear_server(store: Store) -> tuple[str, ...]:
    """Write the tables on a server anew, those that this user may."""
    engine = store.engine.execution_options(isolation_level="AUTOCOMMIT")
    wanted = [table.name for table in Table.metadata.sorted_tables]
    left = []
    try:
        with engine.connect() as connection:
            connection.execute(sa.text(f"SET lock_timeout = '{opening.WAIT}s'"))
            for table in wanted:
                # The server passes over another's table with a warning that nobody would see.
                may = connection.scalar(sa.text(_MAY), {"name": table})
                try:
                    if may:
                        connection.execute(sa.text(f"VACUUM (FULL, ANALYZE) {table}"))
                    else:
                        left.append(table)
                except exc.DBAPIError:
                    left.append(table)
            connection.execute(sa.text("RESET lock_timeout"))
    except exc.DBAPIError:
        left = wanted
    told = [
        "The server's log of changes and its own backups hold the name until they are overwritten."
    ]
    if left:
        told.insert(
            0,
            "The server may still hold the name in space that is free now. Let the owner of the"
            f" tables run there: VACUUM (FULL, ANALYZE) {', '.join(left)};",
        )
    return tuple(told)

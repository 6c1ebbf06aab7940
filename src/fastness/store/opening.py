"""Opening a store: where it is, how it is locked, and bringing old tables up to date."""

from __future__ import annotations

import contextlib
import os
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import platformdirs
import sqlalchemy as sa
from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import event, exc
from sqlalchemy.orm import Session

from fastness.errors import StoreError
from fastness.store import server
from fastness.store.server import for_reading, hold_for_migrating, hold_for_writing

FILE_NAME = "store.sqlite"
PLACE = "FASTNESS_STORE"
WAIT = server.WAIT
"""Seconds that one program waits for another that is writing."""


class Store:
    """An open store. Each `reading` or `writing` block is one transaction.

    Whoever writes has the store alone for the length of the block, so that what was looked up in
    it stays true; readers go on seeing what stood there before, one state for a whole block.
    """

    def __init__(self, engine: sa.Engine, path: Path | None) -> None:
        """Hold an engine; `path` is the file of a SQLite store, else None."""
        self.engine = engine
        self.path = path

    @contextlib.contextmanager
    def reading(self) -> Iterator[Session]:
        """A session that reads. Raises StoreError where the store cannot be read."""
        engine = for_reading(self.engine) if self.path is None else self.engine
        with _told(self.place), Session(engine) as session:
            yield session

    @contextlib.contextmanager
    def writing(self) -> Iterator[Session]:
        """A session whose changes are kept when the block ends without an error, or not at all.

        Raises StoreError where the store cannot be written.
        """
        engine = self.engine.execution_options(writes=True)
        with _told(self.place), Session(engine) as session, session.begin():
            if self.path is None:
                hold_for_writing(session.connection())
            yield session

    @property
    def place(self) -> str:
        """Where the store is, without a password, for messages."""
        return str(self.path or self.engine.url.render_as_string(hide_password=True))

    def close(self) -> None:
        """Let go of the file or the server."""
        self.engine.dispose()


def default_place() -> str:
    """What FASTNESS_STORE names, a file or a URL, or else the platform's place for such data."""
    return os.environ.get(PLACE) or str(platformdirs.user_data_path("fastness") / FILE_NAME)


def open_store(place: str | Path | None = None) -> Store:
    """Open the store at a path, or at a PostgreSQL URL, or the default one; made if there is none.

    Tables of an earlier version are brought up to date, a SQLite file after a backup beside it.

    Raises:
        StoreError: the place cannot be used, is no store, or was made by a later version.
    """
    store = _at(place)
    try:
        with _told(store.place):
            bring_up_to_date(store)
    except StoreError:
        store.close()
        raise
    return store


def _at(place: str | Path | None) -> Store:
    where = default_place() if place is None else place
    if isinstance(where, str) and "://" in where:
        return Store(server.on_server(where), None)
    path = Path(where)
    if path.is_dir():
        raise StoreError(f"{path} is a folder; name the file of a store in it")
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        if not path.exists():
            # Children's data: nobody else on the machine may read it.
            os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))
    except OSError as error:
        raise StoreError(f"{path}: {error.strerror}; name another place with --store") from error
    return Store(_on_file(path), path)


def _on_file(path: Path) -> sa.Engine:
    engine = sa.create_engine(
        sa.URL.create("sqlite", database=str(path)), connect_args={"timeout": WAIT}
    )

    @event.listens_for(engine, "connect")
    def _prepare(connection: sqlite3.Connection, _: Any) -> None:
        # The driver would begin transactions late, and not for every statement.
        connection.isolation_level = None
        for setting in (
            "journal_mode = WAL",
            "foreign_keys = ON",
            "synchronous = FULL",
            # What is deleted is overwritten.
            "secure_delete = ON",
        ):
            connection.execute(f"PRAGMA {setting}")

    @event.listens_for(engine, "begin")
    def _begin(connection: sa.Connection) -> None:
        writes = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


@contextlib.contextmanager
def _told(place: str) -> Iterator[None]:
    """Errors of the database, as sentences."""
    try:
        yield
    except (exc.DBAPIError, exc.TimeoutError) as error:
        told = str(getattr(error, "orig", error))
        raise StoreError(f"{place}: {server.reason_of(error) or reason(told)}") from error


def reason(told: str) -> str:
    """What the database said, as a sentence for people."""
    known = {
        "disk is full": "the disk is full; what was written before stands. Make room and go on",
        "disk I/O error": "the disk would take no more, or is failing; what was written before"
        " stands. Make room and go on",
        "not a database": "this is no store of fastness, or it is damaged; name another file, or"
        " restore a backup",
        "malformed": "the store is damaged; restore a backup",
        "readonly": "the store may not be written; look at the rights of the file and its folder",
        "locked": f"another program has been writing for {WAIT} seconds; try again when it is done",
        "unable to open": "the store cannot be opened; look at the rights of the file and folder",
    }
    for part, sentence in known.items():
        if part in told:
            return sentence
    return " ".join(told.split())


def _steps() -> Config:
    config = Config()
    config.set_main_option("script_location", "fastness.store:migrations")
    config.set_main_option("path_separator", "os")
    return config


def versions() -> list[str]:
    """The versions of the tables that there have been, the first one first."""
    script = ScriptDirectory.from_config(_steps())
    return [step.revision for step in reversed(list(script.walk_revisions()))]


def bring_up_to_date(store: Store, version: str = "head") -> None:
    """Bring the tables to a version, by default the latest.

    Raises StoreError where the store was made by a later version of the program.
    """
    with store.engine.connect() as connection:
        if _version(connection) == (versions()[-1] if version == "head" else version):
            return
    engine = store.engine.execution_options(writes=True)
    with engine.begin() as connection:
        if store.path is None:
            hold_for_migrating(connection)
        # Another program may have done it meanwhile; from here on nobody else writes.
        found = _version(connection)
        if found is not None and found not in versions():
            raise StoreError(
                f"{store.place} was made by a later version of fastness (tables {found});"
                " upgrade the program"
            )
        if found is not None and store.path is not None and found != versions()[-1]:
            _keep_before(store.path, found)
        config = _steps()
        config.attributes["connection"] = connection
        command.upgrade(config, version)


def _version(connection: sa.Connection) -> str | None:
    return MigrationContext.configure(connection).get_current_revision()


def copies_beside(path: Path) -> list[Path]:
    """The copies that were made beside a store before it was upgraded or replaced."""
    found = path.absolute().parent.iterdir()
    return sorted(one for one in found if one.name.startswith(f"{path.name}.before-"))


def _keep_before(path: Path, version: str) -> None:
    """Copy the store beside itself before its tables are changed."""
    kept = path.with_name(f"{path.name}.before-{version}")
    os.close(os.open(kept, os.O_CREAT | os.O_RDWR, 0o600))
    with (
        contextlib.closing(sqlite3.connect(f"file:{path}?mode=ro", uri=True)) as source,
        contextlib.closing(sqlite3.connect(kept)) as target,
    ):
        source.backup(target)

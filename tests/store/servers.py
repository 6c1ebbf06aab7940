"""A PostgreSQL server of the tests' own, on a socket in a temporary folder."""

from __future__ import annotations

import itertools
import os
import shutil
import subprocess
import tempfile
from pathlib import Path

import pytest
import sqlalchemy as sa

from fastness.store import open_store

WANTED = (
    "PostgreSQL's server programs were not found. Debian: apt-get install postgresql, or let"
    " scripts/system_packages.sh do it."
)
TEMPLATE = "empty_club"
"""A database with the tables in it and nothing else: copying it takes a fifth of making them."""

OWN_FILES = """
SELECT pg_relation_filepath(oid) FROM pg_class
WHERE pg_relation_filepath(oid) IS NOT NULL AND (
    relnamespace = 'public'::regnamespace
    OR oid IN (SELECT reltoastrelid FROM pg_class WHERE relnamespace = 'public'::regnamespace)
)
"""
"""Where the tables, their indexes and what is too long for a row lie."""


def programs() -> Path:
    """The folder of initdb and postgres."""
    on_path = shutil.which("initdb")
    found = [Path(on_path).resolve().parent] if on_path else []
    found += sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)
    for folder in found:
        if (folder / "initdb").exists() and (folder / "postgres").exists():
            return folder
    pytest.fail(WANTED)


def as_somebody(*words: str | Path) -> list[str]:
    """A command as a user that PostgreSQL lets start a server: not root."""
    plain = [str(word) for word in words]
    if os.geteuid() != 0:
        return plain
    return ["runuser", "-u", "nobody", "--", *plain]


class Server:
    """A server that can be stopped and started again."""

    def __init__(self) -> None:
        # A socket's path must be short.
        self.folder = Path(tempfile.mkdtemp(prefix="pg", dir="/tmp"))
        self.folder.chmod(0o777)
        self.data, self.programs = self.folder / "data", programs()
        self._names = itertools.count(1)
        self._admin = sa.create_engine(
            self.url("postgres"), isolation_level="AUTOCOMMIT", poolclass=sa.NullPool
        )
        self._run("initdb", "-U", "club", "-A", "trust", "-N", "-E", "UTF8")
        self.start()
        self.do(f"CREATE DATABASE {TEMPLATE}")
        open_store(self.url(TEMPLATE)).close()

    def _run(self, program: str, *words: str) -> None:
        command = as_somebody(self.programs / program, "-D", self.data, *words)
        subprocess.run(command, check=True, capture_output=True, cwd=self.folder)

    def url(self, name: str) -> str:
        """The URL of a database."""
        return f"postgresql+psycopg://club@/{name}?host={self.folder}"

    def start(self) -> None:
        """Start it, and wait until it answers."""
        options = f"-k {self.folder} -h '' -c fsync=off"
        self._run("pg_ctl", "-w", "-o", options, "-l", str(self.folder / "log"), "start")

    def stop(self, mode: str = "fast") -> None:
        """Stop it: "fast" ends what is done, "immediate" is like the power going."""
        self._run("pg_ctl", "-m", mode, "stop")

    def remove(self) -> None:
        """Stop it for good."""
        try:
            self.stop()
        finally:
            shutil.rmtree(self.folder, ignore_errors=True)

    def do(self, statement: str) -> None:
        """A statement by its owner."""
        with self._admin.connect() as connection:
            connection.exec_driver_sql(statement)

    def database(self, template: str = TEMPLATE) -> str:
        """The name of a fresh database: a store with nothing in it, or one without tables."""
        name = f"club_{next(self._names)}"
        self.do(f"CREATE DATABASE {name} TEMPLATE {template}")
        return name

    def drop(self, name: str) -> None:
        """Drop a database, whoever is connected to it."""
        self.do(f"DROP DATABASE {name} WITH (FORCE)")

    def files(self, name: str) -> list[Path]:
        """The files of a database's own tables; the server's log of changes is left out."""
        self.do("CHECKPOINT")
        engine = sa.create_engine(self.url(name), poolclass=sa.NullPool)
        with engine.connect() as connection:
            paths = connection.scalars(sa.text(OWN_FILES)).all()
        return [file for path in paths for file in self.data.glob(f"{path}*")]

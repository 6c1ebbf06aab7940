"""A PostgreSQL server of the tests' own, on a socket in a temporary folder."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
import sqlalchemy as sa

WANTED = (
    "PostgreSQL's server programs were not found. Debian: apt-get install postgresql, or let"
    " scripts/system_packages.sh do it."
)


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


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    """The URL of a running server's first database, without its name."""
    # A socket's path must be short.
    folder = Path(tempfile.mkdtemp(prefix="pg", dir="/tmp"))
    folder.chmod(0o777)
    data, at = folder / "data", programs()
    try:
        init = as_somebody(
            at / "initdb", "-D", data, "-U", "club", "-A", "trust", "-N", "-E", "UTF8"
        )
        subprocess.run(init, check=True, capture_output=True, cwd=folder)
        options = f"-k {folder} -h '' -c fsync=off"
        start = as_somebody(at / "pg_ctl", "-D", data, "-w", "-o", options, "start")
        log = folder / "log"
        subprocess.run([*start, "-l", str(log)], check=True, capture_output=True, cwd=folder)
        yield f"postgresql+psycopg://club@/{{name}}?host={folder}"
        stop = as_somebody(at / "pg_ctl", "-D", data, "-m", "fast", "stop")
        subprocess.run(stop, check=True, capture_output=True, cwd=folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture
def club_database(server: str, request: pytest.FixtureRequest) -> Iterator[str]:
    """The URL of a fresh database, dropped again at the end."""
    name = f"club_{abs(hash(request.node.nodeid))}"
    admin = sa.create_engine(server.format(name="postgres"), isolation_level="AUTOCOMMIT")
    with admin.connect() as connection:
        connection.exec_driver_sql(f"CREATE DATABASE {name}")
    yield server.format(name=name)
    with admin.connect() as connection:
        connection.exec_driver_sql(f"DROP DATABASE {name} WITH (FORCE)")
    admin.dispose()

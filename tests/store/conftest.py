"""Every test of the store that asks for `places` runs with a file and on a PostgreSQL server."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.places import Places
from tests.store.servers import Server


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """A running server, one for each process of the tests."""
    made = Server()
    yield made
    made.remove()


@pytest.fixture(params=["file", "server"])
def places(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Places]:
    """Where the stores of a test lie: files in a folder, and databases on a server."""
    on_server = request.getfixturevalue("server") if request.param == "server" else None
    made = Places(tmp_path, on_server)
    yield made
    made.close()


@pytest.fixture
def on_server(server: Server, tmp_path: Path) -> Iterator[Places]:
    """Where the stores of a test lie that is about a server alone."""
    made = Places(tmp_path, server)
    yield made
    made.close()

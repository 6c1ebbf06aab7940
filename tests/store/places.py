"""Stores for the tests: the same test with a file and with a database on a server."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Literal

import pytest
import sqlalchemy as sa

from fastness.store import Store, open_store
from fastness.store.tables import Table
from tests.store.servers import TEMPLATE, Server

Kind = Literal["file", "server"]


class Places:
    """Where the stores of one test lie, each known by a name; closed and removed at its end."""

    def __init__(self, folder: Path, server: Server | None) -> None:
        """In a folder, or on a server."""
        self.folder, self.server = folder, server
        self._databases: dict[str, str] = {}
        self._opened: list[Store] = []

    def at(self, name: str = "store", template: str = TEMPLATE) -> str:
        """Where the store of a name is; the same for the same name."""
        if self.server is None:
            return str(self.folder / f"{name}.sqlite")
        if name not in self._databases:
            self._databases[name] = self.server.database(template)
        return self.server.url(self._databases[name])

    def bare(self, name: str = "store") -> str:
        """The same without any tables yet."""
        return self.at(name, "template0")

    def open(self, name: str = "store") -> Store:
        """The store of a name, opened."""
        return self.keep(open_store(self.at(name)))

    def keep(self, store: Store) -> Store:
        """A store that is to be closed at the end of the test."""
        self._opened.append(store)
        return store

    def left(self, *words: str, name: str = "store") -> list[str]:
        """Which of some words a closed or open store still holds, in UTF-8 or as JSON has them.

        Looked for in its files, and on a server in the rows too.
        """
        if self.server is None:
            files = list(self.folder.glob(f"{name}.sqlite*"))
        else:
            files = self.server.files(self._databases[name])
        data = b"".join(file.read_bytes() for file in files).decode("latin-1")
        if self.server is not None:
            # What is long is packed in the files.
            data += self._rows(name).encode().decode("latin-1")
        data = data.casefold()

        def is_there(word: str) -> bool:
            utf8 = word.encode().decode("latin-1").casefold()
            return utf8 in data or json.dumps(word)[1:-1].casefold() in data

        return [word for word in words if is_there(word)]

    def _rows(self, name: str) -> str:
        """Every row, and what the server noted of the rows for its plans."""
        noted = sa.text(
            "SELECT CAST(most_common_vals AS text), CAST(histogram_bounds AS text) FROM pg_stats"
            " WHERE schemaname = 'public'"
        )
        every: list[sa.Executable] = [noted]
        every += [table.select() for table in Table.metadata.sorted_tables]
        with self.open(name).engine.connect() as connection:
            return "\n".join(str(tuple(row)) for one in every for row in connection.execute(one))

    def close(self) -> None:
        """Close what was opened, and drop the databases."""
        for store in self._opened:
            store.close()
        for name in self._databases.values():
            assert self.server is not None
            self.server.drop(name)


IN_A_FILE = pytest.mark.parametrize("places", ["file"], indirect=True)
"""For a test of something that a server has not: backups, copies beside the store, broken JSON."""

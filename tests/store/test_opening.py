"""Opening a store: made when there is none, brought up to date, refused when it is no store."""

import stat
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext

from fastness.errors import StoreError
from fastness.store.opening import (
    _at,
    bring_up_to_date,
    copies_beside,
    open_store,
    versions,
)
from fastness.store.safekeeping import check
from fastness.store.tables import Table
from tests.store.filling import fill, rows
from tests.store.places import Places


def test_a_new_store_is_for_its_owner_alone(tmp_path: Path) -> None:
    path = tmp_path / "place" / "store.sqlite"
    open_store(path).close()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


def test_the_steps_make_the_tables_that_the_program_uses(places: Places) -> None:
    store = places.keep(open_store(places.bare()))
    with store.engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), Table.metadata) == []


@pytest.mark.parametrize("version", versions())
def test_a_store_of_every_version_comes_up_to_date_with_its_data(
    places: Places, version: str
) -> None:
    store = places.keep(_at(places.bare()))
    bring_up_to_date(store, version)
    filled = fill(store)
    assert all(len(found) == 1 for found in filled.values())
    store.close()
    store = places.open()
    assert check(store) == []
    brought = rows(store)
    assert {table: brought[table] for table in filled} == filled
    assert all(brought[table] == [] for table in brought if table not in filled)
    kept = copies_beside(store.path) if store.path else []
    assert len(kept) == (store.path is not None and version != versions()[-1])
    for backup in kept:
        assert stat.S_IMODE(backup.stat().st_mode) == 0o600


def test_a_store_of_a_later_version_is_left_alone(places: Places) -> None:
    store = places.open()
    with store.engine.execution_options(writes=True).begin() as connection:
        connection.execute(sa.text("UPDATE alembic_version SET version_num = '9999'"))
    store.close()
    with pytest.raises(StoreError, match="later version"):
        places.open()


def test_what_is_no_store_is_refused(tmp_path: Path) -> None:
    with pytest.raises(StoreError, match="is a folder"):
        open_store(tmp_path)
    other = tmp_path / "games.pgn"
    other.write_text('[Event "x"]\n' * 500, encoding="ascii")
    with pytest.raises(StoreError, match="no store of fastness"):
        open_store(other)
    with pytest.raises(StoreError, match="PostgreSQL"):
        open_store("mysql://somewhere/else")

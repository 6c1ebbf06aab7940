"""Check, backup, restore, export, erase."""

import zipfile
from pathlib import Path

import pytest
import sqlalchemy as sa

from fastness.errors import StoreError, StudentError
from fastness.store import Store, open_store
from fastness.store.corrections import correct
from fastness.store.erasure import NOBODY, erase_student
from fastness.store.restoring import restore
from fastness.store.safekeeping import back_up, check, count
from fastness.store.tables import Game
from fastness.store.transfer import bring_back, export
from fastness.workflows.recording import record_of
from tests.store.material import ADA, IVY, brought_in, some_games
from tests.store.places import IN_A_FILE, Places


@pytest.fixture
def store(places: Places, tmp_path: Path) -> Store:
    made = places.open()
    file = tmp_path / "games.pgn"
    file.write_text(some_games(6), encoding="utf-8")
    brought_in(made, file)
    return made


@IN_A_FILE
@pytest.mark.parametrize("passphrase", [None, "a long enough phrase"])
def test_a_backup_is_restored(store: Store, tmp_path: Path, passphrase: str | None) -> None:
    back_up(store, tmp_path / "kept", passphrase)
    if passphrase:
        assert IVY.encode() not in (tmp_path / "kept").read_bytes()
    restore(tmp_path / "kept", tmp_path / "other.sqlite", passphrase)
    other = open_store(tmp_path / "other.sqlite")
    assert count(other) == count(store)
    assert record_of(other, IVY) == record_of(store, IVY)


@IN_A_FILE
def test_a_sealed_backup_wants_its_passphrase(store: Store, tmp_path: Path) -> None:
    back_up(store, tmp_path / "kept", "right")
    for wrong in ("wrong", None):
        with pytest.raises(StoreError, match="passphrase"):
            restore(tmp_path / "kept", tmp_path / "other.sqlite", wrong)
    damaged = bytearray((tmp_path / "kept").read_bytes())
    damaged[-9] ^= 1
    (tmp_path / "kept").write_bytes(damaged)
    with pytest.raises(StoreError, match="damaged"):
        restore(tmp_path / "kept", tmp_path / "other.sqlite", "right")
    assert not (tmp_path / "other.sqlite").exists()


@IN_A_FILE
def test_nothing_is_overwritten_unasked(store: Store, tmp_path: Path) -> None:
    back_up(store, tmp_path / "kept")
    with pytest.raises(StoreError, match="already"):
        back_up(store, tmp_path / "kept")
    with pytest.raises(StoreError, match="already"):
        restore(tmp_path / "kept", tmp_path / "store.sqlite")
    export(store, tmp_path / "all.zip")
    with pytest.raises(StoreError, match="already"):
        export(store, tmp_path / "all.zip")


@pytest.mark.parametrize(
    ("statement", "fault"),
    [
        ("UPDATE game SET moves = 'e2e4 e2e4' WHERE id = 1", "not legal"),
        ("UPDATE occasion SET ply = ply + 2 WHERE id = 1", "another place"),
        ("UPDATE game SET start_fen = '4k3/8/8/8/8/8/8/4K3 w - - 0 1' WHERE id = 2", "not legal"),
    ],
)
def test_check_finds_what_is_wrong(store: Store, statement: str, fault: str) -> None:
    assert check(store) == []
    with store.engine.execution_options(writes=True).begin() as connection:
        connection.execute(sa.text(statement))
    assert any(fault in told for told in check(store))


def test_an_export_gives_the_same_record(store: Store, places: Places, tmp_path: Path) -> None:
    with store.writing() as session:
        game = session.scalars(sa.select(Game)).first()
        assert game is not None
        correct(session, game, 4, "strike", "shown in the lesson")
    export(store, tmp_path / "all.zip")
    other = places.open("other")
    bring_back(other, tmp_path / "all.zip")
    bring_back(other, tmp_path / "all.zip")
    assert count(other) == count(store)
    for name in (ADA, IVY):
        assert record_of(other, name).diagnosis == record_of(store, name).diagnosis
        assert record_of(other, name).games == record_of(store, name).games


def test_an_erased_student_leaves_no_trace(store: Store, places: Places) -> None:
    assert places.left("Flourdust") == ["Flourdust"]
    erase_student(store, "Ivy Flourdust")
    store.close()
    assert places.left("Flourdust") == []
    store = places.open()
    assert check(store) == []
    with pytest.raises(StudentError):
        record_of(store, IVY)
    ada = record_of(store, ADA)
    assert any(game.opponent.startswith(NOBODY) for game in ada.games)
    # The games of two erased students with a third must not become one.
    erase_student(store, "Tom Millpondle")
    assert check(store) == []
    assert len(record_of(store, ADA).games) == len(ada.games)


def test_one_students_export_names_no_other_students_record(store: Store, tmp_path: Path) -> None:
    with store.reading() as session:
        from fastness.store.students import student_named

        ivy = student_named(session, IVY)
    export(store, tmp_path / "ivy.zip", ivy)
    with zipfile.ZipFile(tmp_path / "ivy.zip") as archive:
        assert sorted(archive.namelist()) == ["games.pgn", "record.json"]
        told = archive.read("record.json").decode()
    assert f'"student": "{IVY}"' in told
    assert f'"student": "{ADA}"' not in told

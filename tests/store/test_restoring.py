"""Restoring, checking and bringing back what is not whole."""

import json
import sqlite3
import subprocess
import sys
import zipfile
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa

from fastness.errors import StoreError
from fastness.store import Store
from fastness.store.corrections import correct
from fastness.store.erasure import erase_student
from fastness.store.opening import copies_beside
from fastness.store.restoring import restore
from fastness.store.safekeeping import back_up, check, count
from fastness.store.students import add_student, student_named
from fastness.store.tables import Game
from fastness.store.transfer import bring_back, export
from tests.store.material import ADA, IVY, MOVES, brought_in, pgn, some_games
from tests.store.places import IN_A_FILE, Places

FULL = """
import resource, signal, sys
from pathlib import Path
from fastness.errors import StoreError
from fastness.store.restoring import restore
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (30_000, 30_000))
try:
    restore(Path(sys.argv[1]), Path(sys.argv[2]), over=True)
except StoreError as error:
    print(error)
    sys.exit(2)
"""


@pytest.fixture
def store(places: Places, tmp_path: Path) -> Store:
    made = places.open()
    file = tmp_path / "games.pgn"
    file.write_text(some_games(6), encoding="utf-8")
    brought_in(made, file)
    if made.path is not None:
        back_up(made, tmp_path / "kept")
    with made.writing() as session:
        add_student(session, "Sluice, Ben")
    return made


def foreign(_kept: Path, bad: Path) -> None:
    with closing(sqlite3.connect(bad)) as made:
        made.execute("CREATE TABLE x (a)")
        made.commit()


def half(kept: Path, bad: Path) -> None:
    data = kept.read_bytes()
    bad.write_bytes(data[: len(data) // 2])


def spoilt(kept: Path, bad: Path) -> None:
    data = bytearray(kept.read_bytes())
    data[4096 * 3 : 4096 * 6] = b"\x07" * 4096 * 3
    bad.write_bytes(data)


def later(kept: Path, bad: Path) -> None:
    bad.write_bytes(kept.read_bytes())
    with closing(sqlite3.connect(bad)) as made:
        made.execute("UPDATE alembic_version SET version_num = '9999'")
        made.commit()


def lacking(kept: Path, bad: Path) -> None:
    bad.write_bytes(kept.read_bytes())
    with closing(sqlite3.connect(bad)) as made:
        made.execute("DROP TABLE correction")
        made.commit()


def short_seal(_kept: Path, bad: Path) -> None:
    bad.write_bytes(b"fastness sealed store 1\nabc")


@IN_A_FILE
@pytest.mark.parametrize("spoil", [foreign, half, spoilt, later, lacking, short_seal])
def test_only_a_whole_store_takes_the_place_of_another(
    store: Store, places: Places, tmp_path: Path, spoil: Callable[[Path, Path], None]
) -> None:
    held = count(store)
    store.close()
    spoil(tmp_path / "kept", tmp_path / "bad")
    with pytest.raises(StoreError, match="bad"):
        restore(tmp_path / "bad", tmp_path / "store.sqlite", "a phrase", over=True)
    assert not list(tmp_path.glob("*.part*"))
    assert copies_beside(tmp_path / "store.sqlite") == []
    again = places.open()
    assert count(again) == held
    again.close()


@IN_A_FILE
def test_the_store_that_was_there_is_kept(store: Store, places: Places, tmp_path: Path) -> None:
    store.close()
    kept = restore(tmp_path / "kept", tmp_path / "store.sqlite", over=True)
    assert kept is not None
    assert copies_beside(tmp_path / "store.sqlite") == [kept]
    assert kept.stat().st_mode & 0o777 == 0o600
    with closing(sqlite3.connect(kept)) as before:
        assert before.execute("SELECT count(*) FROM student").fetchone() == (4,)
    restored = places.open()
    assert check(restored) == []
    assert count(restored)["student"] == 3
    told = erase_student(restored, IVY).told
    assert any(kept.name in sentence for sentence in told)
    restored.close()
    for file in tmp_path.glob("store.sqlite*"):
        assert b"Flourdust" not in file.read_bytes()


@IN_A_FILE
def test_a_log_of_the_old_store_is_not_taken_for_the_new_ones(
    store: Store, places: Places, tmp_path: Path
) -> None:
    data = (tmp_path / "store.sqlite-wal").read_bytes()
    assert data
    store.close()
    (tmp_path / "store.sqlite-wal").write_bytes(data)
    restore(tmp_path / "kept", tmp_path / "store.sqlite", over=True)
    restored = places.open()
    assert check(restored) == []
    assert count(restored)["student"] == 3
    restored.close()


@IN_A_FILE
def test_a_damaged_store_can_be_replaced_and_is_kept(
    store: Store, places: Places, tmp_path: Path
) -> None:
    store.close()
    (tmp_path / "store.sqlite").write_bytes(b"no database at all" * 500)
    kept = restore(tmp_path / "kept", tmp_path / "store.sqlite", over=True)
    assert kept is not None
    assert kept.read_bytes().startswith(b"no database")
    restored = places.open()
    assert check(restored) == []
    restored.close()


@IN_A_FILE
def test_a_store_in_use_is_not_replaced(store: Store, tmp_path: Path) -> None:
    with store.reading() as session:
        assert session.scalar(sa.select(sa.func.count(Game.id))) == 6
        with pytest.raises(StoreError, match="another program has it open"):
            restore(tmp_path / "kept", tmp_path / "store.sqlite", over=True)
    assert check(store) == []
    assert count(store)["student"] == 4
    assert copies_beside(tmp_path / "store.sqlite") == []


@IN_A_FILE
def test_a_full_disk_leaves_the_store(store: Store, places: Places, tmp_path: Path) -> None:
    store.close()
    words = [sys.executable, "-c", FULL, str(tmp_path / "kept"), str(tmp_path / "store.sqlite")]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    assert done.returncode == 2, done.stderr
    assert "store.sqlite: the backup was not put in its place" in done.stdout
    again = places.open()
    assert check(again) == []
    assert count(again)["student"] == 4
    again.close()


@IN_A_FILE
def test_a_place_that_cannot_be_is_told(store: Store, tmp_path: Path) -> None:
    store.close()
    with pytest.raises(StoreError, match="not put in its place"):
        restore(tmp_path / "kept", tmp_path / "games.pgn" / "store.sqlite")


@pytest.mark.parametrize(
    ("statement", "fault"),
    [
        ("UPDATE game SET moves = 'zz' WHERE id = 1", "game 1: ply 1: zz is no move"),
        ("UPDATE game SET start_fen = 'nonsense' WHERE id = 2", "game 2: its start is no position"),
        ("UPDATE game SET clocks = '[null]' WHERE id = 1", "game 1: 1 clocks are kept for"),
        ("UPDATE game SET beside = '[\"\"]' WHERE id = 1", "game 1: 1 remarks beside"),
        ("UPDATE occasion SET told = '[1]' WHERE id = 1", "an occasion cannot be read"),
    ],
)
def test_check_tells_and_does_not_raise(store: Store, statement: str, fault: str) -> None:
    check_tells(store, statement, fault)


# A server would keep no such row.
@IN_A_FILE
@pytest.mark.parametrize(
    ("statement", "fault"),
    [
        ("UPDATE game SET tags = '{' WHERE id = 1", "game 1: it cannot be read"),
        ("UPDATE occasion SET told = '[1' WHERE id = 1", "an occasion cannot be read"),
    ],
)
def test_check_tells_of_what_is_no_json(store: Store, statement: str, fault: str) -> None:
    check_tells(store, statement, fault)


def check_tells(store: Store, statement: str, fault: str) -> None:
    with store.engine.execution_options(writes=True).begin() as connection:
        connection.exec_driver_sql(statement)
    assert any(fault in told for told in check(store))


Spoil = Callable[[dict[str, Any]], object]


@pytest.mark.parametrize(
    ("spoil", "fault"),
    [
        (lambda r: r.pop("lessons"), 'the record: the field "lessons" is missing'),
        (lambda r: r.pop("format"), 'the record: the field "format" is missing'),
        (lambda r: r["students"][0].pop("aliases"), 'number 1 of the students.*"aliases"'),
        (lambda r: r["games"][1].pop("clocks"), 'number 2 of the games.*"clocks" is missing'),
        (lambda r: r["games"][1].update(clocks=[1]), 'number 2 of the games: "clocks"'),
        (lambda r: r["games"][0].update(moves="e2e9"), '"moves" has no legal move at ply 1: e2e9'),
        (lambda r: r["games"][0].update(start_fen="x"), '"start_fen" is no position'),
        (lambda r: r["games"][0]["seats"][0].pop("colour"), 'a seat: the field "colour"'),
        (lambda r: r["games"][0].update(corrections=[{}]), 'a correction: the field "ply"'),
        (lambda r: r.update(games=[7]), "number 1 of the games is not a set of fields"),
        (lambda r: r.update(format=6), "later version"),
    ],
)
def test_an_incomplete_export_is_told_by_its_field(
    store: Store, places: Places, tmp_path: Path, spoil: Spoil, fault: str
) -> None:
    export(store, tmp_path / "all.zip")
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        record = json.loads(archive.read("record.json"))
    spoil(record)
    with zipfile.ZipFile(tmp_path / "bad.zip", "w") as archive:
        archive.writestr("record.json", json.dumps(record))
    other = places.open("other")
    with pytest.raises(StoreError, match=rf"bad\.zip.*{fault}"):
        bring_back(other, tmp_path / "bad.zip")
    assert count(other)["student"] == count(other)["game"] == 0


def test_a_garbled_export_is_told(store: Store, tmp_path: Path) -> None:
    export(store, tmp_path / "all.zip")
    data = bytearray((tmp_path / "all.zip").read_bytes())
    data[60:200] = bytes(140)
    for name, bad in (("cut.zip", data[: len(data) // 2]), ("spoilt.zip", data)):
        (tmp_path / name).write_bytes(bad)
        with pytest.raises(StoreError, match=name):
            bring_back(store, tmp_path / name)
    with zipfile.ZipFile(tmp_path / "empty.zip", "w"):
        pass
    with pytest.raises(StoreError, match=r"record\.json is missing"):
        bring_back(store, tmp_path / "empty.zip")


def test_one_students_export_says_nothing_of_the_opponents_moves(
    places: Places, tmp_path: Path
) -> None:
    store = places.open()
    said = "1. d4 {Ada was calm} d5 {Ivy was calm} 2. Nf3"
    file = tmp_path / "games.pgn"
    file.write_text(pgn(ADA, IVY, MOVES[1].replace("1. d4 d5 2. Nf3", said)), encoding="utf-8")
    brought_in(store, file)
    with store.writing() as session:
        game = session.scalars(sa.select(Game)).one()
        correct(session, game, 3, "comment", "Ada was upset that day")
        correct(session, game, 4, "comment", "Ivy was glad that day")
    with store.reading() as session:
        ivy = student_named(session, IVY)
    export(store, tmp_path / "ivy.zip", ivy)
    with zipfile.ZipFile(tmp_path / "ivy.zip") as archive:
        for name in archive.namelist():
            text = archive.read(name).decode()
            assert "Ada was" not in text, name
            assert "Ivy was calm" in text, name
        assert "Ivy was glad" in archive.read("record.json").decode()

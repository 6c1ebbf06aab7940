"""What classes tried when a lesson was taught: kept, exported, brought back, without a name."""

import datetime
import json
import zipfile
from pathlib import Path
from typing import Any

import pytest

from fastness.errors import MissingError, StoreError
from fastness.store import Store, open_store, taught
from fastness.store.erasure import erase_student
from fastness.store.safekeeping import check
from fastness.store.students import add_student, student_named
from fastness.store.taught import KeptPosition
from fastness.store.taught_tables import KeptTry, Taught
from fastness.store.transfer import bring_back, export
from tests.store.material import IVY, TOM

DAY = datetime.date(2026, 9, 7)
START = "4k3/8/8/3n4/8/8/8/3RK3 b - - 0 1"
LESSON = "Pins after the game of Ivy Flourdust"


def tried(*moves: tuple[str, int]) -> tuple[KeptTry, ...]:
    return tuple(KeptTry(move=move, hands=hands, holds=True, firm=True) for move, hands in moves)


FIRST = KeptPosition(START, (), tried(("d5b4", 3), ("d5f6", 0)))
SECOND = KeptPosition(START, ("d5f6", "d1d4"), tried(("e8e7", 5)))


@pytest.fixture
def store(tmp_path: Path) -> Store:
    made = open_store(tmp_path / "store.sqlite")
    with made.writing() as session:
        add_student(session, IVY)
        add_student(session, TOM)
        taught.keep(session, 70, LESSON, DAY, [FIRST, SECOND])
    return made


def kept(store: Store, lesson: str = LESSON) -> list[tuple[int, list[tuple[str, int]]]]:
    with store.reading() as session:
        return [
            (one.number, [(t["move"], t["hands"]) for at in one.positions for t in at.tries])
            for one in taught.of_lesson(session, lesson)
        ]


def exported(store: Store, to: Path, student: str | None = None) -> dict[str, Any]:
    with store.reading() as session:
        only = student_named(session, student) if student else None
    export(store, to, only)
    with zipfile.ZipFile(to) as archive:
        record: dict[str, Any] = json.loads(archive.read("record.json"))
    return record


def test_keeping_again_replaces_what_was_kept(store: Store) -> None:
    assert kept(store) == [(70, [("d5b4", 3), ("d5f6", 0), ("e8e7", 5)])]
    fewer = KeptPosition(START, (), tried(("d5b4", 4)))
    for positions, then in (([fewer], [("d5b4", 4)]), ([SECOND, FIRST], None), ([], None)):
        with store.writing() as session:
            taught.keep(session, 70, LESSON, DAY, positions)
        if then:
            assert kept(store) == [(70, then)]
    assert kept(store) == []


def test_the_last_time_comes_first_and_a_new_name_takes_all_along(store: Store) -> None:
    with store.writing() as session:
        taught.keep(session, 80, LESSON, DAY + datetime.timedelta(days=7), [FIRST])
        taught.keep(session, 90, "Other", DAY, [FIRST])
        taught.rename(session, LESSON, "Pins")
    assert [number for number, _ in kept(store, "Pins")] == [80, 70]
    assert kept(store) == []
    with store.reading() as session, pytest.raises(MissingError):
        taught.numbered(session, 90, "Pins")


def test_an_export_brings_it_back_once_and_that_of_a_student_has_none(
    store: Store, tmp_path: Path
) -> None:
    record = exported(store, tmp_path / "all.zip")
    assert [one["number"] for one in record["taught"]] == [70]
    other = open_store(tmp_path / "other.sqlite")
    for into in (other, other, store):
        bring_back(into, tmp_path / "all.zip")
        assert kept(into) == kept(store)
        assert check(into) == []
    assert exported(store, tmp_path / "ivy.zip", IVY)["taught"] == []


def test_erasing_takes_the_name_out_and_leaves_what_was_tried(store: Store) -> None:
    before = kept(store)
    erase_student(store, TOM)
    assert kept(store) == before
    erase_student(store, IVY)
    assert kept(store) == []
    assert store.path is not None
    assert b"Ivy" not in store.path.read_bytes()
    with store.reading() as session:
        (one,) = session.query(Taught)
        assert one.lesson.startswith("Pins after the game of A former student")
        assert [at.tries for at in one.positions] == [list(FIRST.tries), list(SECOND.tries)]


@pytest.mark.parametrize(
    ("field", "wrong"), [("held", "Monday"), ("positions", "none"), ("lesson", 3)]
)
def test_a_wrong_export_is_told_by_its_field(
    store: Store, tmp_path: Path, field: str, wrong: object
) -> None:
    record = exported(store, tmp_path / "all.zip")
    record["taught"][0][field] = wrong
    wrong_move = exported(store, tmp_path / "again.zip")
    wrong_move["taught"][0]["positions"][0]["tries"][0]["move"] = "d5d1"
    for name, told in (("field.zip", record), ("move.zip", wrong_move)):
        with zipfile.ZipFile(tmp_path / name, "w") as archive:
            archive.writestr("record.json", json.dumps(told))
    other = open_store(tmp_path / "other.sqlite")
    with pytest.raises(StoreError, match=rf'number 1 of the class boards: "{field}"|is no day'):
        bring_back(other, tmp_path / "field.zip")
    with pytest.raises(StoreError, match=r"number 1 of the class boards, a try.*d5d1"):
        bring_back(other, tmp_path / "move.zip")
    assert kept(other) == []

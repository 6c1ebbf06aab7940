"""Homework in the store, on a file and a server: exported, brought back, erased."""

import datetime
import json
import zipfile
from pathlib import Path
from typing import Any

import pytest

from fastness.errors import InputError, StoreError
from fastness.store import Store, homework, open_store, shelf, students
from fastness.store.erasure import erase_student
from fastness.store.restoring import restore
from fastness.store.safekeeping import back_up, check, count
from fastness.store.transfer import bring_back, export
from tests.store.material import IVY, TOM
from tests.store.places import Places
from tests.store.test_shelf import entry

MADE, DUE = datetime.date(2026, 11, 26), datetime.date(2026, 12, 3)


@pytest.fixture
def store(places: Places) -> Store:
    """A store with homework for two in it."""
    opened = places.open()
    hand_out(opened)
    return opened


def hand_out(store: Store) -> None:
    with store.writing() as session:
        group = students.add_group(session, "Evening group", "Millrace Chess Club")
        ivy, tom = (students.add_student(session, name, group) for name in (IVY, TOM))
        exercises = [shelf.put(session, entry(number))[0].id for number in (1, 2)]
        made = homework.hand_out(
            session,
            "What Ivy Flourdust missed",
            exercises,
            [(ivy, 5, "ACD"), (tom, 7, "EFH")],
            number=205,
            due=DUE,
            made=MADE,
            language="de",
            group=group,
        )
        for at, answers in ((0, [["a1a2"], None]), (0, [["a1a2"], []]), (1, [None, None])):
            homework.hand_in(session, made.students[at], answers, way="code", made=MADE)


def told(store: Store, to: Path, name: str | None = None) -> dict[str, Any]:
    """What an export tells."""
    student = None
    if name is not None:
        with store.reading() as session:
            student = students.student_named(session, name)
    export(store, to, student)
    with zipfile.ZipFile(to) as archive:
        return dict(json.loads(archive.read("record.json")))


def test_an_export_is_brought_back_whole_and_once(
    store: Store, places: Places, tmp_path: Path
) -> None:
    before = told(store, tmp_path / "all.zip")
    (one,) = before["homework"]
    assert [len(student["hand_ins"]) for student in one["students"]] == [2, 1]
    other = places.open("other")
    bring_back(other, tmp_path / "all.zip")
    assert told(other, tmp_path / "again.zip") == before
    bring_back(other, tmp_path / "all.zip")
    assert told(other, tmp_path / "third.zip") == before
    assert check(other) == []
    other.close()


def test_a_students_own_export_has_nobody_elses_part(
    store: Store, places: Places, tmp_path: Path
) -> None:
    mine = told(store, tmp_path / "tom.zip", TOM)
    (one,) = mine["homework"]
    assert [student["student"] for student in one["students"]] == [TOM]
    assert len(mine["exercises"]) == 2
    assert "ACD" not in json.dumps(mine)
    other = places.open("other")
    bring_back(other, tmp_path / "tom.zip")
    assert told(other, tmp_path / "again.zip", TOM)["homework"] == mine["homework"]
    # Somebody else's part comes to it, by their own export.
    told(store, tmp_path / "ivy.zip", IVY)
    bring_back(other, tmp_path / "ivy.zip")
    assert count(other)["homework"] == 1
    assert count(other)["homework_student"] == 2
    other.close()


def test_an_erased_student_leaves_no_trace_in_homework(
    store: Store, places: Places, tmp_path: Path
) -> None:
    erase_student(store, IVY)
    assert count(store)["homework_student"] == 1
    assert count(store)["hand_in"] == 1
    record = json.dumps(told(store, tmp_path / "all.zip"))
    for trace in ("Flourdust", "Ivy", "ACD"):
        assert trace not in record
    assert places.left("Flourdust") == []


def test_a_backup_brings_homework_back(tmp_path: Path) -> None:
    opened = open_store(tmp_path / "store.sqlite")
    hand_out(opened)
    back_up(opened, tmp_path / "backup")
    opened.close()
    restore(tmp_path / "backup", tmp_path / "new.sqlite")
    restored = open_store(tmp_path / "new.sqlite")
    assert count(restored)["hand_in"] == 3
    restored.close()


def test_the_same_answers_are_kept_once_and_as_many_as_exercises(store: Store) -> None:
    with store.writing() as session:
        ivy = homework.numbered(session, 205).students[0]
        known, new = homework.hand_in(session, ivy, [["a1a2"], None], way="paper", made=DUE)
        assert (new, known.way, known.made) == (False, "code", MADE)
        with pytest.raises(InputError, match="1 answers for 2 exercises"):
            homework.hand_in(session, ivy, [None], way="paper", made=DUE)


@pytest.mark.parametrize("key", ["number", "due", "students", "exercises", "salt"])
def test_an_export_whose_homework_is_garbled_is_refused(
    store: Store, places: Places, tmp_path: Path, key: str
) -> None:
    record = told(store, tmp_path / "all.zip")
    record["homework"][0][key] = 7.5
    with zipfile.ZipFile(tmp_path / "bad.zip", "w") as archive:
        archive.writestr("record.json", json.dumps(record))
    other = places.open("other")
    with pytest.raises(StoreError, match=f'number 1 of the homework: "{key}"'):
        bring_back(other, tmp_path / "bad.zip")
    assert count(other)["homework"] == 0
    other.close()

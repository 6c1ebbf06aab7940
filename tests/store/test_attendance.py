"""Who was there at a lesson: kept, exported, brought back, erased."""

import datetime
import json
import zipfile
from pathlib import Path
from typing import Any

import pytest

from fastness.errors import InputError, MissingError, StoreError
from fastness.store import Store
from fastness.store.attendance import absent, lesson_on, note, present
from fastness.store.erasure import erase_student
from fastness.store.safekeeping import check
from fastness.store.students import add_group, add_student, group_named, student_named
from fastness.store.tables import Attendance, Lesson
from fastness.store.transfer import bring_back, export
from tests.store.material import ADA, IVY, TOM
from tests.store.places import Places

DAY = datetime.date(2026, 9, 7)
THEME = "Pinned guards, after Ivy's game"


@pytest.fixture
def store(places: Places) -> Store:
    """Ada and Ivy were there; Tom was not."""
    made = places.open()
    with made.writing() as session:
        group = add_group(session, "Monday", "Millrace")
        here = [add_student(session, name, group) for name in (ADA, IVY)]
        add_student(session, TOM, group)
        session.add(Lesson(group_id=group.id, held=DAY, theme=THEME))
        session.flush()
        note(session, lesson_on(session, group), here)
    return made


def names(store: Store, *, there: bool) -> list[str]:
    with store.reading() as session:
        lesson = lesson_on(session, group_named(session, "Monday"), DAY)
        return [one.name for one in (present(lesson) if there else absent(session, lesson))]


def rows(store: Store) -> int:
    with store.reading() as session:
        return session.query(Attendance).count()


def exported(store: Store, to: Path, student: str | None = None) -> dict[str, Any]:
    with store.reading() as session:
        only = student_named(session, student) if student else None
    export(store, to, only)
    with zipfile.ZipFile(to) as archive:
        record: dict[str, Any] = json.loads(archive.read("record.json"))
    return record


def test_who_is_in_the_group_and_was_not_there_was_absent(store: Store) -> None:
    assert names(store, there=True) == [IVY, ADA]
    assert names(store, there=False) == [TOM]


def test_noting_again_replaces_what_was_noted(store: Store) -> None:
    with store.writing() as session:
        lesson = lesson_on(session, group_named(session, "Monday"))
        note(session, lesson, [student_named(session, name) for name in (TOM, IVY, TOM)])
    assert names(store, there=True) == [IVY, TOM]
    assert names(store, there=False) == [ADA]
    assert rows(store) == 2


def test_nobody_is_not_noted_and_costs_nothing(store: Store) -> None:
    with pytest.raises(InputError, match="nobody is named"), store.writing() as session:
        note(session, lesson_on(session, group_named(session, "Monday")), [])
    assert names(store, there=True) == [IVY, ADA]


def test_a_lesson_is_found_by_its_day_and_theme(store: Store) -> None:
    with store.writing() as session:
        group = group_named(session, "Monday")
        for day, theme in ((14, "Forks"), (14, "Skewers"), (21, "Traps")):
            session.add(Lesson(group_id=group.id, held=DAY.replace(day=day), theme=theme))
        session.flush()
        assert lesson_on(session, group).theme == "Traps"
        assert lesson_on(session, group, DAY).theme == THEME
        assert lesson_on(session, group, DAY.replace(day=14), "skewers ").theme == "Skewers"
        with pytest.raises(InputError, match="2 lessons on 2026-09-14; name one: Skewers; Forks"):
            lesson_on(session, group, DAY.replace(day=14))
        with pytest.raises(MissingError, match="on 2026-09-08; noted is 2026-09-21 Traps"):
            lesson_on(session, group, DAY.replace(day=8))
        with pytest.raises(MissingError, match="no lesson of Tuesday is noted"):
            lesson_on(session, add_group(session, "Tuesday"))


def test_where_nobody_noted_it_nobody_is_called_absent(store: Store) -> None:
    with store.writing() as session:
        group = group_named(session, "Monday")
        session.add(Lesson(group_id=group.id, held=DAY.replace(day=14), theme="Forks"))
        session.flush()
        with pytest.raises(InputError, match=r"2026-09-14 \(Forks\) is not noted"):
            absent(session, lesson_on(session, group))


def test_an_export_brings_it_back_once(store: Store, places: Places, tmp_path: Path) -> None:
    record = exported(store, tmp_path / "all.zip")
    assert record["lessons"] == [
        {
            "group": "Monday",
            "club": "Millrace",
            "held": "2026-09-07",
            "theme": THEME,
            "present": [IVY, ADA],
        }
    ]
    other = places.open("other")
    for into in (other, other, store):
        bring_back(into, tmp_path / "all.zip")
        assert names(into, there=True) == [IVY, ADA]
        assert names(into, there=False) == [TOM]
        assert rows(into) == 2
        assert check(into) == []


def test_an_older_export_says_nothing_of_it(store: Store, places: Places, tmp_path: Path) -> None:
    record = exported(store, tmp_path / "all.zip")
    record["format"] = 3
    del record["lessons"][0]["present"]
    with zipfile.ZipFile(tmp_path / "old.zip", "w") as archive:
        archive.writestr("record.json", json.dumps(record))
    other = places.open("other")
    bring_back(other, tmp_path / "old.zip")
    assert names(other, there=True) == []
    bring_back(store, tmp_path / "old.zip")
    assert names(store, there=True) == [IVY, ADA]


def test_one_students_part_names_no_other(store: Store, tmp_path: Path) -> None:
    record = exported(store, tmp_path / "ada.zip", ADA)
    (lesson,) = record["lessons"]
    assert lesson["present"] == [ADA]
    assert lesson["theme"] == "Pinned guards, after a student's game"
    assert "Ivy" not in json.dumps(record)
    assert exported(store, tmp_path / "ivy.zip", IVY)["lessons"][0]["theme"] == THEME
    assert exported(store, tmp_path / "tom.zip", TOM)["lessons"] == []


def test_erasing_takes_it_away_and_an_export_does_not_bring_it_back(
    store: Store, tmp_path: Path
) -> None:
    exported(store, tmp_path / "all.zip")
    erase_student(store, IVY)
    assert (names(store, there=True), rows(store)) == ([ADA], 1)
    bring_back(store, tmp_path / "all.zip")
    assert rows(store) == 1
    assert check(store) == []


@pytest.mark.parametrize("wrong", ["Weirwater, Ada", [7]])
def test_a_wrong_export_is_told_by_its_field(
    store: Store, places: Places, tmp_path: Path, wrong: object
) -> None:
    record = exported(store, tmp_path / "all.zip")
    record["lessons"][0]["present"] = wrong
    with zipfile.ZipFile(tmp_path / "bad.zip", "w") as archive:
        archive.writestr("record.json", json.dumps(record))
    other = places.open("other")
    with pytest.raises(StoreError, match='number 1 of the lessons: "present"'):
        bring_back(other, tmp_path / "bad.zip")

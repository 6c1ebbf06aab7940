"""Several who write at once: nothing is lost, nothing doubled. Each fails without the locks."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
import sqlalchemy as sa

from fastness.exercises.shelving import as_entry
from fastness.store import Store, open_store, shelf
from fastness.store import students as people
from fastness.store.opening import _at, bring_up_to_date, versions
from fastness.store.safekeeping import check, count
from fastness.workflows.attending import note_attendance
from fastness.workflows.correcting import correct
from fastness.workflows.homework import make
from fastness.workflows.homework_hand_in import hand_in_code
from tests.exercises.asked import asked
from tests.store.filling import fill, rows
from tests.store.material import ADA, IVY, TOM, brought_in, some_games
from tests.store.places import Places
from tests.workflows.test_homework import DUE, EXERCISES, MADE, RIGHT, code_of, kept

AT_ONCE = 4


def at_once(places: Places, do: Callable[[Store], object], count: int = AT_ONCE) -> list[Store]:
    """Do something with several open stores at the same moment, as several programs would."""
    stores = [places.open() for _ in range(count)]
    together = threading.Barrier(count)

    def one(store: Store) -> None:
        together.wait()
        do(store)

    with ThreadPoolExecutor(count) as pool:
        list(pool.map(one, stores))
    return stores


def test_no_change_is_lost(places: Places) -> None:
    with places.open().writing() as session:
        people.add_group(session, "0")

    def count_up(store: Store) -> None:
        for _ in range(5):
            with store.writing() as session:
                (group,) = people.groups(session)
                told = int(group.name)
                time.sleep(0.002)
                group.name = str(told + 1)

    store = at_once(places, count_up)[0]
    with store.reading() as session:
        assert [group.name for group in people.groups(session)] == [str(5 * AT_ONCE)]


def test_one_code_taken_in_several_times_is_marked_once(places: Places) -> None:
    store = places.open()
    with store.writing() as session:
        group = people.add_group(session, "Evening group", "Millrace Chess Club")
        for name in (IVY, TOM):
            people.add_student(session, name, group)
        for one in EXERCISES:
            shelf.put(session, as_entry(one))
    told = make(store, "Pins", [1, 2, 3, 4, 5], DUE, group="evening group", made=MADE)
    code, new = code_of(told, IVY, [*RIGHT]), []
    at_once(places, lambda store: new.append(hand_in_code(store, code, made=MADE).new), 2)
    assert sorted(new) == [False, True]
    assert len(kept(store)) == 5
    assert count(store)["hand_in"] == 1


def test_games_brought_in_several_times_are_there_once(places: Places, tmp_path: Path) -> None:
    file = tmp_path / "games.pgn"
    file.write_text(some_games(4), encoding="utf-8")
    store = at_once(places, lambda store: brought_in(store, file))[0]
    held = count(store)
    assert (held["game"], held["seat"], held["student"]) == (4, 8, 3)
    assert held["student_group"] == 1
    assert check(store) == []


def test_corrections_attendance_and_exercises_at_once(places: Places, tmp_path: Path) -> None:
    store = places.open()
    (tmp_path / "games.pgn").write_text(some_games(1), encoding="utf-8")
    brought_in(store, tmp_path / "games.pgn")
    with store.writing() as session:
        group = people.group_named(session, "Monday")
        session.execute(
            sa.text("INSERT INTO lesson (id, group_id, held, theme) VALUES (1, :group, :held, '')"),
            {"group": group.id, "held": MADE.isoformat()},
        )

    def say_it(store: Store) -> None:
        correct(store, 1, 3, "strike", "shown in the lesson")
        note_attendance(store, 1, [ADA, IVY])
        with store.writing() as session:
            shelf.put(session, as_entry(asked("which unit")))

    at_once(places, say_it)
    held = count(store)
    assert (held["correction"], held["attendance"], held["exercise"]) == (1, 2, 1)


@pytest.mark.parametrize("version", [None, versions()[0]])
def test_programs_that_start_at_once_bring_the_tables_up_to_date_once(
    places: Places, version: str | None
) -> None:
    place, before = places.bare(), None
    if version is not None:
        old = _at(place)
        bring_up_to_date(old, version)
        before = fill(old)
        old.close()
    together = threading.Barrier(AT_ONCE)

    def start(_: int) -> Store:
        together.wait()
        return open_store(place)

    with ThreadPoolExecutor(AT_ONCE) as pool:
        stores = [places.keep(store) for store in pool.map(start, range(AT_ONCE))]
    for store in stores:
        assert check(store) == []
    if before is not None:
        assert {table: rows(stores[0])[table] for table in before} == before

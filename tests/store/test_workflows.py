"""What a teacher does that writes, on a file and on a server: the same comes of it."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from fastness.exercises.shelving import as_entry
from fastness.publish.sheet import Layout
from fastness.store import Store, shelf
from fastness.store.safekeeping import check, count
from fastness.workflows import people
from fastness.workflows.attending import lesson_on, note_absence
from fastness.workflows.correcting import correct, take_back
from fastness.workflows.homework import make, show
from fastness.workflows.homework_hand_in import hand_in_code, hand_in_paper, result_of
from fastness.workflows.homework_sources import of_week
from fastness.workflows.practising import practice_of_group
from fastness.workflows.week import Place, Proposal
from fastness.workflows.week_folder import write_week
from tests.exercises.asked import BISHOP, asked, proved
from tests.store.material import ADA, IVY, TOM, brought_in, some_games
from tests.store.places import Places
from tests.workflows.test_homework import ALL_RIGHT, DUE, EXERCISES, MADE, RIGHT, code_of


@pytest.fixture
def store(places: Places, tmp_path: Path) -> Store:
    """Six games of three students of a group."""
    made = places.open()
    (tmp_path / "games.pgn").write_text(some_games(6), encoding="utf-8")
    brought_in(made, tmp_path / "games.pgn")
    return made


def test_homework_is_handed_out_taken_in_and_practised(store: Store) -> None:
    with store.writing() as session:
        for one in EXERCISES:
            shelf.put(session, as_entry(one))
    told = make(store, "Pins", [1, 2, 3, 4, 5], DUE, group="Monday", made=MADE)
    first = hand_in_code(store, code_of(told, IVY, [*RIGHT]), made=MADE)
    assert tuple(one.verdict for one in first.results) == ALL_RIGHT
    number = told.row.number
    assert hand_in_paper(store, number, TOM, "- - - - -", made=MADE).new
    assert show(store, number).row.handed_in == 2
    found = result_of(store, number, IVY)
    assert found is not None
    assert found.results == first.results
    assert practice_of_group(store, "Monday", minutes=10, week=MADE)
    assert check(store) == []


def test_lessons_corrections_and_names_are_kept(store: Store) -> None:
    group = people.list_groups(store)[0]
    people.add_lesson(store, group.id, "Pins", MADE)
    note_absence(store, lesson_on(store, "Monday").lesson, [TOM])
    assert lesson_on(store, "Monday").present == (IVY, ADA)
    first = correct(store, 1, 3, "comment", "shown in the lesson")
    second = correct(store, 1, 3, "comment", "shown again")
    assert [one.reason for one in second.replaced] == ["shown in the lesson"]
    assert take_back(store, 1, second.made.id).reason == "shown again"
    assert first.made.id != second.made.id
    ivy = next(one for one in people.list_students(store) if one.name == IVY)
    people.rename_student(store, ivy.id, "Flourdust, Ivy Rose")
    people.add_name(store, ivy.id, "I. F.")
    assert "I. F." in people.tell_student(store, ivy.id).names
    assert check(store) == []


def test_a_week_is_written_and_given_as_homework(store: Store, tmp_path: Path) -> None:
    place = Place(IVY, "Ivy Flourdust - Tom Millpondle", 5, BISHOP, "", "let fall", (), 300)
    exercises = (asked("which unit", BISHOP), asked("every move", BISHOP))
    proposal = Proposal(place, proved(BISHOP), exercises)
    written = write_week(tmp_path / "week", "Monday", [proposal], [], Layout(), store)
    assert all(file.exists() for file in written)
    numbers = of_week(store, tmp_path / "week", "club")
    due = MADE + datetime.timedelta(7)
    told = make(store, "Monday", numbers, due, group="Monday", made=MADE)
    assert len(told.students) == 3
    assert count(store)["homework"] == 1
    assert check(store) == []

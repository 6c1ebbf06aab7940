"""The shelf in the store: once on it, found by what it is about, tried, corrected, erased."""

import datetime
import json
import zipfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa

from fastness.errors import InputError
from fastness.store import Store, shelf, students
from fastness.store.erasure import erase_student
from fastness.store.safekeeping import check, count
from fastness.store.shelf import Entry, Wanted
from fastness.store.transfer import bring_back, export
from tests.store.places import IN_A_FILE, Places

IVY, TOM = "Flourdust, Ivy", "Millpondle, Tom"


@pytest.fixture
def store(places: Places) -> Store:
    """A store."""
    return places.open()


def entry(number: int = 1, **other: Any) -> Entry:
    """An invented exercise whose answers its position allows; the shelf asks no more."""
    fen = f"4k3/8/8/8/{number % 8 or ''}P{7 - number % 8 or ''}/8/8/K7 w - - 0 {number}"
    plain = Entry(
        kind="every move",
        fen=fen,
        asked=None,
        accepted=("a1a2",),
        not_judged=(),
        survey={"fen": fen},
        firm_units=True,
        replies={"a1b1": ["c1c2"]},
        made="game",
        source={"made": "game", "game": "Ivy Flourdust - Tom Millpondle", "ply": 9, "of": ""},
        pattern="p",
        estimate=0.5,
        level="club",
        phase="endgame",
        reach=1,
        holding=1,
        traits=(("mechanism", "pin"), ("unit", "rook"), ("way", "move")),
    )
    return replace(plain, **other)


def put(store: Store, *entries: Entry) -> list[int]:
    with store.writing() as session:
        return [shelf.put(session, one)[0].id for one in entries]


def with_students(store: Store) -> None:
    with store.writing() as session:
        for name in (IVY, TOM):
            students.add_student(session, name)


def test_an_exercise_is_on_the_shelf_once(store: Store) -> None:
    first = put(store, entry())[0]
    with store.writing() as session:
        one = shelf.numbered(session, first)
        shelf.correct(session, one, "comment", "for next week")
        one.difficulty, one.error, one.level = 2.0, 0.3, "stretch"
    # The same question with another count of moves, answered anew.
    again = replace(entry(), fen=entry().fen.replace("0 1", "4 30"), accepted=("a1a2", "a1b1"))
    with store.writing() as session:
        found, new = shelf.put(session, again)
        assert (found.id, new) == (first, False)
        assert found.accepted == ["a1a2", "a1b1"]
        assert (found.difficulty, found.level) == (2.0, "stretch")
        assert [one.reason for one in found.corrections] == ["for next week"]
    assert count(store)["exercise"] == 1
    assert count(store)["exercise_trait"] == 3
    assert put(store, entry(kind="better way"), entry(asked="a1a2"))[0] != first
    assert count(store)["exercise"] == 3


@pytest.mark.parametrize(
    ("wanted", "numbers"),
    [
        (Wanted(), [1, 2, 3]),
        (Wanted(mechanism=("fork",)), [2]),
        (Wanted(mechanism=("fork", "pin"), way=("move",)), [1]),
        (Wanted(way=("guard",)), [2]),
        (Wanted(unit=("rook",)), [1]),
        (Wanted(reach=(2,)), [2]),
        (Wanted(phase=("opening",)), [3]),
        (Wanted(level=("plain", "stretch")), [2, 3]),
        (Wanted(kind=("which unit",)), [3]),
        (Wanted(made=("composed",)), [3]),
        (Wanted(holding=(2, None)), [2]),
        (Wanted(holding=(1, 4)), [1]),
        (Wanted(level=("plain",), phase=("endgame",)), []),
    ],
)
def test_what_is_looked_for_is_found(store: Store, wanted: Wanted, numbers: list[int]) -> None:
    fork = (("mechanism", "fork"), ("mechanism", "unguarded"), ("unit", "queen"), ("way", "guard"))
    ids = put(
        store,
        entry(1),
        entry(2, level="stretch", reach=2, holding=5, traits=fork),
        entry(3, kind="which unit", level="plain", made="composed", phase="opening", reach=None,
              holding=0, traits=()),
    )  # fmt: skip
    with store.reading() as session:
        assert [ids.index(one.id) + 1 for one in shelf.find(session, wanted)] == numbers


def test_corrections_are_kept_replaced_and_taken_back(store: Store) -> None:
    number = put(store, entry())[0]
    with store.writing() as session:
        one = shelf.numbered(session, number)
        shelf.correct(session, one, "strike", "the rook is a misprint")
        assert shelf.find(session) == []
        assert shelf.find(session, Wanted(struck=True)) == [one]
        shelf.take_back(session, one, one.corrections[0].id)
        assert shelf.find(session) == [one]
        shelf.correct(session, one, "overrule", "it is slow", answer="a1a2", verdict="wrong")
        shelf.correct(session, one, "overrule", "a matter of taste", answer="a1a2",
                      verdict="not judged")  # fmt: skip
        assert [(c.verdict, c.reason) for c in one.corrections] == [
            ("not judged", "a matter of taste")
        ]
        with pytest.raises(InputError, match="needs its reason"):
            shelf.correct(session, one, "strike", "  ")
        with pytest.raises(InputError, match="which answer"):
            shelf.correct(session, one, "overrule", "why not")
        with pytest.raises(InputError, match="no correction 99"):
            shelf.take_back(session, one, 99)
        with pytest.raises(InputError, match="no exercise 77"):
            shelf.numbered(session, 77)


def attempt(store: Store, name: str, number: int, verdict: Any, day: int = 1) -> None:
    with store.writing() as session:
        student = students.student_named(session, name)
        one = shelf.numbered(session, number)
        made = datetime.date(2026, 9, day)
        shelf.record_attempt(session, student, one, ["a1a2"], verdict, made=made, seconds=4.5)


def test_only_the_first_judged_answer_says_how_hard_it_is(store: Store) -> None:
    with_students(store)
    one, other = put(store, entry(1), entry(2))
    attempt(store, IVY, one, "not judged", 1)
    attempt(store, IVY, one, "right", 4)
    attempt(store, IVY, one, "wrong", 3)
    attempt(store, TOM, one, "right", 2)
    attempt(store, TOM, other, "right", 2)
    with store.writing() as session:
        found = {(exercise, right) for _, exercise, right in shelf.first_judged(session)}
        assert found == {(one, False), (one, True), (other, True)}
        shelf.correct(session, shelf.numbered(session, other), "strike", "a misprint")
        assert len(shelf.first_judged(session)) == 2
        with pytest.raises(InputError, match="0 seconds or more"):
            shelf.record_attempt(
                session, shelf.attempts(session)[0].student, shelf.numbered(session, one), [],
                "right", seconds=-1,
            )  # fmt: skip


def test_an_export_moves_the_shelf_and_a_students_part_is_the_students(
    store: Store, places: Places, tmp_path: Path
) -> None:
    with_students(store)
    one, other = put(store, entry(1), entry(2))
    attempt(store, IVY, one, "right")
    attempt(store, TOM, other, "wrong")
    with store.writing() as session:
        shelf.correct(session, shelf.numbered(session, one), "comment", "as Tom Millpondle had it")
    export(store, tmp_path / "all.zip")
    there = places.open("there")
    for _ in range(2):
        bring_back(there, tmp_path / "all.zip")
    assert count(there) == count(store)
    with store.reading() as session:
        export(store, tmp_path / "ivy.zip", students.student_named(session, IVY))
    told = zipfile.ZipFile(tmp_path / "ivy.zip").read("record.json").decode()
    record = json.loads(told)
    assert [found["verdict"] for found in record["attempts"]] == ["right"]
    assert [found["fen"] for found in record["exercises"]] == [entry(1).fen]
    assert "Millpondle" not in told
    there.close()


def test_an_erased_student_leaves_nothing_on_the_shelf(store: Store, places: Places) -> None:
    with_students(store)
    one = put(store, entry())[0]
    attempt(store, IVY, one, "right")
    attempt(store, TOM, one, "wrong")
    with store.writing() as session:
        found = shelf.numbered(session, one)
        shelf.correct(session, found, "comment", "Ivy Flourdust found this in a minute")
        shelf.correct(session, found, "overrule", "slow", answer="a1a2", verdict="wrong")
    erase_student(store, IVY)
    assert check(store) == []
    with store.reading() as session:
        found = shelf.numbered(session, one)
        assert [kept.action for kept in found.corrections] == ["overrule"]
        assert [kept.student.name for kept in shelf.attempts(session)] == [TOM]
    assert places.left("Flourdust") == []


FAULTS = [
    ({"fen": "4k3/8/8/8/8/8/8/8 w - - 0 1"}, "cannot stand on a board"),
    ({"fen": "4k3/8/8/9/8/8/8/K7 w - - 0 1"}, "cannot be read"),
    ({"survey": {"fen": "4k3/8/8/8/8/8/8/K7 b - - 0 1"}}, "proof is of another position"),
    ({"survey": {}}, "cannot be read"),
    ({"accepted": ("a1c3",)}, "a1c3 is no answer"),
    ({"not_judged": ("yes",)}, "yes is no answer"),
    ({"kind": "which unit", "accepted": ("e8",)}, "e8 is no answer"),
    ({"kind": "why it fails", "asked": "a1a3"}, "a1a3, which is asked about, is not legal"),
    ({"kind": "why it fails", "asked": "a1a2", "accepted": ("a2a3",)}, "a2a3 is no answer"),
    ({"kind": "is it safe", "asked": "a1a2", "accepted": ("perhaps",)}, "perhaps is no answer"),
    ({"kind": "who won"}, "who won is no question"),
]


@pytest.mark.parametrize(("wrong", "fault"), FAULTS, ids=[fault for _, fault in FAULTS])
def test_a_check_finds_what_is_wrong_on_the_shelf(
    places: Places, wrong: dict[str, Any], fault: str
) -> None:
    store = places.open()
    with store.writing() as session:
        shelf.put(session, entry(1))
        shelf.put(session, entry(2, **wrong))
    (told,) = check(store)
    assert told.startswith("exercise 2: ")
    assert fault in told


@IN_A_FILE
def test_a_check_finds_a_row_that_is_damaged(places: Places) -> None:
    store = places.open()
    with store.writing() as session:
        shelf.put(session, entry())
    with store.engine.execution_options(writes=True).begin() as connection:
        connection.execute(sa.text("UPDATE exercise SET accepted = '[\"a1a2'"))
    (told,) = check(store)
    assert "exercise 1: it cannot be read" in told


@pytest.mark.parametrize(
    ("kind", "asked", "accepted"),
    [
        ("which unit", None, ("b4", "a1")),
        ("which unit", None, ()),
        ("every move", None, ("a1a2", "b4b5")),
        ("better way", None, ("a1a2",)),
        ("why it fails", "a1a2", ("e8e7",)),
        ("is it safe", "a1a2", ("no",)),
    ],
)
def test_a_check_lets_every_question_be(
    places: Places, kind: str, asked: str | None, accepted: tuple[str, ...]
) -> None:
    store = places.open()
    with store.writing() as session:
        shelf.put(session, entry(kind=kind, asked=asked, accepted=accepted))
    assert check(store) == []

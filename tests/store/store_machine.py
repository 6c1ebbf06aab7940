"""A store that is worked with at random, beside a plain account of what it should hold.

What the account says of erasing is what docs/store.md promises.
"""

from __future__ import annotations

import datetime
import itertools
import json
import tempfile
import zipfile
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from fastness.intake import Game
from fastness.store import Store, attendance, corrections, homework, open_store, shelf, tables
from fastness.store import students as people
from fastness.store.erased import unnamed
from fastness.store.erasure import erase_student
from fastness.store.games import add_game, find_game
from fastness.store.safekeeping import check, count
from fastness.store.transfer import bring_back, export
from fastness.workflows.people import add_name, list_students, rename_student
from tests.store.test_shelf import entry

START = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"
MOVES = (("e2e4", "e7e5", "g1f3"), ("d2d4", "d7d5", "c2c4"), ("c2c4", "e7e5"), ("g1f3", "g8f6"))
GIVEN = ("Ada", "Ben", "Cleo", "Dan")
FAMILIES = (
    "Weirwater", "Sluicegate", "Sackhoist", "Quernstone", "Hopperlad", "Tailrace", "Grindell",
    "Bolterby", "Cogswheel", "Damselfry",
)  # fmt: skip
"""Each is one student's at most, so that a trace of it is a trace of that one."""
DAY = datetime.date(2026, 9, 7)
PICK = st.integers(0, 1000)
"""Which of those that are there, counted round."""


@dataclass(eq=False)
class Person:
    """A student as the account has them; the first name is the one they came with."""

    names: list[str]
    shown: str
    tries: int = 0
    erased: bool = False

    @property
    def family(self) -> str:
        """What no file may hold when they are erased."""
        return self.names[0].partition(",")[0]


@dataclass(eq=False)
class Played:
    """A game: the moves, the day, white and black, and the plies from 1 with a comment."""

    moves: tuple[str, ...]
    date: str
    players: tuple[Person, Person]
    said: set[int] = field(default_factory=set)

    @property
    def told(self) -> Game:
        """As a file of games has it."""
        tags = dict(zip(("White", "Black"), (one.names[0] for one in self.players), strict=True))
        tags["Date"] = self.date
        return Game("", 1, 1, tags, START, self.moves, (None,) * len(self.moves), "*")


class StoreMachine(RuleBasedStateMachine):
    """Every rule is something a teacher does; the invariants hold after each."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.path = Path(self.folder.name)
        self.store = open_store(self.path / "store.sqlite")
        self.people: list[Person] = []
        self.erased: list[Person] = []
        self.games: list[Played] = []
        self.exercises: set[int] = set()
        self.given: list[dict[Person, set[str]]] = []
        self.lessons: list[set[Person]] = []
        self.numbers = itertools.count(1)

    def teardown(self) -> None:
        """Let go of everything."""
        self.store.close()
        self.folder.cleanup()

    def some(self, picks: tuple[int, ...]) -> set[Person]:
        """Some of the students."""
        return {self.people[pick % len(self.people)] for pick in picks}

    @initialize()
    def begin(self) -> None:
        """A club with two students and two exercises."""
        with self.store.writing() as session:
            people.add_group(session, "Monday", "Millrace")
        for given in GIVEN[:2]:
            self.add(given)
        for number in (1, 2):
            self.shelve(number)

    @rule(given=st.sampled_from(GIVEN))
    def add(self, given: str) -> None:
        """A new student, while there are names."""
        at = len(self.people) + len(self.erased)
        if at < len(FAMILIES):
            name = f"{FAMILIES[at]}, {given}"
            with self.store.writing() as session:
                people.add_student(session, name, people.group_named(session, "Monday"))
            self.people.append(Person([name], name))

    @precondition(lambda self: self.people)
    @rule(pick=PICK, given=st.sampled_from(GIVEN), rename=st.booleans())
    def name(self, pick: int, given: str, rename: bool) -> None:
        """Another name of a student, or another spelling that games have."""
        (person,) = self.some((pick,))
        name = f"{person.family}, {given} {given[0]}."
        number = next(one.id for one in list_students(self.store) if one.name == person.shown)
        (rename_student if rename else add_name)(self.store, number, name)
        person.names.append(name)
        person.shown = name if rename else person.shown

    @precondition(lambda self: len(self.people) + len(self.erased) > 1)
    @rule(picks=st.tuples(PICK, PICK), moves=st.sampled_from(MOVES), day=st.integers(1, 3))
    def bring_in(self, picks: tuple[int, int], moves: tuple[str, ...], day: int) -> None:
        """A game of two who are or were students, perhaps once more."""
        everybody = [*self.people, *self.erased]
        white = everybody.pop(picks[0] % len(everybody))
        game = Played(moves, f"2026.09.0{day}", (white, everybody[picks[1] % len(everybody)]))
        with self.store.writing() as session:
            told = unnamed(session, game.told)
            sides: dict[Any, Any] = {"white": told.tags["White"], "black": told.tags["Black"]}
            found = {side: people.find_student(session, name) for side, name in sides.items()}
            players = {side: student for side, student in found.items() if student is not None}
            if players:
                add_game(session, told, players, [], "reach 1")
        same = [one for one in self.games if one.told == game.told]
        if not same and not all(one.erased for one in game.players):
            self.games.append(game)

    @precondition(lambda self: self.games)
    @rule(pick=PICK, ply=PICK)
    def comment(self, pick: int, ply: int) -> None:
        """A comment on a move; the last one on it stands."""
        game = self.games[pick % len(self.games)]
        at = ply % len(game.moves) + 1
        with self.store.writing() as session:
            stored = find_game(session, game.told)
            assert stored is not None
            said = f"{game.players[0].family} and {game.players[1].family} looked at it"
            if not any(one.erased for one in game.players):
                corrections.correct(session, stored, at, "comment", said)
                game.said.add(at)

    @rule(number=st.integers(1, 6))
    def shelve(self, number: int) -> None:
        """An exercise, perhaps once more."""
        with self.store.writing() as session:
            shelf.put(session, entry(number))
        self.exercises.add(number)

    @precondition(lambda self: self.people)
    @rule(pick=PICK, right=st.booleans())
    def attempt(self, pick: int, right: bool) -> None:
        """A student's answer to an exercise."""
        (person,) = self.some((pick,))
        with self.store.writing() as session:
            student = people.student_named(session, person.names[-1])
            verdict: shelf.Verdict = "right" if right else "wrong"
            shelf.record_attempt(session, student, shelf.numbered(session, 1), ["a1a2"], verdict)
        person.tries += 1

    @precondition(lambda self: self.people)
    @rule(picks=st.tuples(PICK, PICK))
    def give_homework(self, picks: tuple[int, int]) -> None:
        """Homework for one or two."""
        given, number = self.some(picks), next(self.numbers)
        with self.store.writing() as session:
            pupils = [people.student_named(session, one.shown) for one in given]
            title = f"What {' and '.join(one.shown for one in given)} missed"
            to = [(student, at, "ACD") for at, student in enumerate(pupils, 1)]
            homework.hand_out(
                session, title, [1, 2], to, number=number, due=DAY, made=DAY, language="en"
            )
        self.given.append({one: set() for one in given})

    @precondition(lambda self: any(self.given))
    @rule(pick=PICK, answer=st.sampled_from(["a1a2", "a1b1"]))
    def hand_in(self, pick: int, answer: str) -> None:
        """Answers that come back; the same ones are kept once."""
        parts = [(at, one) for at, given in enumerate(self.given, 1) for one in given]
        number, person = parts[pick % len(parts)]
        with self.store.writing() as session:
            student = people.student_named(session, person.shown)
            part = homework.given_to(homework.numbered(session, number), student)
            new = homework.hand_in(session, part, [[answer], None], way="code", made=DAY)[1]
        assert new == (answer not in self.given[number - 1][person])
        self.given[number - 1][person].add(answer)

    @precondition(lambda self: self.people)
    @rule(picks=st.tuples(PICK, PICK, PICK))
    def teach(self, picks: tuple[int, int, int]) -> None:
        """A lesson, and who was there."""
        there = self.some(picks)
        with self.store.writing() as session:
            group = people.group_named(session, "Monday")
            lesson = tables.Lesson(group_id=group.id, held=DAY, theme=f"Lesson {len(self.lessons)}")
            session.add(lesson)
            session.flush()
            students = [people.student_named(session, one.shown) for one in there]
            attendance.note(session, lesson, students)
        self.lessons.append(there)

    @precondition(lambda self: self.people)
    @rule(pick=PICK, name=PICK)
    def erase(self, pick: int, name: int) -> None:
        """A student is erased, by any of the names."""
        (person,) = self.some((pick,))
        erase_student(self.store, person.names[name % len(person.names)])
        person.erased = True
        self.people.remove(person)
        self.erased.append(person)
        for game in self.games:
            if person in game.players:
                own = game.players.index(person)
                game.said = {ply for ply in game.said if (ply - 1) % 2 != own}
        self.games = [one for one in self.games if not all(who.erased for who in one.players)]
        for given in self.given:
            given.pop(person, None)
        for there in self.lessons:
            there.discard(person)

    @rule()
    def there_and_back(self) -> None:
        """An export brought into an empty store gives the same store."""
        record = self.exported(self.store, "out.zip")
        other = open_store(self.path / "other.sqlite")
        bring_back(other, self.path / "out.zip")
        assert count(other) == count(self.store)
        assert self.exported(other, "back.zip") == record
        assert check(other) == []
        other.close()
        for file in self.path.glob("o*"):
            file.unlink()

    def exported(self, store: Store, name: str) -> Any:
        """What an export tells."""
        to = self.path / name
        export(store, to)
        with zipfile.ZipFile(to) as archive:
            record = json.loads(archive.read("record.json"))
        if name != "out.zip":
            to.unlink()
        return record

    @invariant()
    def it_holds_what_the_account_says(self) -> None:
        """As many rows as there should be in every table, and nothing wrong in any."""
        wanted = {
            "student": len(self.people),
            "game": len(self.games),
            "seat": sum(not who.erased for one in self.games for who in one.players),
            "correction": sum(len(one.said) for one in self.games),
            "exercise": len(self.exercises),
            "attempt": sum(one.tries for one in self.people),
            "homework": len(self.given),
            "homework_student": sum(map(len, self.given)),
            "hand_in": sum(len(kept) for given in self.given for kept in given.values()),
            "lesson": len(self.lessons),
            "attendance": sum(map(len, self.lessons)),
        }
        held = count(self.store)
        assert {table: held[table] for table in wanted} == wanted
        assert check(self.store) == []

    @invariant()
    def nothing_is_left_of_the_erased(self) -> None:
        """Not in the file, nor in its log."""
        data = b"".join(file.read_bytes() for file in self.path.glob("store.sqlite*"))
        assert not [one.family for one in self.erased if one.family.encode() in data]

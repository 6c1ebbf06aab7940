"""`fastness student` and `fastness group`: who is taught."""

from __future__ import annotations

import datetime
import sys
from typing import Annotated

import cyclopts
from cyclopts import Parameter

from fastness.cli.places import StorePlace, opened
from fastness.errors import InputError
from fastness.store import erasure, students
from fastness.store.tables import Lesson

student = cyclopts.App(name="student", help="Keep the students and the names they go by.")
group = cyclopts.App(name="group", help="Keep the groups and their lessons.")


@student.command(name="add")
def add_student(name: str, *, group: str | None = None, store: StorePlace = None) -> None:
    """Add a student.

    Args:
        name: as you write it; games may write it otherwise.
        group: a group that is there.
        store: the store's file or URL.
    """
    with opened(store) as place, place.writing() as session:
        where = students.group_named(session, group) if group else None
        added = students.add_student(session, name, where)
        print(f"Added {added.name}.")


@student.command(name="list")
def list_students(*, group: str | None = None, store: StorePlace = None) -> None:
    """List the students, with their groups, other names and games.

    Args:
        group: only those of this group.
        store: the store's file or URL.
    """
    with opened(store) as place, place.reading() as session:
        where = students.group_named(session, group) if group else None
        found = students.students(session, where)
        for one in found:
            others = sorted({alias.name for alias in one.aliases} - {one.name})
            parts = [one.name, one.group.name if one.group else "no group"]
            parts.append(f"{len(one.seats)} games")
            parts += [f"also {'; '.join(others)}"] if others else []
            print(", ".join(parts))
        if not found:
            print('No students yet. Bring in games: fastness import GAMES.pgn --add --group "NAME"')


@student.command(name="alias")
def add_alias(name: str, other: str, *, store: StorePlace = None) -> None:
    """Let another name in games mean a student.

    Args:
        name: the student.
        other: the name as games write it.
        store: the store's file or URL.
    """
    with opened(store) as place, place.writing() as session:
        found = students.student_named(session, name)
        students.add_alias(session, found, other)
        print(f'"{other}" is {found.name}.')


@student.command(name="move")
def move_student(name: str, group: str, *, store: StorePlace = None) -> None:
    """Put a student into another group.

    Args:
        name: the student.
        group: a group that is there.
        store: the store's file or URL.
    """
    with opened(store) as place, place.writing() as session:
        found = students.student_named(session, name)
        found.group = students.group_named(session, group)
        print(f"{found.name} is in {found.group.name}.")


@student.command(name="erase")
def erase_student(
    name: str,
    *,
    yes: Annotated[bool, Parameter(negative=())] = False,
    store: StorePlace = None,
) -> None:
    """Erase a student: the name, the games and everything found in them.

    Games against another student stay, without the name. This cannot be undone. If it was
    interrupted, or another program was reading, the same command finishes it.

    Args:
        name: the student.
        yes: do it without asking.
        store: the store's file or URL.
    """
    with opened(store) as place:
        if not yes:
            if not sys.stdin.isatty():
                raise InputError("erasing cannot be undone; say --yes to do it")
            if input(f'Erase "{name}" for good? [y/n] ').strip().casefold() != "y":
                print("Nothing was erased.")
                return
        erased = erasure.erase_student(place, name)
        for sentence in erased.told:
            print(sentence)
        print(f"Erased {erased.name}. Backups and exports made elsewhere still hold the name.")


@group.command(name="add")
def add_group(name: str, *, club: str = "", store: StorePlace = None) -> None:
    """Add a group.

    Args:
        name: the group.
        club: the club it belongs to.
        store: the store's file or URL.
    """
    with opened(store) as place, place.writing() as session:
        print(f"Added {students.add_group(session, name, club).name}.")


@group.command(name="list")
def list_groups(*, store: StorePlace = None) -> None:
    """List the groups.

    Args:
        store: the store's file or URL.
    """
    with opened(store) as place, place.reading() as session:
        for one in students.groups(session):
            club = f", {one.club}" if one.club else ""
            print(f"{one.name}{club}: {len(one.students)} students")


@group.command(name="lesson")
def add_lesson(
    group: str, theme: str, *, date: datetime.date | None = None, store: StorePlace = None
) -> None:
    """Note that a group was taught something.

    Args:
        group: the group.
        theme: what it was about.
        date: the day, today if not given.
        store: the store's file or URL.
    """
    with opened(store) as place, place.writing() as session:
        found = students.group_named(session, group)
        held = date or datetime.date.today()
        session.add(Lesson(group_id=found.id, held=held, theme=theme))
        print(f"{found.name}: {theme}, {held}.")


group.command(
    "fastness.cli.attending:attended",
    name="attended",
    help="Note who was there at a lesson.",
)
group.command(
    "fastness.cli.attending:lessons",
    name="lessons",
    help="List the lessons of a group, and who was away.",
)
group.command(
    "fastness.cli.catching_up:catch_up",
    name="catch-up",
    help="Make a sheet of a lesson for those who were absent.",
)

"""Looking over files of games before they are brought in: how many, and who is in them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from fastness.errors import InputError
from fastness.intake import Problem
from fastness.store import Store
from fastness.store.erased import is_nobody
from fastness.store.students import (
    add_alias,
    add_group,
    add_student,
    find_student,
    groups,
    near,
    student_named,
    students,
)
from fastness.workflows.importing import SIDES, is_name
from fastness.workflows.sifting import read_in_turn

PROBLEMS = 50
"""Problems that are told; of the others only the number."""

Meant = Literal["new", "nobody"] | tuple[Literal["student"], str]


@dataclass(frozen=True, slots=True)
class NameFound:
    """A name in the games: in how many, the student it is known to mean, and who it may mean."""

    name: str
    games: int
    student: str | None
    alike: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LookedOver:
    """What is in the files. `nameless` games do not say who played. `problems` are sentences."""

    games: int
    nameless: int
    names: tuple[NameFound, ...]
    problems: tuple[str, ...]
    more_problems: int


def look_over(
    store: Store,
    paths: Iterable[Path],
    *,
    most: int,
    on_progress: Callable[[int, int], None] | None = None,
) -> LookedOver:
    """Read the games of PGN files and say who is in them; names most often met come first.

    `on_progress` is told the bytes read and the games found so far. Raises InputError where there
    are more than `most` games.
    """
    counted: Counter[str] = Counter()
    problems: list[str] = []
    games = nameless = read = 0

    def note(so_far: int) -> None:
        nonlocal read
        read = so_far

    for item in read_in_turn(paths, note):
        if isinstance(item, Problem):
            problems.append(item.message)
            continue
        games += 1
        if games > most:
            raise InputError(f"There are more than {most} games; bring in fewer at a time.")
        names = {item.tags.get(tag, "?") for _, tag in SIDES}
        known = [name for name in names if is_name(name) and not is_nobody(name)]
        counted.update(known)
        nameless += not known
        if on_progress is not None:
            on_progress(read, games)
    found = _found(store, counted)
    return LookedOver(
        games, nameless, found, tuple(problems[:PROBLEMS]), max(0, len(problems) - PROBLEMS)
    )


def _found(store: Store, counted: Counter[str]) -> tuple[NameFound, ...]:
    with store.reading() as session:
        every = [one.name for one in students(session)]
        found = []
        for name, games in counted.items():
            student = find_student(session, name)
            alike = () if student else tuple(near(name, every))
            found.append(NameFound(name, games, student.name if student else None, alike))
    return tuple(sorted(found, key=lambda one: (-one.games, one.name)))


def settle_names(store: Store, meant: Mapping[str, Meant], group: str | None = None) -> list[str]:
    """Keep what names in games mean: a student, a new one of `group`, or nobody; who is new.

    A group that is not there yet is made. Raises StudentError where a student is not there, or a
    name means another one already.
    """
    new = []
    with store.writing() as session:
        where = None
        if group is not None:
            same = [one for one in groups(session) if one.name.casefold() == group.casefold()]
            where = same[0] if same else add_group(session, group)
        for name, who in meant.items():
            if isinstance(who, tuple):
                add_alias(session, student_named(session, who[1]), name)
            elif who == "new" and find_student(session, name) is None:
                new.append(add_student(session, name, where).name)
    return new

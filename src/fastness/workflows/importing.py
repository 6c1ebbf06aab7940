"""Bringing games into the store: whose they are, what is new, and what is found in them."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Callable, Generator, Iterable, Mapping, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy.orm import Session

from fastness.core.shapes import Side
from fastness.intake import Game, Problem
from fastness.sift import SIFT_VERSION
from fastness.store import Store
from fastness.store.erased import is_nobody, unnamed
from fastness.store.games import add_game, complete, find_game, is_sifted, knows_more, overlong
from fastness.store.students import (
    add_alias,
    add_group,
    add_student,
    find_student,
    group_named,
    groups,
    near,
    students,
)
from fastness.store.tables import Group, Student
from fastness.workflows.sifting import (
    Colours,
    Sifted,
    SiftSettings,
    read_in_turn,
    sift_game,
)

AHEAD = 4
"""Games read ahead of the one that is waited for, for each thread."""
SIDES: tuple[tuple[Side, str], ...] = (("white", "White"), ("black", "Black"))

Ask = Callable[[str, Sequence[str]], str | None]
"""Asked for a name that may be one of some students': which of these, or None."""


@dataclass(frozen=True, slots=True)
class BroughtIn:
    """A game of some student's: whether it was new, or done before as it is asked for now."""

    game: Game
    students: tuple[str, ...]
    new: bool
    done_before: bool
    occasions: int
    completed: bool = False
    """Whether it was there, and this copy knew something besides: clocks, ratings, a date."""


@dataclass(frozen=True, slots=True)
class NobodysGame:
    """A game in which no student played, by the names in it, if there are any."""

    game: Game

    @property
    def nameless(self) -> bool:
        """Whether the game does not say who played it."""
        return not any(is_name(self.game.tags.get(tag, "")) for _, tag in SIDES)


Event = BroughtIn | NobodysGame | Problem


def is_name(tag: str) -> bool:
    """Whether a player's tag tells a name; one not known is empty or "?" (PGN standard, 8.1.1)."""
    return bool(tag.strip(" ?"))


class WhoIsWho:
    """Which student a name in the games means; what was answered once is not asked again."""

    def __init__(
        self, store: Store, ask: Ask, group: str | None, *, add: bool, dry_run: bool
    ) -> None:
        """Take names from `store`; with `add` a name that is nobody's is a new student's.

        A dry run changes nothing: who would be new is only counted.
        """
        self.store, self.ask, self.add, self.dry_run = store, ask, add, dry_run
        self.known: dict[str, str | None] = {}
        self.new: list[str] = []
        self.strangers: dict[str, int] = {}
        self.group = group
        with store.reading() as session:
            if group is not None and not add:
                group_named(session, group)

    def students_of(self, game: Game) -> dict[Side, str]:
        """The students' names by the side they play."""
        found: dict[Side, str] = {}
        for side, tag in SIDES:
            name = game.tags.get(tag, "?")
            student = self._student(name)
            if student is not None:
                found[side] = student
            elif is_name(name) and not is_nobody(name):
                self.strangers[name] = self.strangers.get(name, 0) + 1
        return found

    def _student(self, name: str) -> str | None:
        if not is_name(name) or is_nobody(name):
            return None
        if name not in self.known:
            self.known[name] = self._find(name)
        return self.known[name]

    def _find(self, name: str) -> str | None:
        with self.store.reading() as session:
            student = find_student(session, name)
            names = [one.name for one in students(session)]
        if student is not None:
            return student.name
        alike = near(name, [*names, *self.new])
        meant = self.ask(name, alike) if alike else None
        if meant is not None:
            self._alias(meant, name)
            return meant
        return self._new(name) if self.add else None

    def _alias(self, student: str, name: str) -> None:
        if self.dry_run:
            return
        with self.store.writing() as session:
            found = find_student(session, student)
            if found is not None:
                add_alias(session, found, name)

    def _new(self, name: str) -> str:
        self.new.append(name)
        if not self.dry_run:
            with self.store.writing() as session:
                if find_student(session, name) is None:
                    add_student(session, name, self._group(session))
        return name

    def _group(self, session: Session) -> Group | None:
        if self.group is None:
            return None
        named = [one for one in groups(session) if one.name.casefold() == self.group.casefold()]
        return named[0] if named else add_group(session, self.group)


def bring_in(
    store: Store,
    paths: Iterable[str | Path],
    who: WhoIsWho,
    settings: SiftSettings,
    *,
    threads: int = 0,
    on_progress: Callable[[int], None] | None = None,
) -> Generator[Event, None, None]:
    """The games of PGN files in order, each kept in the store as soon as it has been gone through.

    What is there already with the same settings is passed over, so that an import that was
    stopped goes on where it was. Each game is a transaction of its own. A problem comes before
    the game it is about. `on_progress` is told the bytes read so far of all files together.

    Raises:
        OptionError: the reach or the table of values does not exist.
        StoreError: the store cannot be read or written; games brought in before stay.
    """
    settings.check()
    size = threads or os.cpu_count() or 1
    pool = ThreadPoolExecutor(size, thread_name_prefix="import")
    waiting: deque[Event | tuple[Game, dict[Side, str], Future[Sifted | Problem]]] = deque()
    try:
        for item in read_in_turn(paths, on_progress):
            faults = _faults(item)
            waiting.extend(faults or [_begin(store, item, who, settings, pool)])
            while waiting and (len(waiting) > AHEAD * size or _is_done(waiting[0])):
                yield _finish(store, waiting.popleft(), settings)
        while waiting:
            yield _finish(store, waiting.popleft(), settings)
    finally:
        pool.shutdown(wait=False, cancel_futures=True)


def _faults(item: Game | Problem) -> list[Problem]:
    """What of a game the store cannot take, a problem each; the other games go on."""
    if isinstance(item, Problem):
        return []
    where = f"{item.file}, game {item.number}, line {item.line}"
    return [
        Problem(item.file, item.number, item.line, f"{where}: {fault}.", "error")
        for fault in overlong(item)
    ]


def _begin(
    store: Store,
    item: Game | Problem,
    who: WhoIsWho,
    settings: SiftSettings,
    pool: ThreadPoolExecutor,
) -> Event | tuple[Game, dict[Side, str], Future[Sifted | Problem]]:
    if isinstance(item, Problem):
        return item
    with store.reading() as session:
        item = unnamed(session, item)
    players = who.students_of(item)
    if not players:
        return NobodysGame(item)
    with store.reading() as session:
        stored = find_game(session, item)
        known = stored is not None and is_sifted(stored, players, settings_in_words(settings))
        more = stored is not None and knows_more(stored, item)
    if known and more and not who.dry_run:
        with store.writing() as session:
            complete(session, item)
    if known:
        return BroughtIn(item, tuple(players.values()), False, not more, 0, more)
    if who.dry_run:
        return BroughtIn(item, tuple(players.values()), stored is None, False, 0)
    colours: Colours = "both" if len(players) == 2 else next(iter(players))
    return item, players, pool.submit(sift_game, item, colours, settings)


def settings_in_words(settings: SiftSettings) -> str:
    """How a game was gone through, as it is kept beside what was found."""
    offers = "offers" if settings.offer_nodes else "no offers"
    return f"reach {settings.reach}, {settings.values}, {offers}, sift {SIFT_VERSION}"


def _is_done(item: Event | tuple[Game, dict[Side, str], Future[Sifted | Problem]]) -> bool:
    return not isinstance(item, tuple) or item[2].done()


def _finish(
    store: Store,
    item: Event | tuple[Game, dict[Side, str], Future[Sifted | Problem]],
    settings: SiftSettings,
) -> Event:
    if not isinstance(item, tuple):
        return item
    game, names, future = item
    sifted = future.result()
    if isinstance(sifted, Problem):
        return sifted
    with store.writing() as session:
        found = {side: find_student(session, name) for side, name in names.items()}
        players: Mapping[Side, Student] = {
            side: student for side, student in found.items() if student is not None
        }
        words = settings_in_words(settings)
        new = add_game(session, game, players, sifted.occasions, words)
    return BroughtIn(game, tuple(names.values()), new, False, len(sifted.occasions))

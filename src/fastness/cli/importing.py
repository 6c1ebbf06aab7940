"""`fastness import`: bring games into the store."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from contextlib import closing
from typing import Annotated, NoReturn

from cyclopts import Parameter

from fastness import core
from fastness.cli.bar import Bar
from fastness.cli.places import StorePlace, opened
from fastness.errors import InputError
from fastness.intake import Problem
from fastness.language import ENGLISH, Language
from fastness.sift import counted
from fastness.workflows.importing import BroughtIn, NobodysGame, WhoIsWho, bring_in
from fastness.workflows.sifting import SiftSettings

INTERRUPTED = 130


def import_(
    *file: str,
    group: str | None = None,
    add: Annotated[bool, Parameter(negative=())] = False,
    yes: Annotated[bool, Parameter(negative=())] = False,
    dry_run: Annotated[bool, Parameter(negative=())] = False,
    reach: int = 3,
    values: str = "classical",
    offers: bool = True,
    store: StorePlace = None,
) -> int:
    """Bring games into the store and go through them for the students who played.

    A game that is there already is passed over, so that a stopped import can be begun again. A
    name that may be a student's, but is written otherwise, is asked about.

    Args:
        file: PGN files, plain, .gz or .zst.
        group: the group of students who are new.
        add: make a student of every name that is nobody's yet.
        yes: take a name that is like a student's for that student, without asking.
        dry_run: only say what would be done.
        reach: how many of the opponent's moves to look ahead, 1 to 5.
        values: a table of values: classical, turing, kaufman or berliner.
        offers: tell sacrifices and gambits from faults, which takes longer.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    if not file:
        raise InputError("No file given. Give one PGN file or more.")
    settings = SiftSettings(reach, values, core.OFFER_NODES if offers else 0)
    with opened(store) as place, Bar(file, shown=sys.stderr.isatty()) as bar:
        asked = Asker(bar, yes=yes)
        who = WhoIsWho(place, asked, group, add=add, dry_run=dry_run)
        tally = _Tally(bar, dry_run=dry_run)
        try:
            with closing(bring_in(place, file, who, settings, on_progress=bar.advance)) as events:
                for event in events:
                    tally.take(event)
        except KeyboardInterrupt:
            bar.close()
            tally.tell(who, stopped=True)
            _leave()
        bar.close()
        tally.tell(who)
    return tally.status


class Asker:
    """Asks at a terminal which student a name means; elsewhere it leaves the name alone."""

    def __init__(self, bar: Bar, language: Language = ENGLISH, *, yes: bool) -> None:
        self.bar, self.yes, self.language = bar, yes, language
        self.left: dict[str, Sequence[str]] = {}

    def __call__(self, name: str, alike: Sequence[str]) -> str | None:
        """The student of those alike that a name means; None where nobody decides."""
        say = self.language.say
        if self.yes:
            self.bar.say(say('"{name}" is taken for {student}', name=name, student=alike[0]))
            return alike[0]
        if not sys.stdin.isatty():
            self.bar.say(
                say(
                    '"{name}" may be {students}; nothing was decided. Say --yes, or:'
                    ' fastness student alias "{student}" "{name}"',
                    name=name,
                    students=say(" or ").join(alike),
                    student=alike[0],
                )
            )
            return None
        self.bar.close()
        for student in alike:
            asked = say('Is "{name}" the student "{student}"? [y/n] ', name=name, student=student)
            yes = asked[asked.rindex("[") + 1]
            if input(asked).strip().casefold().startswith(yes):
                return student
        return None


class _Tally:
    """What was done, counted."""

    def __init__(self, bar: Bar, *, dry_run: bool) -> None:
        self.bar, self.dry_run = bar, dry_run
        self.new = self.again = self.before = self.occasions = 0
        self.nobodys = self.nameless = 0
        self.completed = 0
        self.status = 0

    def take(self, event: BroughtIn | NobodysGame | Problem) -> None:
        if isinstance(event, Problem):
            self.status = 2 if event.kind == "error" else self.status
            self.bar.say(event.message)
        elif isinstance(event, NobodysGame):
            self.nobodys += 1
            self.nameless += event.nameless
        else:
            self.new += event.new
            self.before += event.done_before
            self.completed += event.completed
            self.again += not (event.new or event.done_before or event.completed)
            self.occasions += event.occasions

    def tell(self, who: WhoIsWho, *, stopped: bool = False) -> None:
        if stopped:
            print("Stopped. What was brought in before stays; the same command goes on.")
        would = "would be brought in" if self.dry_run else "brought in"
        print(f"{counted(self.new, 'new game')} {would}, {self.before} there already.")
        if self.completed:
            completed = "would be completed" if self.dry_run else "completed"
            print(f"{counted(self.completed, 'game')} {completed} by another copy.")
        if self.again:
            print(f"{counted(self.again, 'game')} gone through again, with other settings.")
        if self.occasions:
            print(f"{counted(self.occasions, 'place')} to look at.")
        if who.new:
            print(f"New students: {'; '.join(sorted(who.new))}")
        if self.nobodys:
            print(f"{counted(self.nobodys, 'game')} of no student's, passed over.")
        if self.nameless:
            print(f"Without a player's name, and so not kept: {counted(self.nameless, 'game')}.")
            print("To look at them all the same: fastness sift FILE")
        if self.nobodys and who.strangers:
            names = sorted(who.strangers, key=lambda name: (-who.strangers[name], name))[:10]
            print(f"Names in these: {'; '.join(names)}")
            print('To make students of them say --add, or: fastness student add "NAME"')


def _leave() -> NoReturn:
    """Leave at once: a usual exit would wait for the games that are still being looked at."""
    sys.stdout.flush()
    os._exit(INTERRUPTED)

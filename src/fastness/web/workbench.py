"""What one running workbench holds: the store, the jobs, what was uploaded, who is the teacher."""

from __future__ import annotations

import contextlib
import shutil
import tempfile
import threading
from collections import OrderedDict
from collections.abc import Iterator
from functools import cached_property
from pathlib import Path

from fastapi import Request

from fastness.classroom import keeping
from fastness.classroom.with_lesson import keep_with_lesson
from fastness.errors import BusyError, MissingError, StoreError
from fastness.store import Store, default_place, open_store
from fastness.web.access import Access
from fastness.web.class_desk import ClassDesk, Classes
from fastness.web.jobs import Jobs
from fastness.web.own_folder import own_folder
from fastness.web.pace import Pace
from fastness.web.settings import Settings
from fastness.web.surveyor import Surveyor
from fastness.workflows.lesson_folder import LESSONS, LessonFolder
from fastness.workflows.week_desk import WeekDesk

ACCESS = "access.json"
"""The file of the password, in the workbench's own folder."""


class Weeks:
    """The weeks that are worked on or were written last, kept while the workbench runs."""

    def __init__(self, most: int = 10) -> None:
        """Keep so many."""
        self._most = most
        self._desks: OrderedDict[str, WeekDesk] = OrderedDict()

    def add(self, number: str, desk: WeekDesk) -> None:
        """Keep one more; the oldest goes."""
        self._desks[number] = desk
        while len(self._desks) > self._most:
            self._desks.popitem(last=False)

    def get(self, number: str) -> WeekDesk:
        """The week of this number. Raises MissingError where there is none."""
        desk = self._desks.get(number)
        if desk is None:
            raise MissingError("This week is no longer there; begin it again.")
        return desk

    def all(self) -> list[tuple[str, WeekDesk]]:
        """All of them, the last begun first."""
        return list(reversed(self._desks.items()))


class Workbench:
    """Made with the application; nothing is opened before it is asked for."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        self.surveyor = Surveyor()
        self.jobs = Jobs()
        self.pace = Pace()
        """Requests, where the workbench is shared."""
        self.tries = Pace(a_second=1 / 12, at_once=8)
        """Tries at the password: eight at once, then one in twelve seconds."""
        self.weeks = Weeks()
        self.in_demo = False
        """Whether the invented club is worked with, and not the teacher's own store."""
        self._lock = threading.RLock()
        self._stores: dict[str, Store] = {}

    @property
    def place(self) -> str:
        """Where the teacher's own store is."""
        return self.settings.store or default_place()

    @property
    def own(self) -> Path:
        """The folder of what is this workbench's own."""
        return own_folder(self.settings.store, self.settings.port)

    @property
    def demo_place(self) -> Path:
        """Where the invented club's store is."""
        return self.own / "demo.sqlite"

    @property
    def store(self) -> Store:
        """The store that is worked with, opened when it is first asked for."""
        return self.store_at(str(self.demo_place) if self.in_demo else self.place)

    def store_at(self, place: str) -> Store:
        """A store, opened once."""
        with self._lock:
            if place not in self._stores:
                self._stores[place] = open_store(place)
            return self._stores[place]

    def let_go(self, place: str) -> None:
        """Close a store, so that its file can be replaced; it is opened anew when asked for."""
        with self._lock:
            store = self._stores.pop(place, None)
            if store is not None:
                store.close()

    @contextlib.contextmanager
    def replacing(self) -> Iterator[Path]:
        """The file of the store while it is closed, to put another in its place.

        Raises StoreError where the store is on a server, or the demo is worked with; BusyError
        while a job is not over.
        """
        if self.in_demo or "://" in self.place:
            raise StoreError("only a teacher's own store in a file is replaced by a backup")
        self.at_rest()
        with self._lock:
            self.let_go(self.place)
            self.weeks = Weeks()
            yield Path(self.place)

    def enter_demo(self) -> None:
        """Work with the invented club's store."""
        self.in_demo, self.weeks = True, Weeks()

    def leave_demo(self) -> None:
        """Work with the teacher's own store again, and remove the invented club's.

        Raises BusyError while a job is not over.
        """
        self.at_rest()
        if self.in_demo:
            shutil.rmtree(self.lessons.place, ignore_errors=True)
        self.in_demo = False
        self.weeks = Weeks()
        if "classes" in self.__dict__:
            self.classes.end_demo()
        self.let_go(str(self.demo_place))
        for ending in ("", "-wal", "-shm"):
            self.demo_place.with_name(self.demo_place.name + ending).unlink(missing_ok=True)

    def at_rest(self) -> None:
        """Raise BusyError while a job is not over."""
        if any(not job.is_over for job in self.jobs.all()):
            raise BusyError("something is still being worked on; stop it, or wait for it")

    @cached_property
    def access(self) -> Access:
        """The password and what is signed."""
        return Access(self.own / ACCESS)

    @cached_property
    def classes(self) -> Classes:
        """The class boards, kept in a file. Raises StoreError if they cannot be read."""

        def with_lesson(desk: ClassDesk) -> None:
            store = str(self.demo_place) if desk.of_demo else self.place
            keep_with_lesson(self.store_at(store), desk.session)

        return Classes(self.surveyor, self.own / keeping.NAME, with_lesson)

    @property
    def lessons(self) -> LessonFolder:
        """The lessons, as files beside the store; those of the invented club by themselves."""
        if self.in_demo:
            return LessonFolder(self.own / "lessons of the demo")
        # Several workbenches of one teacher have them in common: each sees what another changed.
        return LessonFolder(own_folder(self.settings.store) / LESSONS)

    def withdraw_links(self) -> None:
        """Let no link given out be good any more. Raises StoreError if that cannot be kept."""
        self.access.withdraw()
        if "classes" in self.__dict__:
            self.classes.look_again()

    @cached_property
    def folder(self) -> Path:
        """A folder for what was uploaded, which goes when the workbench is closed."""
        return Path(tempfile.mkdtemp(prefix="fastness-"))

    def close(self) -> None:
        """Stop what is being worked on, and let go of everything."""
        self.jobs.close()
        self.surveyor.close()
        for place in list(self._stores):
            self.let_go(place)
        if "folder" in self.__dict__:
            shutil.rmtree(self.folder, ignore_errors=True)


def workbench_of(request: Request) -> Workbench:
    """The workbench that a request is made to."""
    bench: Workbench = request.app.state.workbench
    return bench

"""What one running workbench holds: the store, the jobs, what was uploaded, who is the teacher."""

from __future__ import annotations

import shutil
import tempfile
import threading
from functools import cached_property
from pathlib import Path

import platformdirs
from fastapi import Request
from starlette.exceptions import HTTPException

from fastness.store import Store, default_place, open_store
from fastness.web.access import Access
from fastness.web.jobs import Jobs
from fastness.web.pace import Pace
from fastness.web.settings import Settings
from fastness.web.surveyor import Surveyor


class Workbench:
    """Made with the application; nothing is opened before it is asked for."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        self.surveyor = Surveyor()
        self.jobs = Jobs()
        self.tries = Pace(a_second=1 / 12, at_once=8)
        """Tries at the password: eight at once, then one in twelve seconds."""
        self._lock = threading.RLock()
        self._store: Store | None = None

    @property
    def place(self) -> str:
        """Where the teacher's store is."""
        return self.settings.store or default_place()

    @property
    def store(self) -> Store:
        """The store that is worked with, opened when it is first asked for."""
        with self._lock:
            if self._store is None:
                self._store = open_store(self.place)
            return self._store

    @cached_property
    def access(self) -> Access:
        """The password and what is signed."""
        return Access(access_file(self.settings.store))

    @cached_property
    def folder(self) -> Path:
        """A folder for what was uploaded, which goes when the workbench is closed."""
        return Path(tempfile.mkdtemp(prefix="fastness-"))

    def close(self) -> None:
        """Stop what is being worked on, and let go of everything."""
        self.jobs.close()
        self.surveyor.close()
        with self._lock:
            if self._store is not None:
                self._store.close()
        if "folder" in self.__dict__:
            shutil.rmtree(self.folder, ignore_errors=True)


def access_file(store: str | None) -> Path:
    """Where the password is kept: beside the store if that is a file, else in the usual place."""
    place = store or default_place()
    if "://" in place:
        return platformdirs.user_data_path("fastness") / "access.json"
    return Path(place).with_name("access.json")


def workbench_of(request: Request) -> Workbench:
    """The workbench that a request is made to."""
    bench: Workbench = request.app.state.workbench
    return bench


def there(found: object, what: str) -> None:
    """Answer with 404 where there is no such thing."""
    if found is None:
        raise HTTPException(404, f"There is no such {what}.")

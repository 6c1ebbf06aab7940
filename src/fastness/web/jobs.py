"""Long work: begun by a route, done in threads, followed by events, and stopped when asked to.

The core works outside Python's lock, so that threads keep the cores busy and the event loop free.
A job is kept by the server, and so is there again when a page is loaded anew.
"""

from __future__ import annotations

import secrets
import threading
import time
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Literal

from pydantic import BaseModel, Field

from fastness.errors import BusyError, FastnessError
from fastness.web.results import Result
from fastness.web.topics import Topic

AT_ONCE = 2
"""Jobs that are worked on at once; others wait for their turn."""
KEPT = 50
"""Jobs that are over and still known."""
WAITING = 20
"""Jobs that may wait."""
SHOWN_EACH = 0.5
"""Seconds between two times that a job shows what came of it so far."""

State = Literal["waiting", "running", "done", "stopped", "failed"]
Stage = Literal["", "looking", "weighing"]
JobKind = Literal[
    "look over",
    "import",
    "sift",
    "mine",
    "twins",
    "compose",
    "propose",
    "week",
    "write",
    "draft",
    "demo",
    "erase",
]


class Progress(BaseModel):
    """How far a job is: `done` of `of`, 0 where that is not known; and what it has so far.

    `count` is of games, places or positions, as the kind of job has them. Of games that are not
    kept every move is looked at, and then each that fell is weighed; of exercises `done` and `of`
    are positions. `stage` says which of several steps it is at; empty where there is one.
    """

    done: int = 0
    of: int = 0
    count: int = 0
    stage: Stage = ""


class JobTold(BaseModel):
    """A job as a page shows it.

    `about` names what it works on, such as an upload or a week. `result` is there when it is done;
    kinds of work that give something early have what came of it so far, and keep it when they are
    stopped. `problem` says why it failed. `seconds` since it was begun.
    """

    id: str
    kind: JobKind
    title: str
    about: str
    state: State
    progress: Progress
    seconds: float
    problem: str | None = Field(None, examples=["the disk is full"])
    result: Result | None = None


class Stopped(Exception):  # noqa: N818  # an end, and no error of the program
    """A job was asked to stop."""


class Job:
    """A piece of long work. What works on it calls `tell` often: there it ends when asked to."""

    def __init__(self, kind: JobKind, title: str, about: str) -> None:
        self.id = secrets.token_urlsafe(9)
        self.kind, self.title, self.about = kind, title, about
        self.state: State = "waiting"
        self.progress = Progress()
        self.result: Result | None = None
        self.problem: str | None = None
        self.topic = Topic()
        self.begun = self._shown = time.monotonic()
        self.ended: float | None = None
        self._stop = threading.Event()
        self._lock = threading.Lock()

    @property
    def is_over(self) -> bool:
        """Whether nothing more will happen."""
        return self.ended is not None

    def tell(self, done: int = 0, of: int = 0, count: int = 0, stage: Stage = "") -> None:
        """Say how far it is. Raises Stopped where the job is to end."""
        self.check()
        self.progress = Progress(done=done, of=of, count=count, stage=stage)
        self.topic.changed()

    def show(self, result: Callable[[], Result]) -> None:
        """Show what came of it so far, unless something was shown a moment ago."""
        now = time.monotonic()
        if now - self._shown >= SHOWN_EACH:
            self._shown = now
            self.result = result()
            self.topic.changed()

    def check(self) -> None:
        """Raise Stopped where the job is to end."""
        if self._stop.is_set():
            raise Stopped

    def rest(self, seconds: float) -> None:
        """Wait, unless it is to end: then raise Stopped."""
        if self._stop.wait(seconds):
            raise Stopped

    def stop(self) -> None:
        """Let it end as soon as it can; at once where it waits."""
        with self._lock:
            self._stop.set()
            if self.state == "waiting":
                self._end("stopped")

    def _begin(self) -> bool:
        with self._lock:
            if self.is_over:
                return False
            self.state = "running"
        self.topic.changed()
        return True

    def _end(self, state: State, problem: str | None = None) -> None:
        self.state, self.problem, self.ended = state, problem, time.monotonic()
        self.topic.changed()

    def work(self, what: Callable[[Job], Result]) -> None:
        """Do the work, and keep what came of it."""
        if not self._begin():
            return
        try:
            self.result = what(self)
        except Stopped:
            self._end("stopped")
        except (FastnessError, OSError) as error:
            self._end("failed", str(error))
        except Exception:
            self._end("failed", "Something went wrong inside the program.")
            raise
        else:
            self._end("done")

    def told(self) -> JobTold:
        """The job as a page shows it."""
        return JobTold(
            id=self.id,
            kind=self.kind,
            title=self.title,
            about=self.about,
            state=self.state,
            progress=self.progress,
            seconds=round((self.ended or time.monotonic()) - self.begun, 1),
            problem=self.problem,
            result=self.result,
        )


class Jobs:
    """The jobs of one workbench."""

    def __init__(self) -> None:
        self._pool = ThreadPoolExecutor(AT_ONCE, thread_name_prefix="job")
        self._jobs: OrderedDict[str, Job] = OrderedDict()
        self._lock = threading.Lock()

    def begin(
        self, kind: JobKind, title: str, what: Callable[[Job], Result], about: str = ""
    ) -> Job:
        """Begin a job, or let it wait for its turn. Raises BusyError where too many wait."""
        with self._lock:
            if sum(not job.is_over for job in self._jobs.values()) >= WAITING:
                raise BusyError(f"{WAITING} jobs wait already; stop one, or wait for it")
            job = Job(kind, title, about)
            self._jobs[job.id] = job
            over = [one.id for one in self._jobs.values() if one.is_over]
            for old in over[: max(0, len(over) - KEPT)]:
                del self._jobs[old]
        self._pool.submit(job.work, what)
        return job

    def get(self, number: str) -> Job | None:
        """The job of this number."""
        return self._jobs.get(number)

    def all(self) -> list[Job]:
        """All jobs, the last begun first."""
        with self._lock:
            return list(reversed(self._jobs.values()))

    def close(self) -> None:
        """Stop all jobs."""
        for job in self.all():
            job.stop()
        self._pool.shutdown(wait=False, cancel_futures=True)

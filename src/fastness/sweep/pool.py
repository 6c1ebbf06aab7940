"""Batches worked on by processes of this machine; a process that is killed is replaced.

Each process has a pipe of its own, of which nobody else holds the other end. So it is noticed when
the process is killed, even in the middle of an answer, and known which batch it had.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator, Mapping
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait

from fastness.errors import SweepError
from fastness.sweep.batches import Batch

Tables = Mapping[str, bytes]
"""The tables of a batch, each as a Parquet file."""
Work = Callable[[Batch], Tables]
"""What makes the tables of a batch; it is handed to other processes."""
Done = Generator[tuple[Batch, Tables | None], None, None]

TRIES = 5
"""How often a batch is begun whose process ends under it, before it is left out."""
LEAVE = 10
"""Seconds in which a process that is let go must end by itself."""


@dataclass(frozen=True, slots=True)
class _Begun:
    batch: Batch
    tries: int


def in_processes(batches: Iterable[Batch], work: Work, processes: int) -> Done:
    """Each batch with its tables, as they are done, in so many processes.

    A process that ends by itself, or is killed, costs its own batch only, which is begun again;
    one that ends its process `TRIES` times has None for its tables. As many batches are held in
    memory as there are processes. Whoever closes the generator early ends the processes. What
    `work` raises is raised here.
    """
    pool = _Pool(iter(batches), work, processes)
    try:
        while pool.fill():
            yield from pool.done()
    finally:
        pool.close()


class _Worker:
    """A process, the pipe to it, and the batch that it is at work on."""

    def __init__(self, work: Work) -> None:
        spawning = multiprocessing.get_context("spawn")
        self.pipe, theirs = spawning.Pipe()
        self.begun: _Begun | None = None
        self.process = spawning.Process(target=_serve, args=(theirs, work), daemon=True)
        self.process.start()
        # The end of the process must be the end of the pipe.
        theirs.close()

    def end(self) -> None:
        """End the process, whatever it is doing."""
        self.pipe.close()
        if self.begun is not None:
            self.process.kill()
        self.process.join(LEAVE)
        if self.process.exitcode is None:
            self.process.kill()
            self.process.join()
        self.process.close()


class _Pool:
    """The processes, and the batches still to be begun."""

    def __init__(self, batches: Iterator[Batch], work: Work, processes: int) -> None:
        self.batches, self.work = batches, work
        self.workers = [_Worker(work) for _ in range(processes)]
        self.again: deque[_Begun] = deque()

    def fill(self) -> bool:
        """Give every idle process a batch; whether any is at work now."""
        for place, worker in enumerate(self.workers):
            if worker.begun is None and (begun := self._next()) is not None:
                self._begin(place, begun)
        return any(worker.begun is not None for worker in self.workers)

    def done(self) -> Iterator[tuple[Batch, Tables | None]]:
        """Wait for a batch or more, and give out those that are done or left out."""
        ready = wait([worker.pipe for worker in self.workers if worker.begun is not None])
        for place, worker in enumerate(self.workers):
            begun = worker.begun
            if begun is None or worker.pipe not in ready:
                continue
            try:
                answer: Tables | BaseException = worker.pipe.recv()
            except (EOFError, OSError):
                self._replace(place)
                if begun.tries < TRIES:
                    self.again.append(_Begun(begun.batch, begun.tries + 1))
                else:
                    yield begun.batch, None
                continue
            worker.begun = None
            if isinstance(answer, BaseException):
                raise answer
            yield begun.batch, answer

    def close(self) -> None:
        """Let the processes go; those at work are ended."""
        for worker in self.workers:
            worker.end()

    def _next(self) -> _Begun | None:
        """The next batch: those first that were begun before."""
        if self.again:
            return self.again.popleft()
        batch = next(self.batches, None)
        return None if batch is None else _Begun(batch, 1)

    def _begin(self, place: int, begun: _Begun) -> None:
        for _ in range(TRIES):
            try:
                self.workers[place].pipe.send(begun.batch)
            except OSError:
                # It was killed while it had nothing to do; that is no fault of this batch.
                self._replace(place)
            else:
                self.workers[place].begun = begun
                return
        raise SweepError("Processes end as soon as they are begun; there may be no memory left.")

    def _replace(self, place: int) -> None:
        self.workers[place].end()
        self.workers[place] = _Worker(self.work)


def _serve(pipe: Connection, work: Work) -> None:
    """What a process does: one batch after another, until the parent lets it go or is gone."""
    # Ctrl-C is for the parent, which ends its processes.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_the_parent, daemon=True).start()
    with contextlib.suppress(EOFError, OSError):
        while True:
            batch = pipe.recv()
            answer: Tables | BaseException
            try:
                answer = work(batch)
            except Exception as error:  # noqa: BLE001  # it is raised again in the parent
                answer = error
            pipe.send(answer)


def _end_with_the_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)

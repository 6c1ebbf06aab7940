"""Batches worked on by processes of this machine; a process that is killed is replaced."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator, Mapping
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass

from fastness.sweep.batches import Batch

Tables = Mapping[str, bytes]
"""The tables of a batch, each as a Parquet file."""
Work = Callable[[Batch], Tables]
"""What makes the tables of a batch; it is handed to other processes."""
Done = Generator[tuple[Batch, Tables | None], None, None]

TRIES = 5
"""How often a batch is begun again whose process ended under it, before it is left out."""


@dataclass(frozen=True, slots=True)
class _Begun:
    batch: Batch
    tries: int
    by: int


def in_processes(batches: Iterable[Batch], work: Work, processes: int) -> Done:
    """Each batch with its tables, as they are done, in so many processes.

    A process that ends by itself, or is killed, costs its own batch only, which is begun again;
    one that ends its process `TRIES` times has None for its tables. As many batches are held in
    memory as there are processes. Whoever closes the generator early ends the processes.
    """
    children = set(multiprocessing.active_children())
    pool = _Pool(iter(batches), work, processes)
    ended = False
    try:
        while pool.fill():
            yield from pool.done()
        ended = True
    finally:
        pool.close(wait=ended)
        if not ended:
            for child in set(multiprocessing.active_children()) - children:
                child.terminate()


class _Pool:
    """Processes, each with the batch it is at work on, and the batches still to be begun."""

    def __init__(self, batches: Iterator[Batch], work: Work, processes: int) -> None:
        self.batches, self.work = batches, work
        self.workers = [_worker() for _ in range(processes)]
        self.running: dict[Future[Tables], _Begun] = {}
        self.again: deque[_Begun] = deque()

    def fill(self) -> bool:
        """Give every idle process a batch; whether any is at work now."""
        busy = {one.by for one in self.running.values()}
        for by in set(range(len(self.workers))) - busy:
            if (begun := self._next(by)) is not None:
                self.running[self._begin(begun)] = begun
        return bool(self.running)

    def done(self) -> Iterator[tuple[Batch, Tables | None]]:
        """Wait for a batch or more, and give out those that are done or left out."""
        for future in wait(self.running, return_when=FIRST_COMPLETED).done:
            begun = self.running.pop(future)
            try:
                yield begun.batch, future.result()
            except BrokenProcessPool:
                self._replace(begun.by)
                if begun.tries < TRIES:
                    self.again.append(begun)
                else:
                    yield begun.batch, None

    def close(self, *, wait: bool) -> None:
        """Let the processes go."""
        for worker in self.workers:
            worker.shutdown(wait=wait, cancel_futures=True)

    def _next(self, by: int) -> _Begun | None:
        """The next batch for a process: those first that were begun before."""
        if self.again:
            before = self.again.popleft()
            return _Begun(before.batch, before.tries + 1, by)
        batch = next(self.batches, None)
        return None if batch is None else _Begun(batch, 1, by)

    def _begin(self, begun: _Begun) -> Future[Tables]:
        try:
            return self.workers[begun.by].submit(self.work, begun.batch)
        except BrokenProcessPool:
            # It was killed while it had nothing to do.
            self._replace(begun.by)
            return self.workers[begun.by].submit(self.work, begun.batch)

    def _replace(self, by: int) -> None:
        self.workers[by].shutdown(wait=False)
        self.workers[by] = _worker()


def _worker() -> ProcessPoolExecutor:
    """One process of its own, so that its end is no other one's."""
    return ProcessPoolExecutor(
        1, multiprocessing.get_context("spawn"), initializer=_follow_the_parent
    )


def _follow_the_parent() -> None:
    """Leave Ctrl-C to the parent, and end when it is gone, even where it was killed."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()

    def end() -> None:
        if parent is not None:
            parent.join()
            os._exit(1)

    threading.Thread(target=end, daemon=True).start()

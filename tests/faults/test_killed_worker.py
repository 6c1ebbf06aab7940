"""A process of a pool that is killed, as the system does for want of memory."""

from __future__ import annotations

import multiprocessing
import os
import signal
import time
from collections.abc import Iterator

import pytest

from fastness.errors import WorkerError
from fastness.exercises.exercise import Source
from fastness.workflows.twinning_many import Place, twins_of_many
from tests.exercises.test_twins import PINNED_KNIGHT, QUIET

SOURCE = Source("game", "Millrace Chess Club, game 4", 12)


def test_a_killed_worker_is_told_and_leaves_none_behind() -> None:
    before = set(multiprocessing.active_children())

    def places() -> Iterator[Place]:
        yield Place(QUIET, SOURCE)
        # The first was given to a worker when the second is asked for.
        until = time.monotonic() + 60
        while not (workers := set(multiprocessing.active_children()) - before):
            assert time.monotonic() < until
            time.sleep(0.01)
        for worker in workers:
            assert worker.pid is not None
            os.kill(worker.pid, signal.SIGKILL)
        yield Place(PINNED_KNIGHT, SOURCE)

    with pytest.raises(WorkerError, match=r"ended from outside.*goes on where it was"):
        list(twins_of_many(places(), seconds=600, processes=1))
    until = time.monotonic() + 60
    while set(multiprocessing.active_children()) - before:
        assert time.monotonic() < until
        time.sleep(0.01)

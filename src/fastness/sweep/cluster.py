"""Batches worked on by the workers of a Dask scheduler, on one machine or on many."""

from __future__ import annotations

import asyncio
import contextlib
import logging
from collections.abc import Iterable
from concurrent.futures import CancelledError
from itertools import islice
from typing import Any

from fastness.errors import OptionError, SweepError
from fastness.sweep.batches import Batch
from fastness.sweep.pool import Done, Tables, Work

PATIENCE = 30
"""Seconds in which a scheduler must answer, and have a worker."""
AHEAD = 2
"""Batches for each thread of the workers, so that none is idle."""
_LOOK_ROUND = 5
"""Seconds after which it is seen whether the scheduler is still there."""


def on_scheduler(
    batches: Iterable[Batch], work: Work, address: str, patience: float = PATIENCE
) -> Done:
    """Each batch with its tables, as they are done, by the workers of the scheduler there.

    Dask begins a batch again whose worker is lost; one that ends several has None for its tables.
    Workers may come and go. Raises OptionError where `distributed` is not installed, SweepError
    where the scheduler or all its workers are not there, or are lost.
    """
    try:
        import distributed
    except ImportError as error:
        raise OptionError(
            "--scheduler needs the package distributed; install fastness[cluster]."
        ) from error
    # What it has to say of a lost connection are pages of tracebacks.
    for name in ("distributed", "distributed.client", "distributed.utils", "tornado", "asyncio"):
        logging.getLogger(name).setLevel(logging.CRITICAL + 1)
    try:
        # It has no types there.
        make: Any = distributed.Client
        client = make(address, timeout=patience)
    except (OSError, ValueError, TimeoutError) as error:
        raise SweepError(
            f"No scheduler answers at {address}. Start one with: dask scheduler"
        ) from error
    try:
        yield from _worked(client, iter(batches), work, address, patience)
    finally:
        # A scheduler that is gone cannot be taken leave of.
        with contextlib.suppress(OSError, TimeoutError, CancelledError, asyncio.CancelledError):
            client.close(timeout=1)


def _worked(
    client: Any, batches: Iterable[Batch], work: Work, address: str, patience: float
) -> Done:
    import distributed

    wait: Any = distributed.wait
    try:
        client.wait_for_workers(1, timeout=patience)
    except TimeoutError as error:
        raise SweepError(
            f"The scheduler at {address} has no worker. Start one with: dask worker {address}"
        ) from error
    running: dict[Any, Batch] = {}
    rest = iter(batches)
    try:
        while True:
            room = AHEAD * max(1, sum(client.nthreads().values())) - len(running)
            for batch in islice(rest, max(0, room)):
                running[client.submit(work, batch, pure=False)] = batch
            if not running:
                return
            with contextlib.suppress(TimeoutError):
                wait(list(running), timeout=_LOOK_ROUND, return_when="FIRST_COMPLETED")
            if client.status != "running":
                raise _lost(address)
            for future in [one for one in running if one.done()]:
                yield running.pop(future), _tables(future)
    except (OSError, CancelledError, asyncio.CancelledError) as error:
        raise _lost(address) from error
    except ImportError as error:
        raise SweepError(f"A worker of {address} cannot work: {error}.") from error


def _tables(future: Any) -> Tables | None:
    from distributed import KilledWorker

    try:
        tables: Tables = future.result()
    except KilledWorker:
        return None
    return tables


def _lost(address: str) -> SweepError:
    return SweepError(
        f"The scheduler at {address} is lost. What is done is kept: start it again and give the"
        " same command once more."
    )

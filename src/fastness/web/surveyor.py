"""Surveys for the routes: worked out beside the event loop, and kept while they are asked for."""

from __future__ import annotations

import asyncio
import os
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import Future, ThreadPoolExecutor
from typing import Generic, TypeVar

A = TypeVar("A")

KEPT = 256
"""Answers kept."""
QUICK_REACH = 3
"""Up to this reach, and without ranks, an answer takes some hundredths of a second."""


class Kept(Generic[A]):
    """The answers asked for last; one that is being worked out is waited for, not made twice."""

    def __init__(self, most: int = KEPT) -> None:
        """Keep so many at most."""
        self._most = most
        self.made = 0
        """Answers that were worked out, and not kept ones."""
        self._answers: OrderedDict[Hashable, Future[A]] = OrderedDict()

    async def get(self, key: Hashable, pool: ThreadPoolExecutor, work: Callable[[], A]) -> A:
        """The answer kept under a key, or the one that `work` gives in the pool."""
        future = self._answers.get(key)
        if future is None:
            future = self._answers[key] = pool.submit(work)
            self.made += 1
            while len(self._answers) > self._most:
                self._answers.popitem(last=False)
        self._answers.move_to_end(key)
        try:
            # Who asked may go away; others may wait for the same answer.
            return await asyncio.shield(asyncio.wrap_future(future))
        except Exception:
            self._answers.pop(key, None)
            raise


class Surveyor:
    """The threads for surveys: quick ones are never behind those that take seconds."""

    def __init__(self) -> None:
        cores = os.cpu_count() or 1
        self.quick = ThreadPoolExecutor(cores, thread_name_prefix="quick")
        self.slow = ThreadPoolExecutor(max(1, cores - 1), thread_name_prefix="slow")
        self.answers: Kept[bytes] = Kept()

    def pool(self, *, reach: int, ranks: bool, firm: bool) -> ThreadPoolExecutor:
        """The threads for a survey of this depth."""
        quick = reach + firm <= QUICK_REACH and not ranks
        return self.quick if quick else self.slow

    def close(self) -> None:
        """Begin nothing more."""
        for pool in (self.quick, self.slow):
            pool.shutdown(wait=False, cancel_futures=True)

"""Something that changes and is followed: told to every browser by server-sent events.

Each event is the whole of what is so now, so that a browser that was away needs no more than the
next one (WHATWG HTML, 9.2).
"""

from __future__ import annotations

import asyncio
import threading
from collections.abc import AsyncIterator, Callable

from fastapi.responses import StreamingResponse

BEAT = 15
"""Seconds after which a line is sent in any case, so that a connection that is gone is noticed."""
AGAIN = 1000
"""Milliseconds after which a browser that lost the connection asks again."""


class Topic:
    """Wakes those who follow when something changed; `changed` may be called from any thread."""

    def __init__(self) -> None:
        self.version = 0
        self._lock = threading.Lock()
        self._followers: set[tuple[asyncio.AbstractEventLoop, asyncio.Event]] = set()

    def changed(self) -> None:
        """Something is not as it was."""
        with self._lock:
            self.version += 1
            for loop, event in self._followers:
                if not loop.is_closed():
                    loop.call_soon_threadsafe(event.set)

    async def versions(self) -> AsyncIterator[int | None]:
        """The version now and each time it changed; None where nothing did for `BEAT` seconds."""
        follower = asyncio.get_running_loop(), asyncio.Event()
        with self._lock:
            self._followers.add(follower)
        try:
            told: int | None = None
            while True:
                if told == self.version:
                    yield None
                else:
                    told = self.version
                    yield told
                try:
                    await asyncio.wait_for(follower[1].wait(), BEAT)
                except TimeoutError:
                    continue
                follower[1].clear()
        finally:
            with self._lock:
                self._followers.discard(follower)


def followed(
    topic: Topic, told: Callable[[], str], is_over: Callable[[], bool] = lambda: False
) -> StreamingResponse:
    """An answer that sends `told()`, a line of JSON, now and after every change until it is over.

    `told` is called in the event loop, and so must be quick.
    """

    async def events() -> AsyncIterator[str]:
        yield f"retry: {AGAIN}\n\n"
        async for version in topic.versions():
            if version is None:
                yield ": still here\n\n"
                continue
            over = is_over()
            yield f"id: {version}\ndata: {told()}\n\n"
            if over:
                return

    headers = {"x-accel-buffering": "no"}
    return StreamingResponse(events(), media_type="text/event-stream", headers=headers)

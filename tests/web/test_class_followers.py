"""Forty screens follow one class board, over connections of their own."""

from __future__ import annotations

import asyncio
import json
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

import httpx2
import pytest
import uvicorn

from fastness.web.application import create_app
from fastness.web.settings import Settings
from tests.classroom.boards import FEW
from tests.web.conftest import CHANGE

FOLLOWERS = 40
WITHIN = 1.0
"""Seconds in which every screen shows a change."""
CHANGES = 5


@contextmanager
def served(settings: Settings) -> Iterator[str]:
    """A workbench that listens at an address, until the block ends."""
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    app = create_app(settings)
    server = uvicorn.Server(
        uvicorn.Config(app, log_level="error", timeout_graceful_shutdown=1, ws="none")
    )
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{listening.getsockname()[1]}"
    finally:
        server.should_exit = True
        thread.join(30)
        listening.close()
    assert not thread.is_alive()


class Follower:
    """A screen that follows: what it sees, and when it saw that first."""

    def __init__(self) -> None:
        self.saw: dict[str, float] = {}
        self.begun = asyncio.Event()

    async def follow(self, client: httpx2.AsyncClient, path: str) -> None:
        async with client.stream("GET", path) as answer:
            assert answer.status_code == 200
            async for row in answer.aiter_lines():
                if not row.startswith("data: "):
                    continue
                seen = json.loads(row.removeprefix("data: "))
                self.saw.setdefault(f"{seen['side']} {seen['theme']}", time.monotonic())
                self.begun.set()
                if seen["over"]:
                    return


async def slowest(address: str) -> float:
    """Seconds from a change of the teacher's until the last of the followers has it."""
    limits = httpx2.Limits(max_connections=FOLLOWERS + 2)
    async with httpx2.AsyncClient(
        base_url=address, headers=CHANGE, limits=limits, timeout=60
    ) as client:
        here = (await client.post("/api/classes", json={"fen": FEW})).json()
        path = f"/api/classes/{here['told']['number']}"
        followers = [Follower() for _ in range(FOLLOWERS)]
        board = f"/api/shared/boards/{here['link']['word']}/events"
        following = [asyncio.create_task(one.follow(client, board)) for one in followers]
        await asyncio.gather(*(one.begun.wait() for one in followers))
        longest = 0.0
        for change in range(CHANGES):
            screen = {"turned": change % 2 == 0, "theme": ("dark", "light")[change // 2 % 2]}
            look = f"{'white' if screen['turned'] else 'black'} {screen['theme']}"
            for one in followers:
                one.saw.pop(look, None)
            begun = time.monotonic()
            assert (await client.put(f"{path}/screen", json=screen)).status_code == 200
            while not all(look in one.saw for one in followers):
                assert time.monotonic() - begun < 30, "some follower never saw the change"
                await asyncio.sleep(0.002)
            longest = max(longest, *(one.saw[look] - begun for one in followers))
        assert (await client.delete(path)).status_code == 204
        # The streams end with the board.
        await asyncio.wait_for(asyncio.gather(*following), 30)
    return longest


def test_forty_followers_see_a_change_within_a_second(
    settings: Settings, capsys: pytest.CaptureFixture[str]
) -> None:
    with served(settings) as address:
        # A machine that is busy with other tests may be slow once; the best of three counts.
        times = []
        for _ in range(3):
            times.append(asyncio.run(slowest(address)))
            if times[-1] < WITHIN:
                break
    with capsys.disabled():
        print(f"\n{FOLLOWERS} followers saw every change within {min(times):.3f} s")
    assert min(times) < WITHIN

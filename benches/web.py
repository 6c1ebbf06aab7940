"""Measure the workbench's answers beside the core's own time: `make bench`.

Usage: python -m benches.web [--clients N] [--answers N] [--reading SECONDS]

Each client asks for the survey of one position after another, no two the same, and reads each for
some seconds; then all of them ask again at once for what is kept. Milliseconds, as the clients see
them, beside what the core alone takes for these positions on one core.
"""

from __future__ import annotations

import argparse
import http.client
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from urllib.parse import urlencode

from benches import material
from fastness import core

REACH = 3
TARGET = 0.1
"""Seconds, at the 95th percentile with ten clients."""
READING = 2.0
"""Seconds from one question of a client to its next."""
STARTING = 60
"""Seconds that the workbench may take to start."""


def free_port() -> int:
    """A port that nobody listens at."""
    with socket.socket() as tried:
        tried.bind(("127.0.0.1", 0))
        port: int = tried.getsockname()[1]
        return port


def ask(port: int, fen: str) -> float:
    """Seconds until the whole answer is there, over a connection of its own."""
    started = time.perf_counter()
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    connection.request("GET", f"/api/survey?{urlencode({'fen': fen, 'reach': REACH})}")
    answer = connection.getresponse()
    answer.read()
    connection.close()
    if answer.status != 200:
        raise SystemExit(f"the survey of {fen} was answered with {answer.status}")
    return time.perf_counter() - started


def one_client(port: int, fens: Sequence[str], reading: float, wait: float) -> list[float]:
    """Ask for one position after another; the first after `wait` seconds."""
    time.sleep(wait)
    spent: list[float] = []
    for fen in fens:
        spent.append(ask(port, fen))
        time.sleep(max(0.0, reading - spent[-1]))
    return spent


def clients(port: int, fens: Sequence[str], count: int, reading: float) -> list[float]:
    """The seconds of all answers to so many clients."""
    shares = [fens[number::count] for number in range(count)]
    with ThreadPoolExecutor(count) as pool:
        asked = [
            pool.submit(one_client, port, share, reading, reading * number / count)
            for number, share in enumerate(shares)
        ]
        return [seconds for one in asked for seconds in one.result()]


def wait_for(port: int) -> None:
    """Until the workbench answers."""
    for _ in range(10 * STARTING):
        try:
            socket.create_connection(("127.0.0.1", port), 1).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise SystemExit("the workbench did not start")


def told(work: str, seconds: Sequence[float]) -> str:
    """A row of the table."""
    ordered = sorted(seconds)
    late = ordered[min(len(ordered) - 1, int(0.95 * len(ordered)))]
    return f"{work:<52}{1000 * statistics.median(ordered):>9.1f}{1000 * late:>9.1f}"


def main() -> None:
    """Start a workbench, ask it, and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--clients", type=int, default=10)
    parser.add_argument("--answers", type=int, default=20)
    parser.add_argument("--reading", type=float, default=READING)
    given = parser.parse_args()
    fens = material.positions(given.clients * given.answers)
    own = [seconds for _, seconds in core.measure(fens, reach=REACH)]
    port = free_port()
    start = "from fastness.cli import main; main()"
    with tempfile.TemporaryDirectory() as folder:
        store = str(Path(folder) / "store.sqlite")
        words = ["serve", "--no-open", "--port", str(port), "--store", store]
        server = subprocess.Popen([sys.executable, "-c", start, *words], stdout=subprocess.DEVNULL)
        try:
            wait_for(port)
            one_client(port, fens[:1], 0, 0)
            read = clients(port, fens, given.clients, given.reading)
            kept = clients(port, fens[-100:], given.clients, 0)
        finally:
            server.terminate()
            server.wait()
    head = f"{len(fens)} positions, {given.clients} clients; milliseconds"
    print(f"{head:<52}{'median':>9}{'p95':>9}")
    print(told("the core's own time, reach 3", own))
    print(told(f"a survey over the web (target p95 {1000 * TARGET:.0f})", read))
    print(told("the same again, kept", kept))


if __name__ == "__main__":
    main()

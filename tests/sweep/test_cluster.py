"""The workers of a Dask scheduler give what processes here give; a lost scheduler is told."""

import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from fastness.errors import SweepError
from fastness.sweep.cluster import on_scheduler
from tests.sweep.material import archive

PROGRAMS = Path(sys.executable).parent


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        port: int = one.getsockname()[1]
        return port


@pytest.fixture
def cluster(tmp_path: Path) -> Iterator[tuple[str, subprocess.Popen[bytes]]]:
    """A scheduler and one worker on this machine: the address, and the scheduler's process."""
    port = free_port()
    address = f"tcp://127.0.0.1:{port}"
    host = ("--host", "127.0.0.1")
    alone = "--nthreads 1 --no-dashboard --no-nanny --death-timeout 60"
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "cwd": tmp_path}
    scheduler = subprocess.Popen(  # type: ignore[call-overload]
        [PROGRAMS / "dask", "scheduler", "--no-dashboard", *host, "--port", str(port)], **quiet
    )
    worker = subprocess.Popen(  # type: ignore[call-overload]
        [PROGRAMS / "dask", "worker", address, *host, *alone.split()], **quiet
    )
    yield address, scheduler
    for process in (worker, scheduler):
        process.terminate()
        process.wait(20)


def swept(file: Path, out: Path, *words: str) -> subprocess.CompletedProcess[str]:
    options = ["--reach", "1", "--batch", "3", *words]
    return subprocess.run(
        [PROGRAMS / "fastness", "sweep", file, "--out", out, *options],
        capture_output=True,
        text=True,
        timeout=240,
    )


def parts(out: Path) -> dict[str, bytes]:
    return {str(file.relative_to(out)): file.read_bytes() for file in out.glob("parts/*/*")}


@pytest.mark.slow
def test_a_scheduler_gives_what_processes_give_and_is_told_when_lost(
    cluster: tuple[str, subprocess.Popen[bytes]], tmp_path: Path
) -> None:
    address, scheduler = cluster
    file = archive(tmp_path / "a.pgn", 10)
    there = swept(file, tmp_path / "there", "--scheduler", address)
    here = swept(file, tmp_path / "here", "--processes", "1")
    assert (there.returncode, there.stderr) == (here.returncode, here.stderr)
    assert len(parts(tmp_path / "here")) == 12
    assert parts(tmp_path / "there") == parts(tmp_path / "here")

    longer = archive(tmp_path / "longer.pgn", 3000)
    words = ("--reach", "1", "--batch", "3", "--scheduler", address)
    process = subprocess.Popen(
        [PROGRAMS / "fastness", "sweep", longer, "--out", tmp_path / "lost", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    until = time.monotonic() + 60
    while len(list(tmp_path.glob("lost/parts/*"))) < 3 and time.monotonic() < until:
        time.sleep(0.05)
    scheduler.kill()
    _, told = process.communicate(timeout=90)
    assert process.returncode == 2
    assert told == (
        f"fastness: The scheduler at {address} is lost. What is done is kept: start it again and"
        " give the same command once more.\n"
    )
    assert len(list(tmp_path.glob("lost/parts/*"))) >= 3


@pytest.mark.parametrize("address", ["tcp://127.0.0.1:{port}", "carrier-pigeon://loft:1"])
def test_an_address_without_a_scheduler_is_told(address: str) -> None:
    address = address.format(port=free_port())
    with pytest.raises(SweepError, match=f"No scheduler answers at {address}"):
        list(on_scheduler([], lambda _: {}, address, patience=0.5))

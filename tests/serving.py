"""`fastness serve` started as a program, for the tests."""

from __future__ import annotations

import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager

START = [sys.executable, "-c", "from fastness.cli import main; main()", "serve", "--no-open"]


def free_port() -> int:
    with socket.socket() as tried:
        tried.bind(("127.0.0.1", 0))
        port: int = tried.getsockname()[1]
        return port


@contextmanager
def serving(port: int, *options: str, password: str = "") -> Iterator[subprocess.Popen[str]]:
    program = subprocess.Popen(
        [*START, "--port", str(port), *options],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert program.stdin is not None
    program.stdin.write(f"{password}\n")
    program.stdin.close()
    program.stdin = None
    try:
        yield program
    finally:
        program.kill()
        program.communicate()

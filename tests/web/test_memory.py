"""The threads of a workbench take memory from the same few places."""

import subprocess
import sys
import textwrap

import pytest

ARENAS = """
    import ctypes, sys, threading
    from fastness.web.memory import share_memory

    if sys.argv[1] == "shared":
        assert share_memory()
    libc = ctypes.CDLL(None)
    libc.malloc.restype = ctypes.c_void_p
    wait = threading.Barrier(9)

    def take():
        for _ in range(100):
            libc.malloc(2_000)
        wait.wait()

    threads = [threading.Thread(target=take) for _ in range(8)]
    [one.start() for one in threads]
    wait.wait()
    [one.join() for one in threads]
    libc.malloc_info.argtypes = [ctypes.c_int, ctypes.c_void_p]
    libc.fdopen.restype = ctypes.c_void_p
    out = libc.fdopen(1, b"w")
    libc.malloc_info(0, out)
    libc.fflush(None)
"""


def arenas(how: str) -> int:
    command = [sys.executable, "-c", textwrap.dedent(ARENAS), how]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout.count(
        "<heap "
    )


@pytest.mark.skipif(sys.platform != "linux", reason="glibc is on Linux")
def test_threads_share_their_memory() -> None:
    assert arenas("shared") <= 2 < arenas("apart")

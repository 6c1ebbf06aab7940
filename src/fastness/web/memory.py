"""How the memory of a workbench is shared out among its threads."""

from __future__ import annotations

import ctypes
import sys

M_ARENA_MAX = -8
"""The parameter's number in glibc's malloc.h; mallopt(3)."""
ARENAS = 2


def share_memory() -> bool:
    """Let all threads take memory from the same two places; whether the C library can.

    Left to itself glibc gives nearly every thread a place of its own, and what one thread has
    freed there the others cannot use: a workbench of some twenty threads grew by a megabyte a
    minute. Only what begins after the call is so, so it comes before the threads.
    """
    library = ctypes.CDLL(None) if sys.platform == "linux" else None
    mallopt = getattr(library, "mallopt", None)
    return mallopt is not None and mallopt(M_ARENA_MAX, ARENAS) == 1

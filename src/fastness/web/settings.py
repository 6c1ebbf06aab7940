"""How the workbench is served."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

STATIC = Path(__file__).with_name("static")
"""Where the built front end lies."""
MANUAL = Path(__file__).with_name("manual.pdf")
"""Where the teacher's manual lies, if it was built."""
PORT = 8620
"""Where the workbench listens unless told otherwise."""

MEGABYTE = 1 << 20
MOST_BYTES = 2 * MEGABYTE
"""Bytes of a request that brings no file."""
MOST_UPLOADED = 32 * MEGABYTE
"""Bytes of a request that brings files."""
MOST_UNPACKED = 64 * MEGABYTE
"""Bytes of the files of one upload, unpacked."""
MOST_GAMES = 5000
"""Games of one upload."""


@dataclass(frozen=True, slots=True)
class Settings:
    """How the workbench is served.

    `store` is a file, a URL or None for the default place. `shared`: others on the network can
    reach it, and everything but what is shared asks for the teacher's password. `names` are the
    names of this machine by which it may be reached, besides its numbers; `addresses` are those
    that others on the network are told, such as ``http://192.168.1.5:8620``. `manual` is the file
    of the teacher's manual. By its `port` a workbench on a server's store finds what is its own
    again.
    """

    store: str | None = None
    static: Path = STATIC
    shared: bool = False
    names: tuple[str, ...] = ()
    addresses: tuple[str, ...] = ()
    manual: Path = MANUAL
    port: int = PORT

"""How the workbench is served."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

STATIC = Path(__file__).with_name("static")
"""Where the built front end lies."""
PORT = 8620
"""Where the workbench listens unless told otherwise."""


@dataclass(frozen=True, slots=True)
class Settings:
    """How the workbench is served; `store` is a file, a URL or None for the default place."""

    store: str | None = None
    static: Path = STATIC

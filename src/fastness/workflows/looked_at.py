"""What a long run has looked at for nothing, so that the next one need not look again.

It is no more than a saving of time: a file of digests in the platform's place for such files,
which may be thrown away at any time, and where it cannot be written a run does without.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Container, Mapping
from contextlib import suppress
from pathlib import Path

import platformdirs

from fastness.core import version

RULES = 1
"""Raised when what is taken from games changes, so that everything is looked at again."""


class LookedAt(Container[str]):
    """The positions (`position_key`) that a run with the same wishes need not look at.

    `known` are those that gave something, which whoever keeps that knows by itself.
    """

    def __init__(
        self,
        work: str,
        wishes: Mapping[str, object],
        known: Container[str] = (),
        folder: Path | None = None,
    ) -> None:
        """Of runs that do the same work with the same wishes: what JSON holds, and sets of it."""
        self._known = known
        told = json.dumps(wishes, sort_keys=True, default=sorted)
        name = f"{work}-{_digest(f'{version()} {RULES} {told}')}"
        folder = folder or platformdirs.user_cache_path("fastness") / "looked-at"
        self._path = folder / f"{name}.txt"
        self._nothing: set[str] = set()
        with suppress(OSError):
            self._nothing.update(self._path.read_text("ascii").split())

    def __contains__(self, key: object) -> bool:
        """Whether a position is known, or was looked at for nothing."""
        return key in self._known or _digest(str(key)) in self._nothing

    def add(self, key: str) -> None:
        """Remember that a position gave nothing."""
        found = _digest(key)
        self._nothing.add(found)
        with suppress(OSError):
            self._path.parent.mkdir(parents=True, exist_ok=True)
            with self._path.open("a", encoding="ascii") as file:
                file.write(f"{found}\n")


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:20]

"""An archive cut into batches of games, line by line, without reading the games.

The games of a batch are read where it is worked on, so that the one process that reads the archive
keeps many others busy. The same archive is always cut at the same places.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from fastness.errors import FileError
from fastness.intake import Stretch
from fastness.intake.source import read_lines

GAMES = 100
"""Games of a batch: what a killed worker loses, and what a part of the output holds."""
LARGE = 1 << 20
"""Bytes after which a batch ends at an empty line, where no game begins with its Event tag."""
LARGEST = 1 << 22
"""Bytes after which a batch ends at any line; memory stays flat whatever the file holds."""

_TAG = re.compile(rb"\[\s*[A-Za-z0-9_]+\s+\"")
# The one tag at which a game begins even where a comment before it was never closed.
_EVENT = re.compile(rb"\[Event \".*\"\]")
_MARK = b"\xef\xbb\xbf"
"""The byte order mark with which some editors begin a file."""


@dataclass(frozen=True, slots=True)
class Batch:
    """Games of one archive: which archive, which batch of it (both from 0), and their text."""

    archive: int
    number: int
    stretch: Stretch

    @property
    def name(self) -> str:
        """The name under which its part of the output is kept."""
        return f"{self.archive:04d}-{self.number:08d}"


@dataclass(slots=True)
class _Cut:
    """The batch that is being gathered."""

    file: str
    archive: int
    number: int = 0
    games_before: int = 0
    lines_before: int = 0
    games: int = 0
    size: int = 0
    lines: list[bytes] = field(default_factory=list)

    def add(self, line: bytes, *, begins: bool) -> None:
        self.lines.append(line)
        self.size += len(line) + 1
        self.games += begins

    def take(self, *, more: bool, cut: str | None = None) -> Batch:
        """The batch so far; the next one begins after it."""
        stretch = Stretch(
            self.file, tuple(self.lines), self.games_before, self.lines_before, more, cut
        )
        batch = Batch(self.archive, self.number, stretch)
        self.number += 1
        self.games_before += self.games
        self.lines_before += len(self.lines)
        self.games = self.size = 0
        self.lines = []
        return batch


def batches(
    path: str | Path,
    archive: int = 0,
    *,
    games: int = GAMES,
    on_progress: Callable[[int], None] | None = None,
) -> Iterator[Batch]:
    """The batches of an archive (PGN, plain, gzip or Zstandard), in order.

    A batch begins at an Event tag that follows no other tag. An archive that
    cannot be read on ends with a batch that says so; nothing is raised for bad input.
    `on_progress` is told the bytes taken from the disk.
    """
    now = _Cut(str(path), archive)
    blank, after_tags, why = True, False, None
    try:
        for _, line in read_lines(path, on_progress):
            bare = line.removeprefix(_MARK).strip()
            begins = not after_tags and _TAG.match(bare) is not None
            cuts = begins and _EVENT.fullmatch(bare) is not None
            if now.lines and _ends(now, games, cuts=cuts, blank=blank and bool(bare)):
                yield now.take(more=True)
            now.add(line, begins=begins)
            blank = not bare
            if bare:
                after_tags = bare.startswith(b"[")
    except FileError as error:
        why = str(error)
    if now.lines or why is not None or now.number == 0:
        yield now.take(more=False, cut=why)


def _ends(now: _Cut, games: int, *, cuts: bool, blank: bool) -> bool:
    """Whether the batch ends before a line that surely begins a game, or follows an empty one."""
    if cuts and now.games >= games:
        return True
    return now.size > LARGEST or (now.size > LARGE and (cuts or blank))

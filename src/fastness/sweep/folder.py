"""The folder of a sweep: what was asked, which archives, and the parts that are done.

A part holds the tables of one batch. It is written in full under another name and then renamed, in
one step for all its tables: it is there whole or not at all, and under its name only once.
"""

from __future__ import annotations

import contextlib
import errno
import fcntl
import hashlib
import json
import os
import shutil
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from fastness.errors import FileError, InputError, SweepError

VERSION = 1
PARTS = "parts"
_ASKED = "sweep.json"
_UNFINISHED = "unfinished"
_LOCK = "in-use"
_PIECE = 1 << 20


class SweepFolder:
    """The output of a sweep; at most one program at a time has it open, by `opened`."""

    def __init__(self, place: Path) -> None:
        """At this place; nothing is read or made yet."""
        self.place = place
        self.archives: list[dict[str, Any]] = []
        self.settings: dict[str, Any] = {}

    @contextlib.contextmanager
    def opened(self, settings: Mapping[str, Any] | None) -> Iterator[SweepFolder]:
        """The folder, made where it is not there, while nobody else may write to it.

        `settings` must be those of the first start, since all parts belong together; None takes
        what stands there.

        Raises:
            InputError: the folder was begun with other settings, or holds something else.
            SweepError: another program is at work on it, or it cannot be written.
        """
        with contextlib.ExitStack() as held:
            with told_plainly(self.place):
                self._check(begun=settings is None)
                (self.place / PARTS).mkdir(parents=True, exist_ok=True)
                lock = held.enter_context((self.place / _LOCK).open("w"))
                self._claim(lock.fileno())
                self._read(settings)
                shutil.rmtree(self.place / _UNFINISHED, ignore_errors=True)
            yield self

    def _claim(self, lock: int) -> None:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise SweepError(
                f"Another sweep is at work on {self.place}; wait for it, or name another folder."
            ) from None

    def _check(self, *, begun: bool) -> None:
        there = self.place / _ASKED
        if begun and not there.exists():
            raise InputError(f"{self.place} holds no sweep yet: name an archive to begin one.")
        if self.place.is_dir() and not there.exists() and not (self.place / _LOCK).exists():
            if any(self.place.iterdir()):
                raise InputError(f"{self.place} holds other files; name a new folder.")
        elif self.place.exists() and not self.place.is_dir():
            raise InputError(f"{self.place} is a file, and a folder is wanted; name another one.")

    def _read(self, settings: Mapping[str, Any] | None) -> None:
        file = self.place / _ASKED
        if not file.exists():
            self.settings = dict(settings or {})
            self._write()
            return
        try:
            told = json.loads(file.read_text("utf-8"))
            version, there, self.archives = told["version"], told["settings"], told["archives"]
        except (ValueError, KeyError, TypeError) as error:
            raise InputError(f"{file} cannot be read: it is no list of a sweep.") from error
        if version != VERSION:
            raise InputError(f"{file} is of version {version}, which cannot be read here.")
        wanted = there if settings is None else dict(settings)
        other = [name for name in wanted if wanted[name] != there.get(name)]
        if other:
            differing = ", ".join(
                f"{name} {there.get(name)} and not {wanted[name]}" for name in other
            )
            raise InputError(f"{self.place} was begun with {differing}; name a new folder.")
        self.settings = there

    def _write(self) -> None:
        text = json.dumps(
            {"version": VERSION, "settings": self.settings, "archives": self.archives}, indent=1
        )
        fresh = self.place / f"{_ASKED}.new"
        _written(fresh, text.encode())
        fresh.replace(self.place / _ASKED)
        _settle(self.place)

    def archive(self, path: Path) -> int:
        """The number of an archive, from 0; the same content has the same number by any name.

        Raises FileError where it cannot be read.
        """
        known = _digest(path)
        for number, one in enumerate(self.archives):
            if one["digest"] == known:
                return number
        entry = {"name": path.name, "bytes": path.stat().st_size, "digest": known, "batches": None}
        self.archives.append(entry)
        with told_plainly(self.place):
            self._write()
        return len(self.archives) - 1

    def is_done(self, archive: int) -> bool:
        """Whether every batch of the archive is there."""
        return self.archives[archive]["batches"] is not None

    def finish(self, archive: int, batches: int) -> None:
        """Note that an archive has so many batches; raises SweepError where one is not there."""
        there = sum(name.startswith(f"{archive:04d}-") for name in self.parts())
        if there != batches:
            name = self.archives[archive]["name"]
            raise SweepError(
                f"{self.place} has {there} of the {batches} parts of {name}; give the same command"
                " again."
            )
        self.archives[archive]["batches"] = batches
        with told_plainly(self.place):
            self._write()

    def parts(self) -> set[str]:
        """The names of the batches that are there."""
        return {one.name for one in (self.place / PARTS).iterdir()}

    def keep(self, name: str, tables: Mapping[str, bytes]) -> None:
        """Keep the tables of a batch: all of them, or on any fault none.

        Raises SweepError where they cannot be written, as on a full disk.
        """
        draft = self.place / _UNFINISHED / name
        with told_plainly(self.place):
            try:
                draft.mkdir(parents=True)
                for table, content in tables.items():
                    _written(draft / f"{table}.parquet", content)
                _settle(draft)
                draft.rename(self.place / PARTS / name)
                _settle(self.place / PARTS)
                draft.parent.rmdir()
            except OSError:
                shutil.rmtree(draft, ignore_errors=True)
                raise


@contextlib.contextmanager
def told_plainly(place: Path) -> Iterator[None]:
    """Raise SweepError instead of the fault of a disk."""
    try:
        yield
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
            raise SweepError(
                f"There is no room left for {place} ({os.strerror(error.errno).lower()}). What is"
                " done is kept: make room and give the same command again."
            ) from error
        raise SweepError(f"{place} cannot be written: {error.strerror or error}.") from error


def _written(file: Path, content: bytes) -> None:
    with file.open("wb") as out:
        out.write(content)
        out.flush()
        os.fsync(out.fileno())


def _settle(folder: Path) -> None:
    """Have the names in a folder on the disk, too."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _digest(path: Path) -> str:
    found = hashlib.blake2b(digest_size=16)
    try:
        if path.is_dir():
            raise FileError(f"{path} is a folder; name the archives in it.")
        with path.open("rb") as file:
            while piece := file.read(_PIECE):
                found.update(piece)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise FileError(f"{path} cannot be read: {reason}.") from error
    return found.hexdigest()

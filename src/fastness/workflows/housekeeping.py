"""What the store holds, and keeping it: backups, exports, erasing, for a page."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from fastness.errors import StoreError
from fastness.store import Store, erasure, restoring, safekeeping, transfer
from fastness.store.browsing import student_numbered
from fastness.store.erasure import Erasure
from fastness.store.opening import copies_beside

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Holdings:
    """How much of everything the store holds."""

    groups: int
    students: int
    games: int
    places: int
    exercises: int


def holdings(store: Store) -> Holdings:
    """How much of everything the store holds."""
    held = safekeeping.count(store)
    return Holdings(
        held["student_group"], held["student"], held["game"], held["occasion"], held["exercise"]
    )


def backup(store: Store, passphrase: str | None = None) -> bytes:
    """A backup of a SQLite store; with a passphrase it is sealed.

    Raises StoreError where the store is on a server, or cannot be read.
    """
    return _file("backup", lambda place: safekeeping.back_up(store, place, passphrase))


def export(store: Store, student: int | None = None) -> bytes:
    """All that the store holds, or one student's part of it, as plain files in a zip.

    Raises MissingError where there is no such student.
    """
    only = None
    if student is not None:
        with store.reading() as session:
            only = student_numbered(session, student)
    return _file("export.zip", lambda place: transfer.export(store, place, only))


def bring_back(store: Store, archive: bytes) -> int:
    """Add what an export holds; how many games. Raises StoreError where it is no export."""
    return _with(archive, "export.zip", lambda place: transfer.bring_back(store, place))


def restore(to: Path, data: bytes, passphrase: str | None = None) -> Path | None:
    """Put a backup in a store's place; where the store that was there is kept.

    Raises StoreError as `store.restoring.restore` does.
    """
    return _with(data, "backup", lambda place: restoring.restore(place, to, passphrase, over=True))


def put_back(to: Path, kept: str) -> Path | None:
    """Put a store that was kept beside another in its place again; undoes a restoring.

    Raises StoreError where it is not there.
    """
    beside = [one for one in copies_beside(to) if one.name == kept]
    if not beside or ".before-restore-" not in kept:
        raise StoreError(f'"{kept}" is no store that a restoring kept')
    return restoring.restore(beside[0], to, over=True)


def erase(store: Store, number: int) -> Erasure:
    """Erase a student for good. Raises MissingError where there is none."""
    with store.reading() as session:
        name = student_numbered(session, number).name
    return erasure.erase_student(store, name)


def _file(name: str, make: Callable[[Path], None]) -> bytes:
    with tempfile.TemporaryDirectory(prefix="fastness-") as folder:
        place = Path(folder) / name
        make(place)
        return place.read_bytes()


def _with(data: bytes, name: str, use: Callable[[Path], T]) -> T:
    with tempfile.TemporaryDirectory(prefix="fastness-") as folder:
        place = Path(folder) / name
        place.write_bytes(data)
        return use(place)

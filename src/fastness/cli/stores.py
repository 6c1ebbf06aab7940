"""`fastness store`: check, back up, restore, export."""

from __future__ import annotations

import getpass
import sys
from pathlib import Path
from typing import Annotated

import cyclopts
from cyclopts import Parameter

from fastness.cli.places import StorePlace, opened
from fastness.errors import InputError
from fastness.store import default_place, restoring, safekeeping, transfer
from fastness.store.opening import copies_beside
from fastness.store.students import student_named
from fastness.workflows.lesson_folder import LESSONS, LessonFolder

FAULTS = 1

store = cyclopts.App(name="store", help="Look after the store: check, back up, restore, export.")


@store.command(name="check")
def check(*, store: StorePlace = None) -> int:
    """Check that the store is whole. Exit status 1 if it is not.

    Args:
        store: the store's file or URL.
    """
    with opened(store) as place:
        faults = safekeeping.check(place)
        for fault in faults:
            print(fault)
        if faults:
            return FAULTS
        held = safekeeping.count(place)
        print(
            f"The store is whole: {held['student']} students, {held['game']} games,"
            f" {held['occasion']} places to look. It is at {place.place}."
        )
        for copy in copies_beside(place.path) if place.path else ():
            print(f"A copy from before an upgrade or a restoring is beside it: {copy.name}.")
    return 0


@store.command(name="backup")
def backup(
    to: Path,
    *,
    sealed: Annotated[bool, Parameter(negative=())] = False,
    store: StorePlace = None,
) -> None:
    """Copy the store to a new file. Lessons and class boards, which lie beside it, are not in it.

    Args:
        to: the new file.
        sealed: encrypt it with a passphrase, which is asked for.
        store: the store's file.
    """
    with opened(store) as place:
        safekeeping.back_up(place, to, _passphrase() if sealed else None)
    print(f"Backed up to {to}.")
    if place.path is not None:
        lessons = place.path.with_name(LESSONS)
        count = len(LessonFolder(lessons).list())
        if count:
            print(f"Not in the backup: the lessons ({count}). Copy the folder {lessons} too.")


@store.command(name="restore")
def restore(
    backup: Path,
    *,
    over: Annotated[bool, Parameter(negative=())] = False,
    sealed: Annotated[bool, Parameter(negative=())] = False,
    store: StorePlace = None,
) -> None:
    """Put a backup in the store's place.

    Args:
        backup: the file that `backup` made.
        over: also where there is a store already; that one is kept beside it.
        sealed: the backup is encrypted; its passphrase is asked for.
        store: the store's file.
    """
    where = store or default_place()
    if "://" in where:
        raise InputError("a store on a server is restored by its own means, or by bring-back")
    to = Path(where)
    kept = restoring.restore(backup, to, _passphrase() if sealed else None, over=over)
    print(f"Restored to {to}.")
    if kept is not None:
        print(f"The store that was there is kept as {kept}.")


@store.command(name="export")
def export(to: Path, *, student: str | None = None, store: StorePlace = None) -> None:
    """Write all that the store holds to plain files in a zip.

    Args:
        to: the new zip file.
        student: only this student.
        store: the store's file or URL.
    """
    with opened(store) as place:
        only = None
        if student:
            with place.reading() as session:
                only = student_named(session, student)
        transfer.export(place, to, only)
    print(f"Exported to {to}.")


@store.command(name="bring-back")
def bring_back(archive: Path, *, store: StorePlace = None) -> None:
    """Add what an export holds to the store; what is there already stays.

    Args:
        archive: the zip file that `export` made.
        store: the store's file or URL.
    """
    with opened(store) as place:
        games = transfer.bring_back(place, archive)
    print(f"{games} games brought back.")


def _passphrase() -> str:
    """Asked for at a terminal, else the first line of standard input."""
    if sys.stdin.isatty():
        return getpass.getpass("Passphrase: ")
    return sys.stdin.readline().rstrip("\n")

"""Sessions in a file beside the store, so that a class goes on after the workbench was stopped."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

import platformdirs
from pydantic import TypeAdapter, ValidationError

from fastness.classroom.session import ClassSession
from fastness.errors import StoreError
from fastness.store import default_place

NAME = "classes.json"
"""The file's name."""
_SESSIONS = TypeAdapter(tuple[ClassSession, ...])


def place_beside(store: str | None) -> Path:
    """Where they are kept: beside the store if that is a file, else in the usual place."""
    place = store or default_place()
    if "://" in place:
        return platformdirs.user_data_path("fastness") / NAME
    return Path(place).with_name(NAME)


def kept_at(place: Path) -> tuple[ClassSession, ...]:
    """The sessions of a file; none where there is no file.

    Raises StoreError where it cannot be read.
    """
    try:
        return _SESSIONS.validate_json(place.read_bytes()) if place.exists() else ()
    except (OSError, ValidationError) as error:
        told = f"{place}: the class boards cannot be read; move the file away to begin anew"
        raise StoreError(told) from error


def keep(place: Path, sessions: Sequence[ClassSession]) -> None:
    """Write sessions to a file that only its owner may read, or nothing where that fails.

    Raises StoreError where it cannot be written.
    """
    part = place.with_name(f"{place.name}.part")
    try:
        place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        part.unlink(missing_ok=True)
        with os.fdopen(os.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "wb") as file:
            file.write(_SESSIONS.dump_json(tuple(sessions)))
        part.replace(place)
    except OSError as error:
        raise StoreError(f"{place}: {error.strerror}") from error

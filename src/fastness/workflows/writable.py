"""Whether something can be written somewhere, before the work that would be lost."""

from __future__ import annotations

import os
from pathlib import Path

from fastness.errors import FileError


def check_writable(path: Path, *, folder: bool) -> None:
    """Raise FileError where a file, or with `folder` a folder that may have to be made, cannot be.

    The check is made beforehand and can be wrong later, as when a disk fills up.
    """
    if path.exists():
        if path.is_dir() != folder:
            kind = "a file, and a folder is wanted" if folder else "a folder, and a file is wanted"
            raise FileError(f"{path} is {kind}; name another one")
        place = path
    else:
        place = path.parent
        while folder and not place.exists() and place != place.parent:
            place = place.parent
        if not place.is_dir():
            missing = "is no folder" if place.exists() else "does not exist"
            raise FileError(f"{path} cannot be written: {place} {missing}; name another place")
    if not os.access(place, os.W_OK):
        raise FileError(f"{path} cannot be written: you have no right to; name another place")

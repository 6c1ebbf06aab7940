"""Files written whole or not at all, so that a full disk costs nothing that was there before."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from fastness.errors import FileError


def write_files(folder: Path, made: Mapping[str, bytes | str]) -> tuple[Path, ...]:
    """Write files by their names into a folder, all of them or none; the paths written.

    Texts are written as UTF-8. Folders are made where they are not there. Files of these names that
    were there stay until all of the new ones are on the disk.

    Raises FileError where that cannot be done, as when the disk is full.
    """
    parts = {folder / name: _part(folder / name) for name in made}
    try:
        for (path, part), data in zip(parts.items(), made.values(), strict=True):
            path.parent.mkdir(parents=True, exist_ok=True)
            part.write_bytes(data.encode() if isinstance(data, str) else data)
        for path, part in parts.items():
            part.replace(path)
    except OSError as error:
        raise FileError(f"{folder}: {error.strerror}") from error
    finally:
        for part in parts.values():
            if part.parent.is_dir():
                part.unlink(missing_ok=True)
    return tuple(parts)


def write_file(path: Path, data: bytes | str) -> None:
    """Write one file as `write_files` does; what is no plain file, as a pipe, is written to.

    Raises FileError where that cannot be done.
    """
    if path.exists() and not path.is_file():
        try:
            path.write_bytes(data.encode() if isinstance(data, str) else data)
        except OSError as error:
            raise FileError(f"{path}: {error.strerror}") from error
        return
    try:
        write_files(path.parent, {path.name: data})
    except FileError as error:
        raise FileError(str(error).replace(str(path.parent), str(path), 1)) from error


def _part(path: Path) -> Path:
    return path.with_name(f".{path.name}.part")

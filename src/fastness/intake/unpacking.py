"""A file that came from elsewhere, as plain text of a size that is known."""

from __future__ import annotations

from pathlib import Path

from fastness.errors import FileError
from fastness.intake.source import read_lines


def unpack(path: Path, to: Path, most: int) -> str | None:
    """Write the lines of a file (plain, gzip or Zstandard) to another, plain one.

    A file that cannot be read on is written as far as it goes, and what is wrong is given.
    Raises FileError where it has more than `most` bytes; nothing is left then.
    """
    written = 0
    fault = None
    with to.open("wb") as file:
        try:
            for _, line in read_lines(path):
                written += len(line) + 1
                if written > most:
                    break
                file.write(line + b"\n")
        except FileError as error:
            fault = f"the file {error}"
    if written > most:
        to.unlink()
        raise FileError(f"The file has more than {most:,} bytes unpacked; bring less at a time.")
    return fault

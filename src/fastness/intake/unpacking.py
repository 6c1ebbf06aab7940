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
    try:
        with to.open("wb") as file:
            for _, line in read_lines(path):
                written += len(line) + 1
                if written > most:
                    raise _TooLongError(
                        f"has more than {most:,} bytes unpacked; bring in less at a time"
                    )
                file.write(line + b"\n")
    except _TooLongError:
        to.unlink(missing_ok=True)
        raise
    except FileError as error:
        return f"the file {error}"
    return None


class _TooLongError(FileError):
    """More than may be."""

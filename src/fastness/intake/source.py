"""A file as numbered lines of text: plain, gzip or Zstandard, read piece by piece."""

import gzip
import re
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import BinaryIO

import zstandard

from fastness.errors import FileError

PIECE = 1 << 16
"""Bytes of text asked for at a time."""
ZSTD_PIECE = 1 << 6
"""Compressed bytes unpacked at a time: few, since four may stand for a block of 128 KiB."""
LONGEST_LINE = 1 << 20
"""No line of a PGN file is longer than this many bytes, and so memory stays flat."""

_GZIP = b"\x1f\x8b"
_ZSTD = b"\x28\xb5\x2f\xfd"
# A frame to be passed over, with which files packed in parallel begin.
_SKIPPABLE = re.compile(rb"[\x50-\x5f]\x2a\x4d\x18", re.DOTALL)
_FOREIGN = {
    b"PK\x03\x04": "a ZIP archive: unpack it first",
    b"BZh": "packed with bzip2: unpack it first",
    b"\xfd7zXZ": "packed with xz: unpack it first",
    b"\xff\xfe": "UTF-16 text: save it as UTF-8",
    b"\xfe\xff": "UTF-16 text: save it as UTF-8",
    b"%PDF-": "a PDF document: PGN is plain text",
}
# Tab, line feed, vertical tab, form feed, return, the old end-of-file mark and escape are text.
_CONTROL = bytes(set(range(32)) - {9, 10, 11, 12, 13, 26, 27})


def measure(path: str | Path) -> int | None:
    """The size of the file in bytes as it lies on the disk, or None if it has none."""
    try:
        file = Path(path)
        return file.stat().st_size if file.is_file() else None
    except OSError:
        return None


def read_lines(
    path: str | Path, on_progress: Callable[[int], None] | None = None
) -> Iterator[tuple[int, bytes]]:
    """Each line of the file with its number from 1, without its line end.

    `on_progress` is told the bytes taken from the disk so far (of the packed file if packed).
    Raises FileError where the file cannot be opened or read any further; all that stands
    before that place has been given out by then.
    """
    with _open(path) as raw:
        yield from _lines(_text_only(_pieces(raw)), raw, on_progress)


def _open(path: str | Path) -> BinaryIO:
    try:
        if Path(path).is_dir():
            raise FileError("is a folder; name the PGN files in it")
        return Path(path).open("rb")
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise FileError(f"cannot be opened: {reason.lower()}") from None


def _pieces(raw: BinaryIO) -> Iterator[bytes]:
    head = raw.read(8)
    raw.seek(0)
    for mark, what in _FOREIGN.items():
        if head.startswith(mark):
            raise FileError(f"is {what}")
    try:
        if head.startswith(_GZIP):
            yield from _gzip_pieces(raw)
        elif head.startswith(_ZSTD) or _SKIPPABLE.match(head):
            yield from _zstd_pieces(raw)
        else:
            while piece := raw.read(PIECE):
                yield piece
    except OSError as error:
        raise FileError(f"cannot be read any further: {error}") from None


def _gzip_pieces(raw: BinaryIO) -> Iterator[bytes]:
    packed = gzip.GzipFile(fileobj=raw)
    try:
        # read1 gives what there is, so that nothing before a cut is lost.
        while piece := packed.read1(PIECE):
            yield piece
    except EOFError:
        raise FileError("is cut off: the packed file (gzip) ends too early") from None
    except (gzip.BadGzipFile, zlib.error) as error:
        raise FileError(f"is damaged: it cannot be unpacked any further (gzip: {error})") from None


def _zstd_pieces(raw: BinaryIO) -> Iterator[bytes]:
    unpacker = zstandard.ZstdDecompressor()
    frame = unpacker.decompressobj()
    fresh = True
    rest = b""
    try:
        while packed := rest or raw.read(ZSTD_PIECE):
            if piece := frame.decompress(packed):
                yield piece
            fresh, rest = False, b""
            if frame.eof:
                rest = frame.unused_data
                frame = unpacker.decompressobj()
                fresh = True
    except zstandard.ZstdError as error:
        raise FileError(f"is damaged: it cannot be unpacked any further ({error})") from None
    if not fresh:
        raise FileError("is cut off: the packed file (Zstandard) ends too early")


def _text_only(pieces: Iterator[bytes]) -> Iterator[bytes]:
    """The pieces up to the first one that is no text, and of that one what stands before."""
    for piece in pieces:
        strange = len(piece) - len(piece.translate(None, _CONTROL))
        if strange and (b"\0" in piece or strange * 20 > len(piece)):
            first = min(at for at in map(piece.find, map(bytes, zip(_CONTROL))) if at >= 0)
            text = piece[:first]
            yield text if b"\n" in text else b""
            raise FileError("is not text from here on (a binary file?); PGN is plain text")
        yield piece


def _lines(
    pieces: Iterator[bytes], raw: BinaryIO, on_progress: Callable[[int], None] | None
) -> Iterator[tuple[int, bytes]]:
    number = 0
    rest = b""
    try:
        for piece in pieces:
            if on_progress is not None:
                on_progress(raw.tell())
            lines = (rest + piece).splitlines(keepends=True)
            # What ends in a return may go on with a line feed in the next piece.
            rest = b"" if not lines or lines[-1].endswith(b"\n") else lines.pop()
            for line in lines:
                number += 1
                yield number, line.rstrip(b"\r\n")
            if len(rest) > LONGEST_LINE:
                rest = b""
                raise FileError(f"has a line of more than {LONGEST_LINE:,} bytes; that is no PGN")
    except FileError:
        # The last word may be cut, and half a move can look like another one.
        whole = rest[: rest.rfind(b" ") + 1]
        if whole:
            yield number + 1, whole
        raise
    if rest:
        yield number + 1, rest.rstrip(b"\r\n")

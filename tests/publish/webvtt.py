"""A strict reader of WebVTT, by the syntax of the W3C's standard, section 4.1 (from memory).

A file is the line ``WEBVTT``, an empty line, and blocks parted by empty lines. A block is a comment
(``NOTE``) or a cue: an identifier without an arrow, a row of two times, and rows of text. Times
have two digits or more of hours, and exactly two, two and three of the rest; the end comes after
the start, and no cue starts before the one above it. In text `<` begins a tag and `&` an escape;
this reader allows no tag, and the escapes that the standard names.
"""

import re
from typing import NamedTuple

_TIME = re.compile(r"(?:(\d{2,}):)?([0-5]\d):([0-5]\d)\.(\d{3})")
_ESCAPE = re.compile(r"&(?:amp|lt|gt|lrm|rlm|nbsp|#\d+|#[xX][0-9a-fA-F]+);")
NAMED = {"&amp;": "&", "&lt;": "<", "&gt;": ">", "&nbsp;": "\u00a0"}


class Cue(NamedTuple):
    """Milliseconds, and the text with its escapes undone."""

    name: str
    start: int
    end: int
    text: str


def time(written: str) -> int:
    """Milliseconds. Raises ValueError where it is no time."""
    found = _TIME.fullmatch(written)
    if found is None:
        raise ValueError(f"{written!r} is no time")
    hours, minutes, seconds, rest = (int(one or 0) for one in found.groups())
    return ((hours * 60 + minutes) * 60 + seconds) * 1000 + rest


def read(data: bytes) -> list[Cue]:
    """The cues of a file. Raises ValueError for whatever the standard does not allow."""
    text = data.decode("utf-8").removeprefix("\ufeff")
    if "\0" in text or "\r" in text:
        raise ValueError("a zero, or a line break that this reader does not allow")
    lines = text.split("\n")
    if not re.fullmatch(r"WEBVTT(?:[ \t].*)?", lines[0]) or lines[1:2] != [""]:
        raise ValueError("the file does not begin with WEBVTT and an empty line")
    cues: list[Cue] = []
    for block in re.split(r"\n{2,}", "\n".join(lines[2:]).strip("\n")):
        rows = block.split("\n")
        if re.fullmatch(r"NOTE(?:[ \t].*)?", rows[0]):
            if "-->" in block:
                raise ValueError("an arrow in a comment")
            continue
        cues.append(_cue(rows))
        if len(cues) > 1 and cues[-1].start < cues[-2].start:
            raise ValueError(f"{cues[-1]} starts before the cue above it")
    return cues


def _cue(rows: list[str]) -> Cue:
    name = rows.pop(0) if "-->" not in rows[0] else ""
    times = re.fullmatch(r"(\S+)[ \t]+-->[ \t]+(\S+)", rows[0])
    if times is None:
        raise ValueError(f"{rows[0]!r} is no row of times")
    start, end = time(times[1]), time(times[2])
    if start >= end:
        raise ValueError(f"{rows[0]!r} ends before it starts")
    text = "\n".join(rows[1:])
    if not text.strip() or "-->" in text or "<" in text:
        raise ValueError(f"{text!r} is no text of a cue")
    if "&" in _ESCAPE.sub("", text):
        raise ValueError(f"{text!r} has an & that begins no escape")
    return Cue(name, start, end, _ESCAPE.sub(lambda one: NAMED.get(one[0], one[0]), text))

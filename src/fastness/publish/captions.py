"""Captions as WebVTT, and the times of the chapters.

Written from the W3C's WebVTT: The Web Video Text Tracks Format (Candidate Recommendation, 2019),
section 4, from memory: a file begins with the line ``WEBVTT``; blocks are parted by empty lines; a
cue is an optional identifier, a line of times and its text; `&`, `<` and `>` are escaped.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fastness.publish.lesson_show import Show, Timed

LONGEST = 84
"""Letters of one caption: two rows of 42 (common practice, no source)."""
ROW = 42


def vtt(show: Show) -> str:
    """The captions of all that is said, each at the time when it is said.

    A sentence that is too long for two rows is cut between words into captions that follow one
    another, each as long as its words take.
    """
    cues = [cue for picture in show.pictures for said in picture.said for cue in _cut(said)]
    parts = [
        "WEBVTT",
        f"NOTE\n{escaped(' '.join(show.title.split()))}, {show.words_a_minute} words a minute",
    ]
    parts += [
        f"{number}\n{moment(cue.start)} --> {moment(cue.end)}\n{_rows(cue.text)}"
        for number, cue in enumerate(cues, 1)
    ]
    return "\n\n".join(parts) + "\n"


def _cut(said: Timed) -> Iterator[Timed]:
    """A sentence as captions; times in proportion to the words."""
    words = said.text.split()
    length, start = said.end - said.start, 0
    for count in _counts(words):
        end = start + count
        yield Timed(
            " ".join(words[start:end]),
            said.start + length * start // len(words),
            said.start + length * end // len(words),
        )
        start = end


def _counts(words: Sequence[str]) -> list[int]:
    """How many words each caption has: as few captions as will do, about as long as each other."""
    total = len(" ".join(words))
    wanted = -(-total // LONGEST)
    counts, letters = [0], 0
    for word in words:
        more = letters + len(word) + (letters > 0)
        full = letters >= total / wanted or more > LONGEST
        if counts[-1] and full:
            counts.append(0)
            more = len(word)
        counts[-1] += 1
        letters = more
    return counts


def _rows(text: str) -> str:
    """A caption in two rows where it is longer than one."""
    if len(text) <= ROW:
        return escaped(text)
    words = text.split()
    at = min(
        range(1, len(words)) or [1],
        key=lambda at: abs(len(" ".join(words[:at])) - len(" ".join(words[at:]))),
    )
    rows = [" ".join(words[:at]), " ".join(words[at:])]
    return "\n".join(escaped(row) for row in rows if row)


def escaped(text: str) -> str:
    """A text in which nothing is a tag, an escape or an arrow of times."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def moment(milliseconds: int) -> str:
    """A time as WebVTT writes it: ``00:01:02.345``."""
    seconds, rest = divmod(milliseconds, 1000)
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}.{rest:03}"


def clock(milliseconds: int) -> str:
    """A time to the second, as on a clock: ``1:02`` or ``1:00:02``."""
    seconds = milliseconds // 1000
    if seconds < 3600:
        return f"{seconds // 60}:{seconds % 60:02}"
    return f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"


def chapters(show: Show) -> tuple[tuple[int, str], ...]:
    """When each heading, or each position that has none, begins, in milliseconds."""
    found: list[tuple[int, str]] = []
    for picture in show.pictures:
        if picture.chapter:
            found.append((picture.start, picture.chapter))
        found += [(said.start, said.chapter) for said in picture.said if said.chapter]
    return tuple(found)


def chapter_list(show: Show) -> str:
    """The chapters, a line each: ``00:01:02 Title``; the first begins at 00:00:00."""
    return "".join(f"{moment(start)[:8]} {title}\n" for start, title in chapters(show))

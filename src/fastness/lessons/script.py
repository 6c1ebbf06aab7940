"""Which prose belongs to which position: what is said before it, and what after.

Where a heading stands between two positions, all before the heading belongs to the first of them
and the rest to the second. Where none does, the last paragraph belongs to the second.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fastness.lessons.lesson import Block, Lesson, Prose
from fastness.lessons.prose import Passage, passages, sentences


@dataclass(frozen=True, slots=True)
class Said:
    """One sentence; `chapter` is the heading that it is the first one below."""

    text: str
    chapter: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """A position with what is said `before` and `after` it.

    `number` counts the positions from 1. `chapter` is the heading right above it, below which
    nothing is said.
    """

    number: int
    block: Block
    chapter: str
    before: tuple[Said, ...]
    after: tuple[Said, ...]

    @property
    def note(self) -> str:
        """All that is said of the position, in one paragraph."""
        return " ".join(one.text for one in (*self.before, *self.after))


def sections(lesson: Lesson) -> tuple[Section, ...]:
    """The positions of a lesson that can be read, each with its prose."""
    between: list[list[Passage]] = [[]]
    blocks: list[Block] = []
    for part in lesson.parts:
        if isinstance(part, Prose):
            between[-1] += passages(part.text)
        elif part.place is not None:
            blocks.append(part)
            between.append([])
    parted = [_parted(found) for found in between[1:-1]]
    behind = [*(after for after, _ in parted), between[-1]]
    ahead = [between[0], *(before for _, before in parted)]
    found = []
    for number, block in enumerate(blocks, 1):
        chapter, before = _said(ahead[number - 1])
        found.append(Section(number, block, chapter, before, _said(behind[number - 1])[1]))
    return tuple(found)


def _parted(found: Sequence[Passage]) -> tuple[list[Passage], list[Passage]]:
    """Prose between two positions: what belongs to the first, and what to the second."""
    at = next((at for at, one in enumerate(found) if one.kind == "heading"), None)
    if at is None:
        spoken = [at for at, one in enumerate(found) if one.kind != "verbatim"]
        at = spoken[-1] if spoken else len(found)
    return list(found[:at]), list(found[at:])


def _said(found: Sequence[Passage]) -> tuple[str, tuple[Said, ...]]:
    """The heading below which nothing is said before the position, and what is said."""
    said: list[Said] = []
    heading = ""
    for one in found:
        if one.kind == "heading":
            heading = one.text
        elif one.kind != "verbatim":
            for text in sentences(one.text):
                said.append(Said(text, heading))
                heading = ""
    return heading, tuple(said)

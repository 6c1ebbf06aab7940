"""The prose of a lesson, read from its Markdown as plain text: headings, paragraphs, points."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from fastness.lessons.lesson import Lesson, Prose

if TYPE_CHECKING:
    from markdown_it.token import Token

Kind = Literal["heading", "paragraph", "point", "verbatim"]

# A full stop behind a single letter or a move's number ends no sentence: "z. B.", "12. Nf3".
_ENDS = re.compile(
    r"(?<=[.!?…])(?<!\b\w\.)(?<!\b\d\d\.)[\"'”“’»)\]]*\s+(?=[^\W_a-zäöüß]|[„“\"'(«])"
)

_CLAUSE = re.compile(r"(?<=[,;:])\s+")


@dataclass(frozen=True, slots=True)
class Passage:
    """A heading (`level` 1 to 6), a paragraph, a point of a list, or a block of code as it is."""

    kind: Kind
    text: str
    level: int = 0


def passages(markdown: str) -> tuple[Passage, ...]:
    """The passages of a piece of Markdown (CommonMark), without emphasis and links.

    HTML is left out, so that a comment is a note to oneself.
    """
    from markdown_it import MarkdownIt

    found: list[Passage] = []
    kind: Kind = "paragraph"
    level = depth = 0
    for token in MarkdownIt("commonmark").parse(markdown):
        if token.type in ("bullet_list_open", "ordered_list_open"):
            depth += 1
        elif token.type in ("bullet_list_close", "ordered_list_close"):
            depth -= 1
        elif token.type == "heading_open":
            kind, level = "heading", int(token.tag[1])
        elif token.type == "paragraph_open":
            kind, level = "point" if depth else "paragraph", 0
        elif token.type == "inline":
            found.append(Passage(kind, _plain(token), level))
        elif token.type in ("fence", "code_block"):
            found.append(Passage("verbatim", token.content.rstrip("\n")))
    return tuple(one for one in found if one.text)


def _plain(token: Token) -> str:
    """The text of a passage as it is read aloud."""
    told = [
        " " if child.type in ("softbreak", "hardbreak") else child.content
        for child in token.children or ()
        if child.type != "html_inline"
    ]
    return " ".join("".join(told).split())


def sentences(text: str) -> tuple[str, ...]:
    """A paragraph sentence by sentence."""
    found, start = [], 0
    for end in _ENDS.finditer(text):
        found.append(text[start : end.end()].strip())
        start = end.end()
    return tuple(one for one in (*found, text[start:].strip()) if one)


def clauses(sentence: str) -> tuple[str, ...]:
    """A sentence from comma to comma, colons and semicolons too."""
    return tuple(_CLAUSE.split(sentence))


def title_of(lesson: Lesson, otherwise: str) -> str:
    """The first heading of the lesson, or `otherwise` where there is none."""
    for part in lesson.parts:
        if isinstance(part, Prose):
            for one in passages(part.text):
                if one.kind == "heading":
                    return one.text
    return otherwise

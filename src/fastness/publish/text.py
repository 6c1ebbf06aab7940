"""A document as Markdown, to be changed by the teacher before it is handed on."""

from __future__ import annotations

import re

from fastness.language import Language, language
from fastness.publish.diagram import diagram_in_words
from fastness.publish.document import (
    Beside,
    Block,
    Diagram,
    Diagrams,
    Document,
    Grid,
    Heading,
    NewPage,
    Paragraph,
    Plot,
    Points,
    ToFill,
)

# A number that begins a line makes a list by the point after it, and only that can be escaped.
_MARKS = re.compile(r"^(\d+)([.)])(?=\s|$)|^[-+]|[\\`*_{}\[\]<>#|&~]")

_LINE = "\\_" * 20


def text(document: Document) -> str:
    """The document as Markdown: positions as FEN with the units in words, no pictures."""
    words = language(document.language)
    parts = [f"# {_plain(document.title)}"]
    parts += [_block(block, words) for block in document.blocks]
    if document.footer:
        parts.append(_plain(document.footer))
    return "\n\n".join(part for part in parts if part) + "\n"


def _plain(told: str) -> str:
    """A text in which nothing is markup."""
    one_line = " ".join(told.split())
    return _MARKS.sub(lambda found: f"{found[1] or ''}\\{found[2] or found[0]}", one_line)


def _block(block: Block, words: Language) -> str:
    match block:
        case Heading():
            return f"{'#' * (block.level + 1)} {_plain(block.text)}"
        case Paragraph():
            return _plain(block.text)
        case Points():
            return "\n".join(f"- {_plain(item)}" for item in block.items)
        case Diagrams():
            return "\n\n".join(_diagram(one, words) for one in block.diagrams if one)
        case Beside():
            return "\n\n".join(
                [
                    *map(_plain, block.texts[:1]),
                    _diagram(block.diagram, words),
                    *map(_plain, block.texts[1:]),
                ]
            )
        case Grid():
            return _table(block)
        case Plot():
            return f"{_plain(block.alt)}\n\n{_table(block.grid)}"
        case ToFill():
            return "  \n".join(
                f"{_plain(label)}: \\_\\_\\_\\_\\_\\_\\_\\_" for label in block.labels
            )
        case NewPage():
            return "---"


def _diagram(one: Diagram, words: Language) -> str:
    where = _plain(diagram_in_words(one.fen, one.ringed, words, sketch=one.sketch))
    label = f"**{_plain(one.label)}** " if one.label else ""
    parts = [label + _plain(one.caption), f"    {one.fen}", where, *[_LINE] * one.lines]
    return "\n\n".join(part for part in parts if part)


def _table(grid: Grid) -> str:
    marks = ["---:" if at >= grid.numbers else "---" for at in range(len(grid.header))]
    rows = [grid.header, marks, *grid.rows]
    told = [[cell if row is marks else _plain(cell) for cell in row] for row in rows]
    return "\n".join(f"| {' | '.join(row)} |" for row in told)

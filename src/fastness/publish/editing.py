"""A document with some of its texts written by the teacher."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Any

from fastness.errors import InputError
from fastness.publish.document import Document, Heading, Paragraph

LONGEST = 5000
"""Letters that a text may have."""
_TEXTS = {"text", "items", "texts", "caption", "diagrams", "diagram", "blocks", "title", "footer"}


def edited(document: Document, texts: Mapping[str, str]) -> Document:
    """The document with other texts in the places named; a heading or paragraph left empty goes.

    A place is the way to a text: ``title``, ``blocks.2.text``, ``blocks.4.items.0``,
    ``blocks.5.diagrams.1.caption``. Raises InputError where there is no text in a place.
    """
    changed: Any = document
    for place, text in texts.items():
        if len(text) > LONGEST:
            raise InputError(f"the text at {place} has {len(text)} letters, and may have {LONGEST}")
        changed = _with(changed, place.split("."), text, place)
    kept = [
        block
        for block in changed.blocks
        if not isinstance(block, Heading | Paragraph) or block.text.strip()
    ]
    whole: Document = dataclasses.replace(changed, blocks=tuple(kept))
    return whole


def _with(part: Any, way: list[str], text: str, place: str) -> Any:
    if not way:
        if isinstance(part, str):
            return text
        raise InputError(f"there is no text at {place}")
    first, rest = way[0], way[1:]
    if isinstance(part, tuple | list) and first.isdecimal() and int(first) < len(part):
        at = int(first)
        return (*part[:at], _with(part[at], rest, text, place), *part[at + 1 :])
    if first in _TEXTS and hasattr(part, first):
        value = _with(getattr(part, first), rest, text, place)
        return dataclasses.replace(part, **{first: value})
    raise InputError(f"there is no text at {place}")

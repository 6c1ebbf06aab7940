"""Slips for a group: who it is for, and the address to type; to be printed and cut."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.language import ENGLISH, Language
from fastness.publish.document import Block, Document, Heading, Paper, Paragraph


def slips(
    group: str,
    links: Sequence[tuple[str, str]],
    language: Language = ENGLISH,
    *,
    paper: Paper = "a4",
    large: bool = False,
) -> Document:
    """A slip for each name with its address, in the order given."""
    say = language.say
    blocks: list[Block] = [Paragraph(say("Cut between the names."), small=True)]
    for name, address in links:
        blocks += [
            Heading(name),
            Paragraph(say("The page, in the club's network: {address}", address=address)),
        ]
    if not links:
        blocks.append(Paragraph(say("There is nobody in this group yet.")))
    title = say("{group}: links", group=group)
    return Document(
        title, tuple(blocks), language=language.code, paper=paper, large=large, black=True
    )

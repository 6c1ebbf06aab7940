"""A document as a tagged PDF, or as pictures of its pages, by typst.

All texts reach the template as data, so that nothing in them is taken for markup. The type faces
are those inside typst, so that a page looks the same on every machine; only where these lack a
letter are the machine's own looked at.
"""

from __future__ import annotations

import dataclasses
import json
import re
from importlib.resources import files
from typing import Any, Literal

from fastness.errors import PrintError
from fastness.language import language
from fastness.publish.diagram import (
    LETTERS,
    SMALL_LETTERS,
    diagram_in_words,
    svg_position,
)
from fastness.publish.document import Beside, Block, Diagram, Diagrams, Document, Plot
from fastness.publish.silhouettes import BRICK, INK, PAPER

STANDARD: Literal["ua-1"] = "ua-1"
"""PDF/UA-1 (ISO 14289-1): tagged for screen readers."""
BLACK = "#000000"
SCREEN_FACE = "DejaVu Sans Mono"
"""The face of the coordinates: of those inside typst the one without serifs."""


def pdf(document: Document) -> bytes:
    """The document as PDF/UA-1; the same document gives the same bytes.

    Raises PrintError where no type face at hand has the letters of a text.
    """
    return _compiled(document, "pdf")[0]


def pictures(document: Document, dots_an_inch: float = 110) -> list[bytes]:
    """The pages of the document as PNG pictures."""
    return _compiled(document, "png", dots_an_inch)


def own_faces_have(document: Document) -> bool:
    """Whether the faces inside typst have every letter of a document; else the machine's do.

    Raises PrintError where no type face at hand has the letters of a text.
    """
    return _laid_out(document, "pdf", None)[1]


def _compiled(
    document: Document, kind: Literal["pdf", "png"], dots_an_inch: float | None = None
) -> list[bytes]:
    return _laid_out(document, kind, dots_an_inch)[0]


def _laid_out(
    document: Document, kind: Literal["pdf", "png"], dots_an_inch: float | None
) -> tuple[list[bytes], bool]:
    """The pages, and whether the faces inside typst were enough."""
    import typst

    def made(*, own_faces_only: bool) -> object:
        return typst.compile(
            files("fastness.publish").joinpath("document.typ").read_bytes(),
            format=kind,
            ppi=dots_an_inch,
            ignore_system_fonts=own_faces_only,
            sys_inputs={"document": json.dumps(as_data(document))},
            pdf_standards=[STANDARD] if kind == "pdf" else [],
            timestamp=0,
        )

    own = True
    try:
        pages = made(own_faces_only=True)
    except typst.TypstError:
        # A name may have letters that only a face of this machine has.
        own = False
        try:
            pages = made(own_faces_only=False)
        except typst.TypstError as error:
            raise PrintError(_what_failed(error.message)) from error
    # A single page comes as it is, several in a list.
    listed = pages if isinstance(pages, list) else [pages]
    return [page for page in listed if isinstance(page, bytes)], own


def _what_failed(message: str) -> str:
    found = re.search(r'the text `(".*?")` could not be displayed', message)
    if found is None:
        return f"the document cannot be laid out: {message}"
    return (
        f"no type face on this machine has the letters {found[1]}; install one that has them, or"
        " write them otherwise"
    )


def as_data(document: Document) -> dict[str, Any]:
    """The document as the template reads it, with pictures drawn."""
    return {
        "title": document.title,
        "language": document.language,
        "paper": document.paper,
        "large": document.large,
        "footer": document.footer,
        "ink": BLACK if document.black else INK,
        "brick": BLACK if document.black else BRICK,
        "blocks": [_block(block, document) for block in document.blocks],
    }


def _block(block: Block, document: Document) -> dict[str, Any]:
    kind = type(block).__name__
    if isinstance(block, Diagrams):
        small = document.large or block.across > 1
        drawn = [one and _diagram(one, document, small=small) for one in block.diagrams]
        return {"kind": kind, "across": block.across, "diagrams": drawn}
    if isinstance(block, Beside):
        drawn_beside = _diagram(block.diagram, document, small=True)
        return {"kind": kind, "diagram": drawn_beside, "texts": block.texts}
    if isinstance(block, Plot):
        return {"kind": kind, "svg": block.svg, "alt": block.alt}
    return {"kind": kind, **dataclasses.asdict(block)}


def _diagram(one: Diagram, document: Document, *, small: bool) -> dict[str, Any]:
    """`small`: the board is small, or the print large, so that the coordinates must be larger."""
    words = language(document.language)
    svg = svg_position(
        one.fen,
        ringed=one.ringed,
        flip=one.flip,
        sketch=one.sketch,
        font=SCREEN_FACE,
        letters=SMALL_LETTERS if small else LETTERS,
        language=words,
    )
    # Printed paper has a white of its own.
    svg = svg.replace(PAPER, "#ffffff")
    if document.black:
        svg = svg.replace(INK, BLACK).replace(BRICK, BLACK)
    alt = diagram_in_words(one.fen, one.ringed, words, sketch=one.sketch)
    return {
        "svg": svg,
        "alt": alt,
        "label": one.label,
        "caption": one.caption,
        "lines": one.lines,
    }

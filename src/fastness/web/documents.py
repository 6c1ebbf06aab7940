"""Documents for a page to lay out, and as files to print, to show or to change."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Sequence
from typing import Annotated, Literal
from urllib.parse import quote

from fastapi.responses import Response
from pydantic import BaseModel, Field

from fastness.language import LanguageName, language
from fastness.publish import html, pdf, text
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
    Paper,
    Paragraph,
    Plot,
    Points,
    ToFill,
)

Form = Literal["pdf", "html", "md"]
"""PDF to print, HTML for a screen, Markdown to change the words."""
MEDIA_TYPES: dict[Form, str] = {
    "pdf": "application/pdf",
    "html": "text/html; charset=utf-8",
    "md": "text/markdown; charset=utf-8",
}
MOST_EDITS = 500


class HeadingTold(BaseModel):
    """A heading; level 1 stands below the title."""

    kind: Literal["heading"] = "heading"
    text: str
    level: int


class ParagraphTold(BaseModel):
    """Some sentences; `small` for notes."""

    kind: Literal["paragraph"] = "paragraph"
    text: str
    small: bool


class PointsTold(BaseModel):
    """A list of short texts."""

    kind: Literal["points"] = "points"
    items: list[str]


class DiagramTold(BaseModel):
    """A position with what stands in a broken ring, and words below it; `alt` tells it in words.

    `flip`: Black is at the bottom. `lines` are empty lines to write on. `label` stands before the
    caption.
    """

    fen: str
    caption: str
    ringed: list[str]
    flip: bool
    lines: int
    label: str
    alt: str


class DiagramsTold(BaseModel):
    """Diagrams side by side, `across` in a row; null leaves a place empty."""

    kind: Literal["diagrams"] = "diagrams"
    diagrams: list[DiagramTold | None]
    across: int


class BesideTold(BaseModel):
    """A small diagram with paragraphs beside it; the first is in bold."""

    kind: Literal["beside"] = "beside"
    diagram: DiagramTold
    texts: list[str]


class GridTold(BaseModel):
    """A table; the cells from `numbers` on, counted from 0, are numbers."""

    kind: Literal["grid"] = "grid"
    header: list[str]
    rows: list[list[str]]
    numbers: int


class PlotTold(BaseModel):
    """A drawing of numbers as SVG, in words, and as a table."""

    kind: Literal["plot"] = "plot"
    svg: str
    alt: str
    grid: GridTold


class ToFillTold(BaseModel):
    """A line for each label to write on by hand."""

    kind: Literal["to fill"] = "to fill"
    labels: list[str]


class NewPageTold(BaseModel):
    """The rest begins on a new page."""

    kind: Literal["new page"] = "new page"


BlockTold = Annotated[
    HeadingTold
    | ParagraphTold
    | PointsTold
    | DiagramsTold
    | BesideTold
    | GridTold
    | PlotTold
    | ToFillTold
    | NewPageTold,
    Field(discriminator="kind"),
]


class DocumentTold(BaseModel):
    """A document as a page shows it."""

    title: str
    language: LanguageName
    blocks: list[BlockTold]
    footer: str


class Print(BaseModel):
    """How a document is made into a file.

    `texts` are the teacher's own words by their place: ``title``, ``blocks.2.text``,
    ``blocks.4.items.0``, ``blocks.5.diagrams.1.caption``, ``blocks.6.texts.0``, ``footer``.
    """

    form: Form = "pdf"
    paper: Paper = "a4"
    large: bool = Field(False, description="Large print.")
    language: LanguageName = "en"
    texts: dict[Annotated[str, Field(max_length=60)], Annotated[str, Field(max_length=5000)]] = (
        Field({}, max_length=MOST_EDITS, examples=[{"title": "What Ivy's games show"}])
    )


def told(document: Document) -> DocumentTold:
    """A document as a page shows it."""
    code: LanguageName = "de" if document.language == "de" else "en"
    return DocumentTold(
        title=document.title,
        language=code,
        blocks=[_block(block, code) for block in document.blocks],
        footer=document.footer,
    )


def _block(block: Block, code: LanguageName) -> BlockTold:
    match block:
        case Heading():
            return HeadingTold(text=block.text, level=block.level)
        case Paragraph():
            return ParagraphTold(text=block.text, small=block.small)
        case Points():
            return PointsTold(items=list(block.items))
        case Diagrams():
            drawn = [_diagram(one, code) if one else None for one in block.diagrams]
            return DiagramsTold(diagrams=drawn, across=block.across)
        case Beside():
            return BesideTold(diagram=_diagram(block.diagram, code), texts=list(block.texts))
        case Grid():
            return _grid(block)
        case Plot():
            return PlotTold(svg=block.svg, alt=block.alt, grid=_grid(block.grid))
        case ToFill():
            return ToFillTold(labels=list(block.labels))
        case NewPage():
            return NewPageTold()


def _grid(grid: Grid) -> GridTold:
    rows = [list(row) for row in grid.rows]
    return GridTold(header=list(grid.header), rows=rows, numbers=grid.numbers)


def _diagram(one: Diagram, code: LanguageName) -> DiagramTold:
    return DiagramTold(
        fen=one.fen,
        caption=one.caption,
        ringed=list(one.ringed),
        flip=one.flip,
        lines=one.lines,
        label=one.label,
        alt=diagram_in_words(one.fen, one.ringed, language(code)),
    )


def content(document: Document, form: Form) -> bytes:
    """A document as the bytes of a file."""
    if form == "pdf":
        return pdf(document)
    return (html(document) if form == "html" else text(document)).encode()


def file(data: bytes, name: str, media_type: str) -> Response:
    """A file to be kept by the browser, never shown in the workbench's own pages."""
    plain = re.sub(r"[^A-Za-z0-9. -]", "_", name)
    full = quote(name, safe="")
    disposition = f"attachment; filename=\"{plain}\"; filename*=UTF-8''{full}"
    headers = {"content-disposition": disposition, "content-security-policy": "sandbox"}
    return Response(data, headers=headers, media_type=media_type)


def document_file(document: Document, form: Form) -> Response:
    """A document as a file named after its title."""
    return file(content(document, form), f"{document.title}.{form}", MEDIA_TYPES[form])


def zipped(files: Sequence[tuple[str, bytes]]) -> bytes:
    """Files as one zip; the same files give the same bytes."""
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files:
            archive.writestr(zipfile.ZipInfo(name), data)
    return whole.getvalue()


FILE_ANSWER: dict[int | str, dict[str, object]] = {
    200: {
        "description": "The file.",
        "content": {"application/octet-stream": {"schema": {"type": "string", "format": "binary"}}},
    }
}
"""How a route that answers with a file is described."""

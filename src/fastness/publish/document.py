"""A printed page as data: what a report or a sheet says, before it is laid out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fastness.publish.sketch import NOTHING, Sketch

Paper = Literal["a4", "us-letter"]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; level 1 stands below the document's title."""

    text: str
    level: int = 1


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Some sentences; `small` for notes."""

    text: str
    small: bool = False


@dataclass(frozen=True, slots=True)
class Points:
    """A list of short texts."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Diagram:
    """A position with what stands in a broken ring, and words below it.

    `flip` puts Black at the bottom. `lines` are empty lines to write an answer on. `label` stands
    before the caption in bold, such as the number of an exercise. `sketch` is drawn besides.
    """

    fen: str
    caption: str
    ringed: tuple[str, ...] = ()
    flip: bool = False
    lines: int = 0
    label: str = ""
    sketch: Sketch = NOTHING


@dataclass(frozen=True, slots=True)
class Diagrams:
    """Diagrams side by side, `across` of them in a row; None leaves a place empty."""

    diagrams: tuple[Diagram | None, ...]
    across: int = 2


@dataclass(frozen=True, slots=True)
class Beside:
    """A small diagram with paragraphs to its right, such as an answer; the first is in bold."""

    diagram: Diagram
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """A table; the cells from `numbers` on, counted from 0, are numbers and stand to the right."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: int = 1


@dataclass(frozen=True, slots=True)
class Plot:
    """A drawing of numbers: its SVG, what it shows in words, and the numbers as a table."""

    svg: str
    alt: str
    grid: Grid


@dataclass(frozen=True, slots=True)
class ToFill:
    """A line for each label to write on by hand, such as the name and the date."""

    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NewPage:
    """The rest begins on a new page."""


Block = Heading | Paragraph | Points | Diagrams | Beside | Grid | Plot | ToFill | NewPage


@dataclass(frozen=True, slots=True)
class Document:
    """What is to be printed. `language` is a code such as "en"; `large` is large print.

    `black`: there is no colour, as on a sheet that is photocopied.
    """

    title: str
    blocks: Sequence[Block]
    language: str = "en"
    paper: Paper = "a4"
    large: bool = False
    black: bool = False
    footer: str = ""

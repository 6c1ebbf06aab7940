"""The pictures of a lesson, 1920 by 1080, for a recording or a projector."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any, Literal

from fastness.errors import PrintError
from fastness.publish.diagram import LETTERS, svg_position
from fastness.publish.document import Document, Paragraph
from fastness.publish.lesson_show import Picture, Show
from fastness.publish.pdf import SCREEN_FACE, own_faces_have
from fastness.publish.silhouettes import BRICK, INK, PAPER

WIDTH, HEIGHT = 1920, 1080
"""Pixels."""
POINTS_AN_INCH = 72
"""Dots an inch with which a point is a pixel."""
AT_ONCE = 40
"""Pictures laid out together, so that a long lesson takes no more memory than a short one."""


def lesson_pictures(show: Show) -> list[tuple[str, bytes]]:
    """The file names and contents: ``001.png``, ``001.svg`` and so on.

    Raises PrintError where no type face at hand has the letters of a text.
    """
    own_only = own_faces_have(_texts(show))
    found: list[tuple[str, bytes]] = []
    for first in range(0, len(show.pictures), AT_ONCE):
        some = show.pictures[first : first + AT_ONCE]
        pngs, svgs = (_drawn(show, some, kind, own_only) for kind in ("png", "svg"))
        for picture, png, svg in zip(some, pngs, svgs, strict=True):
            name = picture_name(picture.number)
            found += [(f"{name}.png", png), (f"{name}.svg", _in_pixels(svg))]
    return found


def picture_name(number: int) -> str:
    """The name of a picture's files: ``001``."""
    return f"{number:03}"


def _in_pixels(svg: bytes) -> bytes:
    """The drawing as large as the picture, where typst gives its size in points."""
    return svg.replace(b'width="1920pt" height="1080pt"', b'width="1920" height="1080"', 1)


def _texts(show: Show) -> Document:
    rows = dict.fromkeys([one.step.words for one in show.pictures])
    return Document(show.title, [Paragraph(row) for row in rows], show.language.code)


def _drawn(
    show: Show, some: tuple[Picture, ...], kind: Literal["png", "svg"], own_only: bool
) -> list[bytes]:
    import typst

    told = json.dumps(_as_data(show, some))
    try:
        pages: object = typst.compile(
            files("fastness.publish").joinpath("pictures.typ").read_bytes(),
            format=kind,
            ppi=POINTS_AN_INCH if kind == "png" else None,
            ignore_system_fonts=own_only,
            sys_inputs={"pictures": told},
            timestamp=0,
        )
    except typst.TypstError as error:
        raise PrintError(f"the pictures cannot be laid out: {error.message}") from error
    listed = pages if isinstance(pages, list) else [pages]
    return [page for page in listed if isinstance(page, bytes)]


def _as_data(show: Show, some: tuple[Picture, ...]) -> dict[str, Any]:
    return {
        "title": show.title,
        "language": show.language.code,
        "ink": INK,
        "brick": BRICK,
        "paper": PAPER,
        "pictures": [
            {
                "svg": svg_position(
                    one.step.fen,
                    ringed=one.step.ringed,
                    sketch=one.step.sketch,
                    font=SCREEN_FACE,
                    letters=LETTERS,
                    language=show.language,
                ),
                "words": one.step.words,
                "line": one.step.line,
            }
            for one in some
        ],
    }

"""Builds the teacher's manual, one PDF (PDF/UA-1), from the chapters in docs/manual.

Usage: python -m scripts.manual [OUT.pdf]

Without a name it is put where the workbench serves it from and a wheel takes it from. The chapters
are Markdown; `scripts/manual.typ` lays them out.
"""

from __future__ import annotations

import json
import struct
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import typst
from markdown_it import MarkdownIt
from markdown_it.tree import SyntaxTreeNode

from fastness import __version__
from fastness.web.settings import MANUAL

ROOT = Path(__file__).parents[1]
FOLDER = ROOT / "docs" / "manual"
TEMPLATE = Path(__file__).with_name("manual.typ")
TITLE = "The teacher’s manual"

WIDEST = 126.0
"""Millimetres that a picture may be wide."""
DOT = 0.15
"""Millimetres of paper for a dot of a picture of a page."""
DIAGRAM = 62.0
"""Millimetres for a diagram."""

Told = dict[str, Any]
"""A part of the text as the template reads it."""


def chapters() -> list[Path]:
    """The files of the chapters, in their order."""
    return sorted(FOLDER.glob("[0-9][0-9]-*.md"))


def nodes(path: Path) -> list[SyntaxTreeNode]:
    """A chapter's blocks."""
    reader = MarkdownIt("commonmark").enable("table")
    return SyntaxTreeNode(reader.parse(path.read_text(encoding="utf-8"))).children


def as_data() -> Told:
    """The whole manual as the template reads it."""
    blocks = [block for path in chapters() for block in _blocks(path, nodes(path))]
    return {"title": TITLE, "version": __version__, "blocks": blocks}


def build() -> bytes:
    """The manual as PDF/UA-1; the same text gives the same bytes."""
    made = typst.compile(
        TEMPLATE,
        root=ROOT,
        format="pdf",
        ignore_system_fonts=True,
        sys_inputs={"manual": json.dumps(as_data())},
        pdf_standards=["ua-1"],
        timestamp=0,
    )
    assert isinstance(made, bytes)
    return made


def _blocks(path: Path, found: list[SyntaxTreeNode]) -> Iterator[Told]:
    for node in found:
        yield from _block(path, node)


def _block(path: Path, node: SyntaxTreeNode) -> Iterator[Told]:
    kind = node.type
    if kind == "heading":
        level = int(node.tag[1])
        label = path.stem if level == 1 else ""
        yield {"kind": kind, "level": level, "label": label, "runs": _inline(path, node)}
    elif kind == "paragraph":
        yield from _paragraph(path, node)
    elif kind in ("bullet_list", "ordered_list"):
        items = [list(_blocks(path, item.children)) for item in node.children]
        yield {"kind": "list", "ordered": kind == "ordered_list", "items": items}
    elif kind == "fence":
        yield {"kind": "code", "text": node.content.rstrip("\n")}
    elif kind == "table":
        rows = [
            [_inline(path, cell) for cell in row.children]
            for part in node.children
            for row in part.children
        ]
        yield {"kind": kind, "header": rows[0], "rows": rows[1:]}
    else:
        raise ValueError(f"{path.name}: the template knows no {kind}")


def _paragraph(path: Path, node: SyntaxTreeNode) -> Iterator[Told]:
    """A paragraph of pictures is pictures, side by side; any other is text."""
    inline = node.children[0].children
    pictures = [one for one in inline if one.type == "image"]
    if pictures:
        yield {"kind": "pictures", "pictures": [_picture(path, one) for one in pictures]}
    else:
        yield {"kind": "paragraph", "runs": _inline(path, node)}


def _picture(path: Path, node: SyntaxTreeNode) -> Told:
    file = (path.parent / str(node.attrs["src"])).resolve()
    width = DIAGRAM
    if file.suffix == ".png":
        dots = struct.unpack(">I", file.read_bytes()[16:20])[0]
        width = min(WIDEST, dots * DOT)
    return {"path": f"/{file.relative_to(ROOT)}", "alt": node.content, "width": width}


def _inline(path: Path, node: SyntaxTreeNode) -> list[Told]:
    """The pieces of a text; `node` holds an inline node."""
    return [run for child in node.children[0].children for run in _runs(path, child)]


def _runs(path: Path, node: SyntaxTreeNode) -> Iterator[Told]:
    if node.type == "text":
        yield {"kind": "text", "text": node.content}
    elif node.type == "softbreak":
        yield {"kind": "text", "text": " "}
    elif node.type == "code_inline":
        yield {"kind": "code", "text": node.content}
    elif node.type in ("strong", "em", "link"):
        runs = [run for child in node.children for run in _runs(path, child)]
        address = str(node.attrs.get("href", ""))
        chapter = Path(address).stem if (path.parent / address) in chapters() else ""
        # What lies outside the manual is named, since nobody knows where the reader has it.
        yield {"kind": node.type, "runs": runs, "to": chapter}
    else:
        raise ValueError(f"{path.name}: the template knows no {node.type}")


def main() -> None:
    """Builds it, and says where it is."""
    to = Path(sys.argv[1]) if sys.argv[1:] else MANUAL
    data = build()
    to.write_bytes(data)
    print(f"{to}: {len(data) / 1e6:.1f} MB")


if __name__ == "__main__":
    main()

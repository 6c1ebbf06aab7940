"""A document as one HTML file that asks nothing of any other: for a screen, or to print."""

from __future__ import annotations

from html import escape
from importlib.resources import files

from fastness.language import Language, language
from fastness.publish.diagram import SMALL_LETTERS, diagram_in_words, svg_position
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


def html(document: Document) -> str:
    """The document as a page with everything in it."""
    style = files("fastness.publish").joinpath("document.css").read_text("utf-8")
    words = language(document.language)
    body = "\n".join(_block(block, number, words) for number, block in enumerate(document.blocks))
    footer = f"<footer>{escape(document.footer)}</footer>\n" if document.footer else ""
    kinds = " ".join(name for name in ("large", "black") if getattr(document, name))
    shown_as = f' class="{kinds}"' if kinds else ""
    return (
        f'<!doctype html>\n<html lang="{escape(document.language)}">\n<head>\n'
        '<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(document.title)}</title>\n<style>\n{style}</style>\n</head>\n"
        f"<body{shown_as}>\n<main>\n<h1>{escape(document.title)}</h1>\n{body}\n</main>\n"
        f"{footer}</body>\n</html>\n"
    )


def _block(block: Block, number: int, words: Language) -> str:
    match block:
        case Heading():
            level = block.level + 1
            return f"<h{level}>{escape(block.text)}</h{level}>"
        case Paragraph():
            small = ' class="small"' if block.small else ""
            return f"<p{small}>{escape(block.text)}</p>"
        case Points():
            items = "".join(f"<li>{escape(item)}</li>" for item in block.items)
            return f"<ul>{items}</ul>"
        case Diagrams():
            drawn = [
                _figure(one, f"{number}-{at}", words)
                for at, one in enumerate(block.diagrams)
                if one
            ]
            return f'<div class="diagrams">{"".join(drawn)}</div>'
        case Beside():
            first = f"<p><strong>{escape(block.texts[0])}</strong></p>" if block.texts else ""
            texts = first + "".join(f"<p>{escape(one)}</p>" for one in block.texts[1:])
            figure = _figure(block.diagram, str(number), words)
            return f'<div class="beside">{figure}<div>{texts}</div></div>'
        case Grid():
            return _table(block)
        case Plot():
            # The numbers stand below the drawing for those who do not see it, and those who ask.
            return (
                f'<figure class="plot" role="group" aria-label="{escape(block.alt)}">{block.svg}'
                f"<details><summary>{escape(block.alt)}</summary>{_table(block.grid)}</details>"
                "</figure>"
            )
        case ToFill():
            cells = "".join(f"<span>{escape(label)}</span>" for label in block.labels)
            return f'<p class="to-fill">{cells}</p>'
        case NewPage():
            return '<hr class="new-page">'


def _figure(one: Diagram, number: str, language: Language) -> str:
    svg = svg_position(
        one.fen,
        ringed=one.ringed,
        flip=one.flip,
        sketch=one.sketch,
        letters=SMALL_LETTERS,
        language=language,
    )
    # Several drawings on one page must not share the name of the hatching.
    svg = svg.replace("fastness-hatch", f"hatch-{number}")
    words = escape(diagram_in_words(one.fen, one.ringed, language, sketch=one.sketch))
    svg = svg.replace('role="img"', f'role="img" aria-label="{words}"')
    lines = '<span class="line"></span>' * one.lines
    label = f"<strong>{escape(one.label)}</strong> " if one.label else ""
    return f"<figure>{svg}<figcaption>{label}{escape(one.caption)}{lines}</figcaption></figure>"


def _table(grid: Grid) -> str:
    head = "".join(_cell("th", at, grid, cell) for at, cell in enumerate(grid.header))
    rows = "".join(
        "<tr>" + "".join(_cell("td", at, grid, cell) for at, cell in enumerate(row)) + "</tr>"
        for row in grid.rows
    )
    return f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"


def _cell(name: str, at: int, grid: Grid, text: str) -> str:
    scope = ' scope="col"' if name == "th" else ""
    number = ' class="number"' if at >= grid.numbers else ""
    return f"<{name}{scope}{number}>{escape(text)}</{name}>"

"""Documents in their three forms: PDF, HTML and text."""

import dataclasses
import re
import zlib
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from fastness.errors import PrintError
from fastness.publish import html, pdf, pictures, position_in_words, text
from fastness.publish.diagram import diagram_in_words
from fastness.publish.document import (
    Diagram,
    Diagrams,
    Document,
    Grid,
    Heading,
    NewPage,
    Paragraph,
    Points,
    ToFill,
)
from fastness.publish.pdf import as_data
from fastness.publish.plots import held_by_period

FEN = "rnbqkbnr/ppp2ppp/4p3/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R b KQkq - 1 3"
HOSTILE = '#eval(1) *stars* _line_ $x$ <b>&amp; `code` @label [x](y) | // /* \\ ~ "q"'
DOCUMENT = Document(
    "Ivy: what your games show",
    (
        ToFill(("Name", "Date")),
        Heading("You held this"),
        Paragraph("Something of yours was in danger here."),
        Diagrams((Diagram(FEN, "You played 3...Be7.", ("d8",), flip=True),), across=1),
        Heading("Three more", 2),
        Diagrams(tuple(Diagram(FEN, f"{at}. Black to move.", lines=2) for at in (1, 2, 3)), 3),
        Points(("First point.", "Second point.")),
        Grid(("Cause", "fell"), (("fork", "3"), ("pin", "1"))),
        held_by_period([("2026-01", 3, 5), ("2026-02", 4, 4)]),
        NewPage(),
        Paragraph(HOSTILE, small=True),
        Paragraph("Zoë Łukasz Müller, Ελένη, Дмитрий"),
    ),
    footer="2 games",
)
TEXTS = (
    "Ivy: what your games show",
    "You held this",
    "Something of yours was in danger here.",
    "You played 3...Be7.",
    "Three more",
    "2. Black to move.",
    "Second point.",
    "fork",
    "Name",
    "2 games",
)


class Plain(HTMLParser):
    """The text of a page, without its style and its drawings."""

    def __init__(self) -> None:
        super().__init__()
        self.told: list[str] = []
        self.inside: list[str] = []

    def handle_starttag(self, tag: str, _attrs: object) -> None:
        if tag in ("style", "svg"):
            self.inside.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if self.inside and self.inside[-1] == tag:
            self.inside.pop()

    def handle_data(self, data: str) -> None:
        if not self.inside:
            self.told.append(data)


def shown(page: str) -> str:
    reader = Plain()
    reader.feed(page)
    return " ".join(" ".join(reader.told).split())


def without_marks(markdown: str) -> str:
    """The text as a reader of Markdown shows it."""
    return shown(MarkdownIt().enable("table").render(markdown))


def inside(made: bytes) -> bytes:
    """The streams of a PDF, unpacked, and what stands between them."""
    streams = re.findall(rb"stream\r?\n(.*?)\r?\nendstream", made, re.DOTALL)
    unpacked = []
    for stream in streams:
        try:
            unpacked.append(zlib.decompress(stream))
        except zlib.error:
            continue
    return made + b"".join(unpacked)


def test_every_text_is_in_every_form() -> None:
    page, markdown = shown(html(DOCUMENT)), without_marks(text(DOCUMENT))
    laid_out = str(as_data(DOCUMENT))
    for told in TEXTS:
        assert told in page
        assert told in markdown
        assert told in laid_out
    assert " ".join(HOSTILE.split()) in page
    assert " ".join(HOSTILE.split()) in markdown


def test_the_same_document_gives_the_same_bytes() -> None:
    assert pdf(DOCUMENT) == pdf(DOCUMENT)
    assert html(DOCUMENT) == html(DOCUMENT)


def test_the_pdf_is_tagged_with_every_alternative_text() -> None:
    made = inside(pdf(DOCUMENT))
    for mark in (b"/StructTreeRoot", b"/Lang", b"/MarkInfo", b"pdfuaid:part", b"/Figure", b"/Alt"):
        assert mark in made, mark
    assert b"/Title(Ivy: what your games show)" in made
    told = re.findall(rb"/S/Figure/P \d+ 0 R/Alt\((.*?)\)", made, re.DOTALL)
    # One for each picture: four diagrams, the first with a ring, and a plot.
    assert told.count(position_in_words(FEN).encode()) == 3
    assert told.count(diagram_in_words(FEN, ("d8",)).encode()) == 1
    assert len(told) == 5
    assert b"Dangers held by period." in told[-1]


def test_the_pdf_tags_each_paragraph() -> None:
    def paragraphs(*blocks: Paragraph) -> int:
        return len(re.findall(rb"/S/P/", inside(pdf(Document("A title", blocks)))))

    one = Paragraph("One.")
    assert paragraphs(one, one, Paragraph("Small.", small=True)) == paragraphs(one) + 2


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
@pytest.mark.parametrize("large", [False, True])
def test_pages_can_be_looked_at(paper: str, large: bool) -> None:
    document = dataclasses.replace(DOCUMENT, paper=paper, large=large)  # type: ignore[arg-type]
    pages = pictures(document, 40)
    assert len(pages) >= 2
    assert all(page.startswith(b"\x89PNG") for page in pages)
    assert pdf(document).startswith(b"%PDF-")


def test_the_page_asks_nothing_of_anybody() -> None:
    page = html(DOCUMENT).replace("http://www.w3.org/2000/svg", "")
    page = page.replace("http://www.w3.org/1999/xlink", "").replace(HOSTILE, "")
    assert not re.search(r"""(?:src|href|url\()\s*=?\s*["']?(?:https?:)?//""", page)
    assert "<script" not in page
    assert "@import" not in page


def test_each_drawing_has_its_own_hatching_and_its_words() -> None:
    page = html(DOCUMENT)
    ids = re.findall(r'<pattern id="([^"]+)"', page)
    assert len(ids) == len(set(ids)) == 4
    assert page.count(f'aria-label="{position_in_words(FEN)}"') == 3
    assert page.count(f'aria-label="{diagram_in_words(FEN, ("d8",))}"') == 1


def test_a_ring_is_told_to_those_who_do_not_see_it() -> None:
    words = diagram_in_words(FEN, ("d8", "c8"))
    assert words == f"{position_in_words(FEN)} In a broken ring: d8, c8."
    assert diagram_in_words(FEN, ("d8",)) in without_marks(text(DOCUMENT))


def test_a_word_longer_than_the_line_stays_on_the_paper() -> None:
    # In lines it takes several pages; running off the edge it would take one.
    assert len(pictures(Document("A title", (Paragraph("x" * 20_000),)), 20)) > 1


def test_a_position_in_words() -> None:
    assert position_in_words("6k1/8/8/8/8/8/8/R5K1 w - - 0 1") == (
        "White: king g1, rook a1. Black: king g8. White to move."
    )


def test_letters_that_no_face_has_are_told() -> None:
    # A private character of the last plane: no type face has it.
    document = Document("A title", (Paragraph("\U00101234"),))
    with pytest.raises(PrintError, match="no type face on this machine has the letters"):
        pdf(document)


LETTERS = st.characters(min_codepoint=0x20, max_codepoint=0x17F, blacklist_categories=("Cc", "Cf"))


@settings(max_examples=40, deadline=None)
@given(st.text(LETTERS, min_size=1, max_size=60))
def test_any_text_comes_out_as_itself(told: str) -> None:
    document = Document("A title", (Paragraph(told), Heading(told), Points((told,))))
    page = shown(html(document))
    assert " ".join(told.split()) in page
    # The page has its title twice: on the page, and for the window.
    assert page == f"A title {without_marks(text(document))}".strip()
    assert pdf(document).startswith(b"%PDF-")

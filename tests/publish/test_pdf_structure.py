"""The PDF as an independent reader finds it: what PDF/UA-1 (ISO 14289-1) asks of its structure."""

import io
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, NameObject

from fastness.publish import pdf
from fastness.publish.diagram import diagram_in_words
from tests.publish.test_document import DOCUMENT, FEN


@pytest.fixture(scope="module", name="reader")
def read() -> PdfReader:
    return PdfReader(io.BytesIO(pdf(DOCUMENT)))


def elements(node: Any) -> Iterator[DictionaryObject]:
    """The elements of the structure tree in reading order."""
    node = node.get_object()
    if isinstance(node, ArrayObject):
        for one in node:
            yield from elements(one)
    elif isinstance(node, DictionaryObject):
        if "/S" in node:
            yield node
        if "/K" in node:
            yield from elements(node["/K"])


def tree(reader: PdfReader) -> list[DictionaryObject]:
    root: Any = reader.trailer["/Root"]
    return list(elements(root["/StructTreeRoot"]["/K"]))


def kind(element: DictionaryObject) -> str:
    return str(element["/S"])


def test_it_is_marked_has_a_language_and_shows_its_title(reader: PdfReader) -> None:
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert str(root["/Lang"]).startswith("en")
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader.metadata is not None
    assert reader.metadata.title == DOCUMENT.title
    german = PdfReader(io.BytesIO(pdf(type(DOCUMENT)("Titel", (), language="de"))))
    told: Any = german.trailer["/Root"]
    assert str(told["/Lang"]).startswith("de")


def test_it_says_that_it_keeps_to_the_standard(reader: PdfReader) -> None:
    root: Any = reader.trailer["/Root"]
    told = root["/Metadata"].get_data()
    assert b"http://www.aiim.org/pdfua/ns/id/" in told
    assert b"<pdfuaid:part>1</pdfuaid:part>" in told
    assert DOCUMENT.title.encode() in told


def test_headings_stand_in_order_and_none_is_left_out(reader: PdfReader) -> None:
    levels = [int(kind(one)[2:]) for one in tree(reader) if kind(one)[2:].isdigit()]
    assert len(levels) == 2
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_every_figure_has_its_alternative_text(reader: PdfReader) -> None:
    told = [str(one.get("/Alt", "")) for one in tree(reader) if kind(one) == "/Figure"]
    # Four boards and a plot.
    assert len(told) == 5
    assert all(told)
    assert told[0] == diagram_in_words(FEN, ("d8",))


def test_a_table_has_header_cells_and_as_many_cells_in_each_row(reader: PdfReader) -> None:
    tables = [one for one in tree(reader) if kind(one) == "/Table"]
    assert len(tables) == 1
    cells = [kind(one) for one in elements(tables[0]) if kind(one) in ("/TH", "/TD")]
    assert cells == ["/TH"] * 2 + ["/TD"] * 4
    headers = [one for one in elements(tables[0]) if kind(one) == "/TH"]
    assert all("Column" in str(one["/A"]) for one in headers)


def test_what_is_listed_is_a_list(reader: PdfReader) -> None:
    kinds = [kind(one) for one in tree(reader)]
    assert (kinds.count("/L"), kinds.count("/LI")) == (1, 2)


def test_every_page_follows_the_structure(reader: PdfReader) -> None:
    assert len(reader.pages) >= 2
    assert all(str(page["/Tabs"]) == "/S" for page in reader.pages)
    assert all("/StructParents" in page for page in reader.pages)


def fonts(node: Any, seen: set[int]) -> Iterator[DictionaryObject]:
    """The fonts of a page and of the drawings on it."""
    resources = node.get("/Resources", DictionaryObject()).get_object()
    for font in resources.get("/Font", DictionaryObject()).get_object().values():
        yield font.get_object()
    for drawing in resources.get("/XObject", DictionaryObject()).get_object().values():
        inner = drawing.get_object()
        if id(inner) not in seen:
            seen.add(id(inner))
            yield from fonts(inner, seen)


def test_every_font_is_inside_and_says_what_its_letters_are(reader: PdfReader) -> None:
    names = set()
    for page in reader.pages:
        for font in fonts(page, set()):
            assert "/ToUnicode" in font
            for inner in font.get(NameObject("/DescendantFonts"), ArrayObject([font])):
                described = inner.get_object()["/FontDescriptor"].get_object()
                assert any(f"/FontFile{number}" in described for number in ("", "2", "3"))
                names.add(str(described["/FontName"]).partition("+")[2])
    assert any("DejaVu" in name for name in names)
    assert any("Libertinus" in name for name in names)


def test_the_text_comes_out_as_it_went_in(reader: PdfReader) -> None:
    told = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    for text in ("You held this", "You played 3...Be7.", "Second point.", "2 games"):
        assert text in told

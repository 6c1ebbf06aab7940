"""Sheets and answers as an independent reader finds them on every paper: size, text, tags."""

import io
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
from pypdf import PdfReader

from fastness.exercises.exercise import KINDS
from fastness.exercises.words import question
from fastness.publish import pdf, position_in_words
from fastness.publish.answers import answer_in_words
from fastness.publish.document import Paper
from fastness.publish.sheet import Layout, SheetExercise, sheets
from tests.exercises.asked import BISHOP, KNIGHT, asked
from tests.publish.test_pdf_structure import kind, tree

SIZES: dict[Paper, tuple[float, float]] = {"a4": (595.3, 841.9), "us-letter": (612.0, 792.0)}
"""Width and height in points."""
ALL = [
    SheetExercise(asked(each, fen), "club", told=f"Told beside {each}.")
    for fen in (KNIGHT, BISHOP)
    for each in KINDS
]
PAPERS = [("a4", False), ("a4", True), ("us-letter", False), ("us-letter", True)]


@cache
def readers(paper: Paper, large: bool) -> tuple[PdfReader, PdfReader]:
    """The questions and the answers."""
    (made,) = sheets("Pins", ALL, Layout(paper=paper, large=large))
    questions, answers = (PdfReader(io.BytesIO(pdf(one))) for one in (made.questions, made.answers))
    return questions, answers


def words(reader: PdfReader) -> str:
    """The text of all pages, with the breaks of lines taken out."""
    return "".join("".join(page.extract_text().split()) for page in reader.pages)


def texts() -> Iterator[tuple[str, tuple[str, ...]]]:
    for one in ALL:
        yield question(one.exercise), (one.told, *answer_in_words(one.exercise))


@pytest.mark.parametrize(("paper", "large"), PAPERS)
def test_the_text_comes_out_whole(paper: Paper, large: bool) -> None:
    asked_text, answered = (words(reader) for reader in readers(paper, large))
    for told, answers in texts():
        assert "".join(told.split()) in asked_text
        for answer in answers:
            assert "".join(answer.split()) in answered
            assert "".join(answer.split()) not in asked_text


@pytest.mark.parametrize(("paper", "large"), PAPERS)
def test_every_page_is_of_the_size_asked_for(paper: Paper, large: bool) -> None:
    for reader in readers(paper, large):
        for page in reader.pages:
            size = (float(page.mediabox.width), float(page.mediabox.height))
            assert size == pytest.approx(SIZES[paper], abs=0.2)


@pytest.mark.parametrize(("paper", "large"), PAPERS)
def test_the_tags_are_there_and_every_board_is_read_out(paper: Paper, large: bool) -> None:
    for reader in readers(paper, large):
        root: Any = reader.trailer["/Root"]
        assert root["/MarkInfo"]["/Marked"]
        found = tree(reader)
        told = [str(one["/Alt"]) for one in found if kind(one) == "/Figure"]
        assert len(told) == len(ALL)
        for fen in (KNIGHT, BISHOP):
            assert sum(one.startswith(position_in_words(fen)) for one in told) == len(KINDS)
    answers = [kind(one) for one in tree(readers(paper, large)[1])]
    assert answers.count("/Table") == 1
    assert answers.count("/TH") >= 3


def test_large_print_has_larger_letters() -> None:
    def sizes(reader: PdfReader) -> list[float]:
        found: list[float] = []

        def visit(text: str, _: Any, matrix: Any, __: Any, size: float) -> None:
            if "Black to move" in text:
                found.append(size * float(matrix[0]))

        reader.pages[0].extract_text(visitor_text=visit)
        return found

    usual, large = (sizes(readers("a4", one)[0]) for one in (False, True))
    assert usual
    assert large
    assert min(usual) >= 10
    assert min(large) >= 15.5

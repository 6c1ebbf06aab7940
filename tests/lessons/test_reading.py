"""Lesson files are read whole: what is broken is told with its place and hides nothing else."""

import csv
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fastness.lessons.grammar import NAMES
from fastness.lessons.lesson import (
    AllThatKeep,
    Better,
    FallsBy,
    Keeps,
    Loses,
    OwnMarks,
    Prose,
    Safety,
    Threatened,
    Twin,
    Variation,
)
from fastness.lessons.reading import read_lesson

DATA = Path(__file__).parents[1] / "data" / "lessons"
KNIGHT = "rnbqkbnr/pppp1ppp/8/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 1 2"


def broken() -> list[dict[str, str]]:
    with (DATA / "broken.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", broken(), ids=lambda row: row["what"])
def test_what_is_broken_is_told_with_its_place(row: dict[str, str]) -> None:
    (fault,) = read_lesson(row["text"].replace("|", "\n")).faults
    assert (fault.line, fault.column) == (int(row["line"]), int(row["column"])), fault.message
    assert row["says"] in fault.message


@pytest.mark.parametrize("row", broken(), ids=lambda row: row["what"])
def test_no_broken_block_hides_another(row: dict[str, str]) -> None:
    whole = f"```position\n{KNIGHT}\nholds: Nc6\n```\n"
    text = f"{whole}prose\n{row['text'].replace('|', chr(10))}\n{whole}"
    blocks = read_lesson(text).blocks
    assert [block.claims[0].text for block in (blocks[0], blocks[-1])] == ["holds: Nc6"] * 2


CLAIMS = [
    ("unsafe: e5", Safety(3, "unsafe: e5", ("e5",), unsafe=True)),
    ("Safe:  e5,f3 ", Safety(3, "Safe:  e5,f3", ("e5", "f3"), unsafe=False)),
    ("holds: Nc6, Nf6!", Keeps(3, "holds: Nc6, Nf6!", ("b8c6", "g8f6"))),
    ("only: 2...Nc6", AllThatKeep(3, "only: 2...Nc6", ("b8c6",))),
    ("these are all: Nc6, d6", AllThatKeep(3, "these are all: Nc6, d6", ("b8c6", "d7d6"))),
    (
        "falls: Qg5 because 3.Nxg5 h6 4.Nf3",
        Loses(3, "falls: Qg5 because 3.Nxg5 h6 4.Nf3", "d8g5", ("f3g5", "h7h6", "g5f3")),
    ),
    (
        "better ways: Nc6 (guard), d6",
        Better(3, "better ways: Nc6 (guard), d6", (("b8c6", "guard"), ("d7d6", None))),
    ),
    ("danger: 0.5", Threatened(3, "danger: 0.5", 50)),
    ("danger: mate", Threatened(3, "danger: mate", "mate")),
    (
        "mechanism: e5 less valuable attacker",
        FallsBy(3, "mechanism: e5 less valuable attacker", "e5", "less valuable attacker"),
    ),
    ("line: Nc6", Variation(3, "line: Nc6", False, ("b8c6",), None)),
    (
        "line: pass Nxe5 wins 1",
        Variation(3, "line: pass Nxe5 wins 1", True, ("f3e5",), 100),
    ),
    (
        f"twin: {KNIGHT} better d6",
        Twin(3, f"twin: {KNIGHT} better d6", KNIGHT, "d7d6"),
    ),
]


@pytest.mark.parametrize(("text", "claim"), CLAIMS, ids=[text for text, _ in CLAIMS])
def test_a_claim_is_read(text: str, claim: object) -> None:
    lesson = read_lesson(f"```position\n{KNIGHT}\n{text}\n```\n")
    assert lesson.faults == ()
    assert lesson.blocks[0].claims == (claim,)


MARKED = [
    ("marks: ring e5", {"rings": ("e5",)}),
    ("Marks: corners e5, ring d4", {"corners": ("e5",), "rings": ("d4",)}),
    ("marks: attack f3-e5, guard d7-e5", {"attacks": (("f3", "e5"),), "guards": (("d7", "e5"),)}),
    ("marks: line b8-c6, number c6 1", {"lines": (("b8", "c6"),), "numbers": (("c6", 1),)}),
    ("marks: ring e5, text Look, here", {"rings": ("e5",), "words": "Look, here"}),
    ("marks: text Look", {"words": "Look"}),
]


@pytest.mark.parametrize(("text", "marks"), MARKED, ids=[text for text, _ in MARKED])
def test_marks_are_read(text: str, marks: dict[str, Any]) -> None:
    lesson = read_lesson(f"```position\n{KNIGHT}\n{text}\n```\n")
    assert lesson.faults == ()
    assert lesson.blocks[0].marks == (OwnMarks(3, text, **marks),)
    assert lesson.blocks[0].claims == ()


def test_moves_lead_to_the_position_and_comments_are_passed_over() -> None:
    (block,) = read_lesson("```position\n# so far\nmoves: 1.e4 e5 2.Nf3\n\nholds: Nc6\n```").blocks
    assert block.place is not None
    assert (block.place.fen, block.place.moves) == (KNIGHT, ("e2e4", "e7e5", "g1f3"))
    assert block.claims[0].line == 5


def test_a_position_inside_another_fence_is_prose() -> None:
    text = "````text\n```position\nholds: e4\n```\n````\n```position\nmoves: e4\n```\n"
    lesson = read_lesson(text)
    assert lesson.faults == ()
    assert isinstance(lesson.parts[0], Prose)
    assert len(lesson.blocks) == 1


PIECES = (
    *("moves:", "because", "better", "wins", "mate", "pass", "e5", "Nc6", "Nf6", "Qg5", "Nxg5"),
    *("3", "0.5", "(guard)", "(", ")", ",", "2...", "#", "pin", KNIGHT, "8/8/8/8 w", "O-O", "--"),
    *("\t", "\x0b", "é", "```", "````", "~~~", "```position"),
)
MARKS = (
    "ring",
    "corners",
    "attack",
    "guard",
    "line",
    "number",
    "text",
    "e5-e4",
    "e1-e1",
    "12",
    "-",
)
words = st.sampled_from([*NAMES, *PIECES, *MARKS, *(f"{name}:" for name in (*NAMES, "marks"))])
rows = st.one_of(
    st.lists(words, max_size=6).map(" ".join),
    st.builds(
        "{}: {}".format,
        st.sampled_from([*NAMES, "marks"]),
        st.lists(words, max_size=5).map(" ".join),
    ),
    st.builds("marks: {}".format, st.lists(st.sampled_from((*MARKS, ",", "e5"))).map(" ".join)),
    st.text(max_size=12),
)
files = st.lists(rows, max_size=10).map(
    lambda found: "\n".join([f"```position\n{KNIGHT}", *found, "```"])
)


@settings(max_examples=300, deadline=None)
@given(files)
def test_any_text_is_read_and_every_fault_has_its_place(text: str) -> None:
    lesson = read_lesson(text)
    assert "".join(part.text for part in lesson.parts) == text
    lines = text.split("\n")
    for fault in lesson.faults:
        assert 1 <= fault.line <= len(lines)
        assert 1 <= fault.column <= len(lines[fault.line - 1]) + 1
        assert fault.message
    for block in lesson.blocks:
        for claim in block.claims:
            assert lines[claim.line - 1].strip() == claim.text
        for marks in block.marks:
            assert lines[marks.line - 1].strip() == marks.text

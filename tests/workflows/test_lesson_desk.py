"""The parts of a lesson in an editor, and what is found of its claims there."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fastness.errors import InputError
from fastness.language import LANGUAGES, LanguageName, language
from fastness.lessons.example import EXAMPLES
from fastness.workflows.lesson_desk import (
    MOST_CLAIMS,
    block_of,
    checked,
    claims_by_cost,
    parts_of,
    what_is_true,
)

PIN = "4k3/p4ppp/4b3/8/3P1P2/8/5P1P/4R1K1 b - - 0 1"
BLOCK = f"```position\n{PIN}\nunsafe: a7\nfoo: 1\nholds: Kd7, Bxz\nfalls: f6 because Re2\n```\n"


@given(
    st.lists(
        st.sampled_from(
            ["# A\r\n", "```position\n", f"{PIN}\n", "unsafe: e6\r\n", "```\n", "x", "~~~\n"]
        )
    ).map("".join)
)
def test_the_parts_are_the_file(text: str) -> None:
    assert "".join(part.text for part in parts_of(text)) == text


def test_rows_are_claims_and_what_cannot_be_read_with_its_place() -> None:
    part = parts_of("# Prose\n\n" + BLOCK)[1]
    assert part.place is not None
    assert part.place.fen == PIN
    rows = [(row.line, row.text, row.column) for row in part.rows]
    assert rows == [
        (3, "unsafe: a7", 0),
        (4, "foo: 1", 1),
        (5, "holds: Kd7, Bxz", 13),
        (6, "falls: f6 because Re2", 0),
    ]
    lines = part.text.split("\n")
    assert [lines[row.line - 1] for row in part.rows] == [row.text for row in part.rows]
    broken = parts_of("```position\n8/8 w - -\nunsafe: a7\n```\n")[0]
    assert (broken.place, broken.rows, broken.faults[0].line) == (None, (), 2)


@pytest.mark.parametrize("code", LANGUAGES)
def test_a_false_claim_has_its_line_on_the_board(code: LanguageName) -> None:
    block = block_of(BLOCK)
    assert block.place is not None
    first, falls = checked(block.place, block.claims, language(code))
    assert [first.verdict, falls.verdict] == ["false", "false"]
    assert [step.uci for step in falls.steps][:2] == ["f7f6", "e1e6"]
    assert falls.fen == PIN
    passed = block_of(f"```position\n{PIN}\nsafe: e6\n```\n")
    assert passed.place is not None
    row = checked(passed.place, passed.claims, language(code))[0]
    assert [step.uci for step in row.steps][:2] == ["0000", "d4d5"], row.shown


def test_ranked_claims_are_apart() -> None:
    text = f"```position\n{PIN}\nunsafe: e6\nbetter ways: Kd7\n```\n"
    cheap, ranked = claims_by_cost(block_of(text))
    assert [one.text for one in cheap] == ["unsafe: e6"]
    assert [one.text for one in ranked] == ["better ways: Kd7"]


@pytest.mark.parametrize(
    "text", ["", "no block", EXAMPLES["en"], "```position\n8/8 w\n```", "```position"]
)
def test_one_position_is_wanted(text: str) -> None:
    with pytest.raises(InputError):
        block_of(text)
    with pytest.raises(InputError, match=str(MOST_CLAIMS)):
        block_of(f"```position\n{PIN}\n" + "unsafe: e6\n" * (MOST_CLAIMS + 1) + "```")


def test_what_is_offered_is_true() -> None:
    block = block_of(f"```position\n{PIN}\n```")
    assert block.place is not None
    offered = what_is_true(block.place)
    assert "unsafe: e6" in offered
    assert "mechanism: e6 pin" in offered
    again = block_of("\n".join(["```position", PIN, *offered, "```"]))
    assert {one.verdict for one in checked(block.place, again.claims)} == {"true"}


def test_what_is_offered_after_moves_begins_at_the_moves() -> None:
    block = block_of("```position\nmoves: 1.e4 e5 2.Nf3 Nc6 3.Bb5 a6 4.Bxc6\n```")
    assert block.place is not None
    offered = what_is_true(block.place)
    assert any(one.startswith(("falls: ", "these are all: ", "holds: ")) for one in offered)

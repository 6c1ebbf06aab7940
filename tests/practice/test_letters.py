"""Letters to be copied by hand: nothing mistyped in one place goes unnoticed."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fastness.errors import CodeError
from fastness.practice.letters import (
    ALPHABET,
    BASE,
    as_letters,
    as_number,
    checked,
    checked_once,
    grouped,
    is_checked,
    is_checked_once,
    tidied,
)

TEXTS = st.text(ALPHABET, min_size=1, max_size=60)


def mistyped(text: str) -> set[str]:
    """Every text with one letter another one, or two neighbours changed round."""
    found = {text[:at] + letter + text[at + 1 :] for at in range(len(text)) for letter in ALPHABET}
    found |= {text[:at] + text[at + 1] + text[at] + text[at + 2 :] for at in range(len(text) - 1)}
    return found - {text}


def test_no_letter_looks_like_another() -> None:
    assert len(set(ALPHABET)) == BASE == 23
    for alike in ("0ODQ", "1IL", "2Z", "5S", "8B", "6G", "MN", "UVY", "VW"):
        assert len(set(alike) & set(ALPHABET)) <= 1, alike


@pytest.mark.parametrize("length", [1, 2, 7, 22, 23, 46])
def test_one_mistyped_letter_or_swap_is_noticed_everywhere(length: int) -> None:
    text = "".join(random.Random(length).choices(ALPHABET, k=length))
    assert is_checked(checked(text))
    assert not any(map(is_checked, mistyped(checked(text))))
    assert is_checked_once(checked_once(text))
    assert not any(map(is_checked_once, mistyped(checked_once(text))))


@given(TEXTS)
def test_one_mistyped_letter_or_swap_is_noticed_in_any_text(text: str) -> None:
    assert is_checked(checked(text))
    assert not any(map(is_checked, mistyped(checked(text))))


@given(st.integers(0, 23**40), st.integers(0, 50))
def test_a_number_is_read_as_it_was_written(number: int, least: int) -> None:
    letters = as_letters(number, least)
    assert len(letters) >= least
    assert as_number(letters) == number


@given(TEXTS)
def test_capitals_spaces_and_hyphens_do_not_matter(text: str) -> None:
    assert tidied(grouped(text).lower().replace("-", " - ")) == text


def test_a_letter_of_no_code_is_named() -> None:
    with pytest.raises(CodeError, match='no code has "O" in it'):
        tidied("K4HO")

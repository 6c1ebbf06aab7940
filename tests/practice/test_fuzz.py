"""Anything that may be sent for a code of homework: refused in a sentence, or the very code."""

import contextlib
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fastness.errors import CodeError
from fastness.practice.choices import as_one_number, read_number
from fastness.practice.code import (
    HOMEWORK,
    MOST_HOMEWORK,
    MOST_STUDENTS,
    STUDENT,
    read_code,
    read_word,
    seal_of,
    word_of,
    write_code,
)
from fastness.practice.letters import ALPHABET, as_letters, checked, tidied
from scripts.homework_codes import random_exercise
from tests.fuzzing import TRIES

KEY = ALPHABET[3:6]
LETTERS = st.text(alphabet=ALPHABET + ALPHABET.lower() + "-oilu \n", max_size=40)
CODE = st.builds(
    lambda homework, student, answers: write_code(homework, student, KEY, answers),
    st.integers(0, MOST_HOMEWORK - 1),
    st.integers(0, MOST_STUDENTS - 1),
    st.integers(0, 10**12),
)


@TRIES
@given(st.one_of(st.text(max_size=60), LETTERS, CODE))
def test_any_text_is_a_code_or_is_refused(text: str) -> None:
    try:
        code = read_code(text)
    except CodeError:
        return
    body = as_letters(code.homework, HOMEWORK) + as_letters(code.student, STUDENT)
    whole = checked(body + as_letters(code.answers) + code.seal)
    assert tidied(text) == whole


@TRIES
@given(st.one_of(st.text(max_size=20), LETTERS))
def test_any_text_is_a_word_or_is_refused(text: str) -> None:
    with contextlib.suppress(CodeError):
        student, key = read_word(text)
        assert tidied(word_of(student, key)) == tidied(text)


@TRIES
@given(CODE, st.data())
def test_no_code_with_two_letters_changed_passes_for_another_students(
    code: str, data: st.DataObject
) -> None:
    letters = list(tidied(code))
    for _ in range(2):
        letters[data.draw(st.integers(0, len(letters) - 1))] = data.draw(st.sampled_from(ALPHABET))
    changed = "".join(letters)
    with contextlib.suppress(CodeError):
        read = read_code(changed)
        body = as_letters(read.homework, HOMEWORK) + as_letters(read.student, STUDENT)
        # The check catches one letter; two may slip through it, but then the seal is wrong.
        if changed != tidied(code):
            assert seal_of(body + as_letters(read.answers), KEY) != read.seal


@TRIES
@given(st.integers(0, 2**32), st.integers(0, 10**30))
def test_any_number_is_answers_or_is_refused(seed: int, number: int) -> None:
    dice = random.Random(seed)
    exercises = [random_exercise(dice) for _ in range(dice.randint(1, 4))]
    try:
        answers = read_number(exercises, number)
    except CodeError:
        return
    assert as_one_number(exercises, answers) == number


def test_the_letters_are_those_of_the_codes() -> None:
    with pytest.raises(CodeError):
        read_code("u" * 40)

"""The code of a hand-in: it says what was answered, is compact, and cannot be altered by hand."""

import json
import random

import pytest

from fastness.errors import CodeError, InputError
from fastness.exercises.exercise import Kind
from fastness.practice.choices import SEVERAL, as_one_number, choices_of, in_order, read_number
from fastness.practice.code import (
    MOST_HOMEWORK,
    MOST_STUDENTS,
    is_sealed_by,
    new_key,
    new_number,
    read_code,
    read_word,
    seal_of,
    word_of,
    write_code,
)
from fastness.practice.letters import ALPHABET, as_letters, checked, tidied
from fastness.practice.sealed import seal_all, unseal
from scripts.homework_codes import PLACE, codes_text, random_answers, random_exercise
from tests.exercises.asked import asked


def test_the_table_that_the_page_is_held_to_is_the_programs() -> None:
    assert PLACE.read_text(encoding="utf-8") == codes_text()


@pytest.mark.parametrize("seed", range(60))
def test_a_code_says_what_was_answered(seed: int) -> None:
    dice = random.Random(seed)
    exercises = [random_exercise(dice) for _ in range(dice.randint(1, 10))]
    answers = tuple(random_answers(one, dice) for one in exercises)
    homework, student = dice.randrange(MOST_HOMEWORK), dice.randrange(MOST_STUDENTS)
    key = new_key()
    code = read_code(write_code(homework, student, key, as_one_number(exercises, answers)))
    assert (code.homework, code.student) == (homework, student)
    assert read_number(exercises, code.answers) == answers
    assert is_sealed_by(code, key)


def test_every_answer_has_a_number_of_its_own_and_none_is_wasted() -> None:
    one = asked("better way")
    numbers = {as_one_number([one], [(move,)]) for move in choices_of(one)}
    assert len(numbers) == len(choices_of(one))
    assert as_one_number([one], [None]) == 0


def test_six_exercises_make_a_code_of_seven_groups_at_most() -> None:
    kinds: tuple[Kind, ...] = (
        "which unit",
        "every move",
        "better way",
        "why it fails",
        "is it safe",
        "which unit",
    )
    exercises = [asked(kind) for kind in kinds]
    answers = [
        in_order(one, one.accepted if one.kind in SEVERAL else one.accepted[:1])
        for one in exercises
    ]
    code = write_code(
        MOST_HOMEWORK - 1, MOST_STUDENTS - 1, "YYY", as_one_number(exercises, answers)
    )
    assert code.count("-") + 1 <= 7, code


@pytest.mark.parametrize(("homework", "student"), [(0, 0), (9, 5), (12166, 528)])
def test_a_code_altered_in_one_place_is_refused(homework: int, student: int) -> None:
    letters = tidied(write_code(homework, student, "ACD", 123_456_789))
    for at in range(len(letters)):
        for letter in ALPHABET:
            typed = letters[:at] + letter + letters[at + 1 :]
            if typed != letters:
                with pytest.raises(CodeError):
                    read_code(typed)
        # The check notices 528 of 529 codes with a letter left out, the seal the others.
        left_out = letters[:at] + letters[at + 1 :]
        try:
            short = read_code(left_out)
        except CodeError:
            continue
        assert not is_sealed_by(short, "ACD")


def test_answers_altered_with_a_right_check_want_the_key() -> None:
    mine = read_code(write_code(9, 5, "ACD", 1000))
    assert is_sealed_by(mine, "ACD")
    assert not is_sealed_by(mine, "ACE")
    forged = [read_code(write_code(9, 5, "XXX", number)) for number in range(1, 500)]
    assert sum(is_sealed_by(one, "ACD") for one in forged) <= 1


@pytest.mark.parametrize("text", ["", "K4HM", "K4HM-7XAC-22", "-", "K4HM 7XAC 2222 2222 2222"])
def test_what_is_no_code_is_refused(text: str) -> None:
    with pytest.raises(CodeError):
        read_code(text)


def test_a_code_with_a_zero_before_its_answers_is_refused() -> None:
    body = as_letters(9, 3) + as_letters(5, 2) + "2" + as_letters(1000)
    with pytest.raises(CodeError, match="no code that a page gives"):
        read_code(checked(body + seal_of(body, "ACD")))


def test_numbers_that_no_page_makes_are_refused() -> None:
    one = asked("every move")
    with pytest.raises(CodeError, match="no page can say"):
        read_number([one], 1)
    with pytest.raises(CodeError, match="longer than its homework"):
        read_number([asked("is it safe")], 2 + 3 * 2 * 7)


def test_a_word_is_read_however_it_is_typed() -> None:
    assert read_word(f" {word_of(7, 'ACD').lower()} ") == (7, "ACD")
    with pytest.raises(CodeError, match="no word of a slip"):
        read_word("K4HM-7")


def test_numbers_are_given_once() -> None:
    assert new_number({0, 1, 3}, 4) == 2
    with pytest.raises(CodeError, match="in use"):
        new_number({0, 1}, 2)


def test_what_cannot_be_answered_is_refused() -> None:
    with pytest.raises(InputError, match="cannot be answered"):
        in_order(asked("which unit"), ["e5"])
    with pytest.raises(InputError, match="one answer is asked for"):
        as_one_number([asked("better way")], [choices_of(asked("better way"))[:2]])
    assert in_order(asked("better way"), []) is None
    assert in_order(asked("which unit"), []) == ()


def test_a_seal_opens_with_its_answer_alone_and_has_one_length() -> None:
    texts = {"e2e4": "right", "d2d4": "wrong, because of this and that – schade"}
    sealed = seal_all(texts, "00ff", 2)
    assert len(set(map(len, sealed.values()))) == 1
    for answer, text in texts.items():
        assert unseal(sealed[answer], "00ff", 2, answer) == text
    assert "wrong" not in unseal(sealed["d2d4"], "00ff", 2, "e2e4")
    assert "wrong" not in json.dumps(sealed)

"""What a student is told: the same as marking says, kindly, and what the teacher says."""

from dataclasses import replace

import pytest

from fastness.exercises.exercise import KINDS, Exercise, Kind, Source
from fastness.exercises.marking import judge, mark
from fastness.exercises.overruling import Overruling, overrule
from fastness.exercises.words import NONE
from fastness.language import language
from fastness.practice.choices import choices_of, in_order
from fastness.practice.explaining import explained, question_on_page, told_of, twin_in_words
from tests.exercises.asked import BISHOP, QUIET, asked

GERMAN = language("de")


@pytest.mark.parametrize("kind", KINDS)
def test_every_answer_that_can_be_given_is_explained_as_marking_judges_it(kind: Kind) -> None:
    one = asked(kind)
    told = explained(one).answers
    assert set(told) == {*choices_of(one), *([NONE] if kind == "which unit" else [])}
    for answer in choices_of(one):
        (marked,) = mark(one, [answer]).given
        assert told[answer] == (marked.verdict, marked.told)
        assert judge(one, [answer]).verdict == mark(one, [answer]).verdict


def test_that_nothing_is_unsafe_is_an_answer_too() -> None:
    assert explained(asked("which unit")).answers[NONE] == (
        "wrong",
        "Something of Black's can be won.",
    )
    verdict, told = explained(asked("which unit", QUIET)).answers[NONE]
    assert (verdict, told) == ("right", "Right: none. Nothing of Black's can be won.")
    assert told_of(asked("which unit", QUIET), ()).outcome == "right"
    assert told_of(asked("which unit"), ()).outcome == "wrong"


def test_all_moves_are_asked_for_and_the_rest_is_named() -> None:
    one = asked("every move", BISHOP)
    some = told_of(one, in_order(one, one.accepted[:1]))
    assert some.outcome == "wrong"
    assert any("There is more to find: " in sentence for sentence in some.sentences)
    every = told_of(one, in_order(one, one.accepted))
    assert (every.outcome, every.sentences[0]) == ("right", "That is right.")


def test_what_is_only_part_of_the_answer_is_told_kindly() -> None:
    one = replace(asked("which unit", BISHOP), accepted=("a8", "d8"))
    some = told_of(one, ("d8",))
    assert some.outcome == "wrong"
    assert some.sentences[0] == "What you found is right, but it is not all yet."
    assert some.sentences[-1] == "There is more to find: a8."
    assert told_of(one, ("a8", "d8")).outcome == "right"
    assert told_of(one, ("d8", "h7")).sentences[0] != some.sentences[0]


def test_a_twin_says_which_exercise_it_is_compared_with() -> None:
    first = asked("which unit", BISHOP)
    source = Source("twin", "", 0, of=BISHOP)
    twin = Exercise("which unit", replace(asked("which unit").proved, source=source), ())
    why = replace(asked("why it fails", BISHOP), proved=twin.proved)
    every = [asked("every move"), first, twin, why]
    told = [twin_in_words(every, at) for at in range(4)]
    assert told == ["", "", "One thing is different from exercise 2.", ""]
    assert twin_in_words([twin, first], 0) == ""


def test_a_wrong_move_is_told_with_its_refutation_and_what_is_right() -> None:
    one = asked("better way", BISHOP)
    falls = next(move for move in choices_of(one) if move == "b8c6")
    told = told_of(one, (falls,))
    assert told.outcome == "wrong"
    assert "3...Nc6 4.Bxd8 Nxd8." in told.sentences[0]
    assert told.sentences[-1].startswith("Right: ")


def test_what_was_left_open_is_no_fault() -> None:
    told = told_of(asked("better way"), None, language=GERMAN)
    assert told.outcome == "open"
    assert told.sentences[0] == "Das hast du offen gelassen."


def test_the_teacher_has_the_last_word() -> None:
    one = asked("better way", BISHOP)
    said = (
        Overruling("Your teacher", "I like it.", "b8c6", "right"),
        Overruling("Your teacher", "!"),
    )
    told = told_of(overrule(one, said), ("b8c6",), said)
    assert told.outcome == "right"
    assert "Your teacher counts Nc6 as right: I like it." in told.sentences[1]
    assert told.sentences[-1] == "Your teacher: !"


def test_the_question_says_what_stands_on_the_board() -> None:
    assert question_on_page(asked("why it fails", BISHOP)).startswith(
        "3...Nc6 was played and stands"
    )
    assert "circle" not in question_on_page(asked("is it safe")).lower()

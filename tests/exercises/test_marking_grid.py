"""The boxes of the marking grid, and what is read from a few letters."""

import pytest

from fastness.errors import OptionError
from fastness.exercises.exercise import KINDS, Kind
from fastness.exercises.marking_grid import MOST_WRONG, grid_row, read_marks
from fastness.exercises.overruling import Overruling, overrule
from fastness.exercises.words import answer_name, question
from tests.exercises.asked import BISHOP, FENS, KNIGHT, QUIET, TACTICS, asked


@pytest.mark.parametrize("fen", FENS)
@pytest.mark.parametrize("kind", KINDS)
def test_every_right_answer_has_a_box_and_likely_wrong_ones_too(kind: Kind, fen: str) -> None:
    exercise = asked(kind, fen)
    boxes = grid_row("1", exercise).boxes
    assert tuple(box.answer for box in boxes if box.counts == "right") == exercise.accepted
    wrong = [box.answer for box in boxes if box.counts == "wrong"]
    # There may be no other capture or check to answer with.
    assert (0 if kind == "why it fails" else 1) <= len(wrong) <= MOST_WRONG
    assert not set(wrong) & {*exercise.accepted, *exercise.not_judged}
    assert len({box.letter for box in boxes}) == len(boxes)
    assert not {"o", "l", "-"} & {box.letter for box in boxes}


def test_a_unit_safe_by_tactics_is_a_likely_wrong_answer() -> None:
    exercise = asked("which unit", TACTICS)
    row = grid_row("1", exercise)
    assert [box.answer for box in row.boxes if box.counts == "right"] == ["none"]
    assert "a3" in [box.answer for box in row.boxes if box.counts == "wrong"]


def test_what_is_entered_is_read() -> None:
    rows = [grid_row("1", asked("which unit", QUIET)), grid_row("2", asked("every move"))]
    first, second = asked("every move").accepted[:2]
    assert read_marks("a ab", rows) == [("none",), (first, second)]
    assert read_marks("- o", rows) == [(), None]
    assert read_marks("a aa", rows) == [("none",), (first,)]


@pytest.mark.parametrize(
    ("entered", "told"),
    [
        ("a", "1 words for 2 exercises"),
        ("a b c", "3 words for 2 exercises"),
        ("a Z", "exercise 2 has no box 'Z'; there are a, b"),
        ("ao a", "exercise 1 has no box 'o'"),
    ],
)
def test_what_cannot_be_read_is_told(entered: str, told: str) -> None:
    rows = [grid_row("1", asked("which unit", BISHOP)), grid_row("2", asked("every move"))]
    with pytest.raises(OptionError, match=told):
        read_marks(entered, rows)


def test_the_teacher_has_the_last_word() -> None:
    exercise = asked("every move", KNIGHT)
    first, second, third = exercise.accepted[:3]
    fails = asked("why it fails", KNIGHT).asked or ""
    said = (
        Overruling("The teacher", "too clever", first),
        Overruling("The teacher", "plays on", fails, "right"),
        Overruling("The teacher", "unclear", second, "not judged"),
        Overruling("The teacher", "no", third),
        Overruling("The teacher", "after all", third, "right"),
        Overruling("The teacher", "a remark"),
    )
    after = overrule(exercise, said)
    assert set(after.accepted) == {*exercise.accepted, fails} - {first, second}
    assert after.not_judged == (*exercise.not_judged, second)
    row = grid_row("1", after, struck=(first,))
    assert {box.answer: box.counts for box in row.boxes}[first] == "wrong"
    assert {box.answer: box.counts for box in row.boxes}[second] == "not judged"


@pytest.mark.parametrize(
    ("kind", "answer"),
    [("which unit", "z9"), ("every move", "a1a8"), ("is it safe", "maybe"), ("better way", "Nf6")],
)
def test_an_impossible_answer_is_told(kind: Kind, answer: str) -> None:
    with pytest.raises(OptionError, match="is no answer to"):
        overrule(asked(kind), (Overruling("The teacher", "so", answer),))


@pytest.mark.parametrize("fen", [*FENS, QUIET])
def test_a_question_says_whose_move_it_is(fen: str) -> None:
    assert question(asked("which unit", fen)).startswith("Black to move.")


def test_a_question_in_check_says_so() -> None:
    told = question(asked("every move", "6k1/5ppp/8/8/8/8/5PPP/1r4K1 w - - 0 1"))
    assert told.startswith("White to move, in check.")


def test_replies_are_named_after_the_move_asked() -> None:
    exercise = asked("why it fails", BISHOP)
    assert answer_name(exercise, exercise.accepted[0]) == "Bxd8"

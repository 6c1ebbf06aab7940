"""Marking: what counts, what is missing, and why a wrong answer is wrong."""

import pytest

from fastness.errors import AnswerError, InputError
from fastness.exercises.answers import read_answers
from fastness.exercises.encoding import from_json, to_json
from fastness.exercises.exercise import Exercise, Proved
from fastness.exercises.marking import judge, mark
from fastness.exercises.proving import prove
from fastness.language import language
from tests.exercises.asked import BISHOP

GERMAN = language("de")


@pytest.fixture(scope="module")
def proved() -> Proved:
    return prove(BISHOP, rank_nodes=2_000)


def exercise(proved: Proved, kind: str) -> Exercise:
    asked = "b8c6" if kind in ("why it fails", "is it safe") else None
    accepted = {
        "which unit": ("d8",),
        "every move": ("f8e7", "g8f6"),
        "better way": ("f8e7",),
        "why it fails": ("g5d8",),
        "is it safe": ("no",),
    }[kind]
    return Exercise(kind, proved, accepted, ("g8e7",), asked)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("kind", "text", "verdict", "told"),
    [
        ("which unit", "d8", "right", "The queen on d8 is not safe. The threat: 4.Bxd8 Kxd8."),
        ("which unit", "the rook on a8", "wrong", "The rook on a8 is safe"),
        ("every move", "Be7, 3...Nf6", "right", "stands between the bishop on g5 and the queen"),
        ("every move", "Be7 Nc6", "wrong", "Nc6 loses 6 pawns' worth: guarding does not help"),
        ("every move", "Be7", "wrong", "Be7 keeps the material"),
        ("every move", "Ne7", "not judged", "Ne7 is not judged"),
        ("better way", "Qd7", "wrong", "Qd7 keeps the material: it moves away. Better is Be7."),
        ("why it fails", "Bxd8", "right", "Bxd8 wins 6 pawns' worth."),
        ("why it fails", "h3", "wrong", "h3 wins nothing. This does: 3...Nc6 4.Bxd8 Nxd8."),
        ("is it safe", "n", "right", "Nc6 loses 6 pawns' worth"),
        ("is it safe", "Yes", "wrong", "3...Nc6 4.Bxd8 Nxd8."),
    ],
)
def test_an_answer_is_marked_and_explained(
    proved: Proved, kind: str, text: str, verdict: str, told: str
) -> None:
    one = exercise(proved, kind)
    if text == "the rook on a8":
        answers: tuple[str, ...] = ("a8",)
    else:
        answers = read_answers(one, text)
    marking = mark(one, answers)
    assert marking.verdict == verdict
    assert any(told in given.told for given in marking.given)


@pytest.mark.parametrize(
    ("kind", "text", "answers", "told"),
    [
        ("which unit", "d8", ("d8",), "Die Dame auf d8 ist nicht sicher. Die Drohung: 4.Lxd8"),
        ("which unit", "Keine", (), ""),
        ("every move", "Le7, 3...Sf6", ("f8e7", "g8f6"), "Le7 hält das Material"),
        ("every move", "Be7 Nf6", ("f8e7", "g8f6"), "Sf6 hält das Material"),
        ("every move", "Se7", ("g8e7",), "Se7 wird nicht gewertet"),
        ("why it fails", "Lxd8", ("g5d8",), "Lxd8 gewinnt"),
        ("is it safe", "Nein", ("no",), "Sc6 verliert"),
        ("is it safe", "ja", ("yes",), "3...Sc6 4.Lxd8 Sxd8."),
        ("is it safe", "yes", ("yes",), "3...Sc6 4.Lxd8 Sxd8."),
    ],
)
def test_german_answers_are_read_and_told(
    proved: Proved, kind: str, text: str, answers: tuple[str, ...], told: str
) -> None:
    one = exercise(proved, kind)
    assert read_answers(one, text, GERMAN) == answers
    assert told in " ".join(given.told for given in mark(one, answers, GERMAN).given)


def test_what_cannot_be_read_is_told_in_german(proved: Proved) -> None:
    with pytest.raises(AnswerError, match="„Df9“ ist hier kein erlaubter Zug von Schwarz"):
        read_answers(exercise(proved, "every move"), "Df9", GERMAN)


def test_what_is_missing_is_named(proved: Proved) -> None:
    assert mark(exercise(proved, "every move"), ("f8e7",)).missing == ("g8f6",)
    assert mark(exercise(proved, "which unit"), ()).missing == ("d8",)


@pytest.mark.parametrize(
    ("given", "verdict", "missing", "partly"),
    [
        (("e5", "f6"), "right", (), False),
        (("e5",), "wrong", ("f6",), True),
        (("e5", "f6", "a8"), "wrong", (), False),
        (("e5", "a8"), "wrong", ("f6",), False),
        (("a8",), "wrong", ("e5", "f6"), False),
        ((), "wrong", ("e5", "f6"), False),
        (("e5", "h7"), "wrong", ("f6",), True),
        (("e5", "f6", "h7"), "right", (), False),
    ],
)
def test_all_that_is_not_safe_is_asked_for(
    proved: Proved, given: tuple[str, ...], verdict: str, missing: tuple[str, ...], partly: bool
) -> None:
    one = Exercise("which unit", proved, ("e5", "f6"), ("h7",))
    marking = judge(one, given)
    assert (marking.verdict, marking.missing, marking.partly) == (verdict, missing, partly)


def test_one_of_the_better_ways_is_enough(proved: Proved) -> None:
    one = Exercise("better way", proved, ("f8e7", "g8f6"))
    assert mark(one, ("g8f6",)).verdict == "right"


def test_nothing_unsafe_is_a_right_answer_where_it_is(proved: Proved) -> None:
    assert mark(Exercise("which unit", proved, ()), ()).verdict == "right"


@pytest.mark.parametrize(
    ("kind", "text", "told"),
    [
        ("every move", "Be8", '"Be8" is no legal move of Black\'s here'),
        ("why it fails", "Nf6", "no legal move of White's"),
        ("which unit", "e4", "on e4 there is no unit of Black's"),
        ("which unit", "z9", "is no square"),
        ("is it safe", "perhaps", "say yes or no"),
    ],
)
def test_what_cannot_be_read_is_told(proved: Proved, kind: str, text: str, told: str) -> None:
    with pytest.raises(AnswerError, match=told.replace("(", r"\(")):
        read_answers(exercise(proved, kind), text)


def test_a_proved_position_is_written_and_read_back(proved: Proved) -> None:
    assert from_json(to_json(proved)) == proved


@pytest.mark.parametrize("line", ["", "{}", "[1]", '{"version": 2}', "no json"])
def test_another_line_is_refused(line: str) -> None:
    with pytest.raises(InputError):
        from_json(line)

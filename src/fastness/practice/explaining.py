"""What a student is told of their answers: kind words, and the line that bears each out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import chess

from fastness.exercises.exercise import Exercise, Kind
from fastness.exercises.marking import Marked, Verdict, mark
from fastness.exercises.overruling import Overruling
from fastness.exercises.words import (
    LOSES_NOTHING,
    LOSES_SOMETHING,
    NO_SUCH_UNIT,
    NONE,
    OVERRULED,
    REMARK,
    RIGHT_ANSWERS,
    answer_name,
    answer_names,
    move_asked,
    opponent,
    right_answers,
    side_to_move,
)
from fastness.language import ENGLISH, Language, marked
from fastness.practice.choices import SEVERAL, Given, choices_of

Outcome = Literal["right", "wrong", "not judged", "open"]
"""The verdict on an exercise, or that it was left open."""

_QUESTIONS: dict[Kind, str] = {
    "which unit": marked(
        "Which of {own}'s pieces and pawns are not safe? Choose each, or choose “nothing”."
    ),
    "every move": marked("Find every move after which {own} loses nothing."),
    "better way": marked("Which move is the best way to lose nothing?"),
    "why it fails": marked(
        "{move} was played and stands on the board. What does {other} play now to win something?"
    ),
    "is it safe": marked("Does {own} lose nothing after {move}?"),
}
TWIN_OF = marked("One thing is different from exercise {number}.")
SOMETHING = marked("Something of {own}'s can be won.")
OPEN = marked("You left this one open.")
WELL = marked("That is right.")
PARTLY = marked("What you found is right, but it is not all yet.")
MORE = marked("There is more to find: {answers}.")
ASIDE = marked("This does not count either way.")


@dataclass(frozen=True, slots=True)
class Explained:
    """An exercise's answers with what is told of each, and what is right."""

    answers: Mapping[str, tuple[Verdict, str]]
    right: str


@dataclass(frozen=True, slots=True)
class Told:
    """What a student is told of an exercise: the outcome, and sentences."""

    outcome: Outcome
    sentences: tuple[str, ...]


def question_on_page(exercise: Exercise, language: Language = ENGLISH) -> str:
    """Whose move it is and what is asked, where the answer is chosen on a board."""
    say, own = language.say, side_to_move(exercise, language)
    other, move = opponent(exercise, language), move_asked(exercise, language)
    asked = say(_QUESTIONS[exercise.kind], own=own, other=other, move=move)
    if exercise.kind == "why it fails":
        return asked
    in_check = chess.Board(exercise.fen).is_check()
    turn = say("{own} to move, in check.", own=own) if in_check else say("{own} to move.", own=own)
    return f"{turn} {asked}"


def twin_in_words(exercises: Sequence[Exercise], at: int, language: Language = ENGLISH) -> str:
    """That one thing is different from an exercise before it; empty where it is no twin of one.

    After a move that was played the boards differ in one thing only if it is the same move.
    """
    one, source = exercises[at], exercises[at].proved.source
    if source.made != "twin":
        return ""
    played = [
        other.asked if other.kind == "why it fails" else None for other in exercises[: at + 1]
    ]
    for number, other in enumerate(exercises[:at], 1):
        if other.fen == source.of and played[number - 1] == played[at] and other.fen != one.fen:
            return language.say(TWIN_OF, number=number)
    return ""


def explained(
    exercise: Exercise, said: Sequence[Overruling] = (), language: Language = ENGLISH
) -> Explained:
    """What is told of every answer that can be given; `none` is the answer that nothing is unsafe.

    `exercise` is as the teacher has overruled it by `said`.
    """
    answers = {one.answer: one for one in mark(exercise, choices_of(exercise), language).given}
    told = {
        answer: (one.verdict, _with_teacher(one, exercise, said, language))
        for answer, one in answers.items()
    }
    if exercise.kind == "which unit":
        told[NONE] = _of_nothing(exercise, language)
    return Explained(told, right_in_words(exercise, language))


def told_of(
    exercise: Exercise,
    given: Given,
    said: Sequence[Overruling] = (),
    language: Language = ENGLISH,
) -> Told:
    """What is told of the answers given, None where the exercise was left open."""
    remarks = [REMARK.format(by=one.by, reason=one.reason) for one in said if not one.answer]
    if given is None:
        right = right_in_words(exercise, language)
        return Told("open", (language.say(OPEN), right, *remarks))
    marking = mark(exercise, given, language)
    sentences = [_with_teacher(one, exercise, said, language) for one in marking.given]
    if exercise.kind == "which unit" and not given:
        sentences.append(_of_nothing(exercise, language)[1])
    if marking.verdict == "right":
        sentences.insert(0, language.say(WELL))
    elif marking.partly:
        sentences.insert(0, language.say(PARTLY))
    elif marking.given and all(one.verdict == "not judged" for one in marking.given):
        sentences.insert(0, language.say(ASIDE))
    found = [one.answer for one in marking.given if one.verdict == "right"]
    missing = [one for one in exercise.accepted if one not in found]
    if given and exercise.kind in SEVERAL and missing:
        names = answer_names(exercise, missing, language)
        sentences.append(language.say(MORE, answers=names))
    elif missing and not found:
        sentences.append(right_in_words(exercise, language))
    return Told(marking.verdict, (*sentences, *remarks))


def right_in_words(exercise: Exercise, language: Language = ENGLISH) -> str:
    """A sentence with the right answers."""
    say, own = language.say, side_to_move(exercise, language)
    if exercise.kind == "is it safe":
        text = LOSES_NOTHING if "yes" in exercise.accepted else LOSES_SOMETHING
        return say(text, own=own, move=move_asked(exercise, language))
    if exercise.kind == "which unit" and not exercise.accepted:
        return say(NO_SUCH_UNIT, own=own)
    return say(RIGHT_ANSWERS, answers=right_answers(exercise, language))


def _of_nothing(exercise: Exercise, language: Language) -> tuple[Verdict, str]:
    own = side_to_move(exercise, language)
    if exercise.accepted:
        return "wrong", language.say(SOMETHING, own=own)
    return "right", language.say(NO_SUCH_UNIT, own=own)


def _with_teacher(
    one: Marked, exercise: Exercise, said: Sequence[Overruling], language: Language
) -> str:
    """What is told of an answer, and what the teacher says of it."""
    told = [one.told]
    for by_teacher in said:
        if by_teacher.answer == one.answer:
            name = answer_name(exercise, one.answer, language)
            text = OVERRULED[by_teacher.counts]
            told.append(language.say(text, by=by_teacher.by, answer=name, reason=by_teacher.reason))
    return " ".join(told)

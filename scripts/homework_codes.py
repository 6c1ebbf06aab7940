"""Writes the table of codes and seals by which the page's script is held to the program.

`python -m scripts.homework_codes` after the way codes are written was changed; that makes every
code and page that was handed out before worthless.
"""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

import chess

from fastness.core.shapes import Survey
from fastness.exercises.exercise import KINDS, Exercise, Proved
from fastness.practice.choices import SEVERAL, as_one_number, choices_of, in_order
from fastness.practice.code import MOST_HOMEWORK, MOST_STUDENTS, word_of, write_code
from fastness.practice.letters import ALPHABET
from fastness.practice.sealed import seal_all

PLACE = Path(__file__).parents[1] / "tests" / "data" / "homework-codes.json"
SEED, HOMEWORK = 7, 40


def codes_text() -> str:
    """The table: homework of all kinds on positions of random games, answered by chance."""
    dice = random.Random(SEED)
    sealed = seal_all({"e7e8q": "wBut Kxe8.", "none": "nGanz schön sicher."}, "5a" * 16, 3)
    told = {"codes": [_homework(dice) for _ in range(HOMEWORK)], "salt": "5a" * 16, "place": 3}
    return json.dumps({**told, "sealed": sealed}, indent=1, ensure_ascii=False) + "\n"


def random_exercise(dice: random.Random) -> Exercise:
    """A question on a position of a game whose moves are drawn from all that are legal.

    Nothing is proved: for what may be answered the rules are enough.
    """
    while True:
        board = chess.Board()
        for _ in range(dice.randrange(60)):
            if board.is_game_over():
                break
            board.push(dice.choice(list(board.legal_moves)))
        kind, asked = dice.choice(KINDS), None
        legal = list(board.legal_moves)
        survey: Survey = {"fen": board.fen()}  # type: ignore[typeddict-item]
        if kind in ("why it fails", "is it safe") and legal:
            asked = dice.choice(legal).uci()
        exercise = Exercise(kind, Proved(survey, firm_units=True, replies={}), (), (), asked)
        if legal and choices_of(exercise):
            return exercise


def random_answers(exercise: Exercise, dice: random.Random) -> tuple[str, ...] | None:
    """Answers that the page can give."""
    choices = choices_of(exercise)
    if dice.random() < 0.2:
        return None
    most = len(choices) if exercise.kind in SEVERAL else 1
    least = 0 if exercise.kind == "which unit" else 1
    return in_order(exercise, dice.sample(choices, dice.randint(least, most)))


def _homework(dice: random.Random) -> dict[str, Any]:
    exercises = [random_exercise(dice) for _ in range(dice.randint(1, 8))]
    answers = [random_answers(one, dice) for one in exercises]
    homework, student = dice.randrange(MOST_HOMEWORK), dice.randrange(MOST_STUDENTS)
    key = "".join(dice.choices(ALPHABET, k=3))
    number = as_one_number(exercises, answers)
    return {
        "homework": homework,
        "word": word_of(student, key),
        "exercises": [
            {
                "choices": choices_of(one),
                "several": one.kind in SEVERAL,
                "nothing": one.kind == "which unit",
            }
            for one in exercises
        ],
        "answers": answers,
        "number": str(number),
        "code": write_code(homework, student, key, number),
    }


if __name__ == "__main__":
    PLACE.write_text(codes_text(), encoding="utf-8")

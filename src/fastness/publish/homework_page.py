"""Homework as one HTML file that asks nothing of any other: the exercises, the board, the code.

The script is plain JavaScript in the folder `homework`, made of small files; here they become one.
Its texts, positions and sealed explanations reach it as data.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from html import escape
from importlib.resources import files
from typing import Any

import chess

from fastness.core.shapes import Side
from fastness.exercises.exercise import Exercise
from fastness.exercises.overruling import Overruling
from fastness.exercises.words import NONE, REMARK, answer_word, board_of_answers
from fastness.language import ENGLISH, Language
from fastness.practice.choices import SEVERAL, choices_of
from fastness.practice.explaining import (
    ASIDE,
    MORE,
    PARTLY,
    WELL,
    explained,
    question_on_page,
    twin_in_words,
)
from fastness.practice.sealed import seal_all
from fastness.publish.silhouettes import SILHOUETTES
from fastness.survey.claim import UnitAt
from fastness.survey.lines import move_name
from fastness.survey.nouns import bare_unit
from fastness.survey.words import side_name

SCRIPTS = (
    "sealed.js",
    "letters.js",
    "answers.js",
    "board.js",
    "parts.js",
    "question.js",
    "explanations.js",
    "page.js",
    "begin.js",
)
"""In an order in which each finds what it needs."""
FINISHED = "*"
"""What opens the right answers, once the code was made."""
ROOM = 512
"""Bytes of which the sealed right answers take a multiple."""
_FIRST = {"right": "r", "wrong": "w", "not judged": "n"}
_SIDES: tuple[Side, ...] = ("white", "black")


@dataclass(frozen=True, slots=True)
class PageExercise:
    """An exercise as the teacher has overruled it, with what the teacher said of it."""

    exercise: Exercise
    said: tuple[Overruling, ...] = ()


def homework_page(
    title: str,
    number: int,
    salt: str,
    due: str,
    exercises: Sequence[PageExercise],
    language: Language = ENGLISH,
    *,
    word: str = "",
) -> str:
    """The page of a homework, by its number and salt; no name of any student is in it.

    `due` is the day in words; `word`, a student's own, is filled in where it is given.
    """
    data = {
        "number": number,
        "salt": salt,
        "title": title,
        "due": language.say("Due on {day}.", day=due),
        "word": word,
        "words": _words(language),
        "units": _units(language),
        "shapes": {name: asdict(shape) for name, shape in SILHOUETTES.items()},
        "exercises": [_exercise(exercises, salt, at, language) for at in range(len(exercises))],
    }
    style, script = _file("page.css"), script_text()
    policy = (
        f"default-src 'none'; script-src {_hash(script)}; style-src {_hash(style)};"
        " base-uri 'none'; form-action 'none'"
    )
    needed = escape(language.say("This page needs its script to run. Open it in a browser."))
    told = json.dumps(data, ensure_ascii=False).replace("<", "\\u003c")
    return (
        f'<!doctype html>\n<html lang="{language.code}">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>{style}</style>\n</head>\n<body>\n"
        f"<main><h1>{escape(title)}</h1><p>{needed}</p></main>\n"
        '<p id="told" role="status"></p>\n'
        f'<script type="application/json" id="homework">{told}</script>\n'
        f"<script>{script}</script>\n</body>\n</html>\n"
    )


def script_text() -> str:
    """The script as it stands in the page: its files one after the other, as one function."""
    parts = []
    for name in SCRIPTS:
        text = re.sub(r"^import .*\n", "", _file(name), flags=re.MULTILINE)
        text = re.sub(r"^export ", "", text, flags=re.MULTILINE)
        # Comments are for those who read the files themselves.
        text = re.sub(r"/\*\*.*?\*/\n?", "", text, flags=re.DOTALL)
        parts.append(re.sub(r"^\s*//.*\n|^\s*\n", "", text, flags=re.MULTILINE))
    return '"use strict";(() => {\n' + "".join(parts) + "})();"


def _file(name: str) -> str:
    return files("fastness.publish").joinpath("homework", name).read_text("utf-8")


def _hash(text: str) -> str:
    digest = hashlib.sha256(text.encode()).digest()
    return f"'sha256-{base64.b64encode(digest).decode('ascii')}'"


def _exercise(
    every: Sequence[PageExercise], salt: str, place: int, language: Language
) -> dict[str, Any]:
    one = every[place]
    exercise = one.exercise
    twin = twin_in_words([other.exercise for other in every], place, language)
    board = board_of_answers(exercise)
    choices = choices_of(exercise)
    told = explained(exercise, one.said, language)
    remarks = [
        REMARK.format(by=said.by, reason=said.reason) for said in one.said if not said.answer
    ]
    finished = {"right": exercise.accepted, "told": told.right, "remarks": remarks}
    told_at_the_end = json.dumps(finished, ensure_ascii=False)
    # How long it is would tell how many answers are right.
    told_at_the_end += " " * (-len(told_at_the_end.encode()) % ROOM)
    return {
        "kind": exercise.kind,
        "question": f"{question_on_page(exercise, language)} {twin}".strip(),
        "fen": board.fen(),
        "flip": board.turn == chess.BLACK,
        "played": [exercise.asked[:2], exercise.asked[2:4]] if exercise.asked else [],
        "choices": choices,
        "names": [_names(exercise, board, choice, language) for choice in choices],
        "several": exercise.kind in SEVERAL,
        "nothing": exercise.kind == "which unit",
        "sealed": seal_all(
            {answer: _FIRST[verdict] + text for answer, (verdict, text) in told.answers.items()},
            salt,
            place,
        ),
        "finished": seal_all({FINISHED: told_at_the_end}, salt, place)[FINISHED],
    }


def _names(
    exercise: Exercise, board: chess.Board, choice: str, language: Language
) -> tuple[str, ...]:
    """How an answer is written, and for a move how it is in English, which is read too."""
    if exercise.kind == "is it safe":
        return (answer_word(choice, language),)
    if exercise.kind == "which unit":
        return (choice,)
    return tuple(dict.fromkeys((move_name(board, choice, language), move_name(board, choice))))


def _units(language: Language) -> dict[str, str]:
    """The letters of a FEN in words: ``White, king``."""
    return {
        chess.Piece(chess.PIECE_NAMES.index(unit), side == "white").symbol(): (
            f"{side_name(side, language)}, {bare_unit(UnitAt(unit, ''), language).strip()}"
        )
        for side in _SIDES
        for unit in SILHOUETTES
    }


def _words(language: Language) -> dict[str, str]:
    """The texts of the page; what stands in braces the page fills in."""
    say = language.say
    return {
        "how": say(
            "Look at each position and answer in your own time. You can go back and change your"
            " answers until you ask for your code."
        ),
        "howKeys": say(
            "Tap a square, or reach it by the arrow keys and press Enter. A move is two taps: the"
            " piece, then where it goes. You can also type it."
        ),
        "howCode": say(
            "At the end there is a code. Copy it or write it down, and give it to your teacher."
        ),
        "word": say("Your word from the slip"),
        "wordWrong": say("This is not a word of a slip. Compare it letter by letter."),
        "wordMissing": say("The code needs your word. It stands on your slip."),
        "begin": say("Begin"),
        "exercise": say("Exercise {number} of {count}", number="{number}", count="{count}"),
        "exercises": say("Between the exercises"),
        "back": say("Back"),
        "next": say("Next"),
        "look": say("To the end"),
        "all": say("All answers"),
        "board": say("The board"),
        "empty": say("empty"),
        "picked": say("picked up"),
        "reached": say("it can go here"),
        "cannot": say("It cannot go there. Tap another square."),
        "taken": say("{move} is noted.", move="{move}"),
        "left": say("{move} is taken away.", move="{move}"),
        "now": say("Your answer: {answer}.", answer="{answer}"),
        "type": say("Or type the move"),
        "add": say("Note it"),
        "unread": say("“{typed}” is no move that can be played here.", typed="{typed}"),
        "remove": say("Take away"),
        "removeMove": say("Take {move} away", move="{move}"),
        "nothing": say("nothing"),
        NONE: say("nothing"),
        "yes": answer_word("yes", language),
        "no": answer_word("no", language),
        "open": say("open"),
        "isThatAll": say("Is that all?"),
        "someOpen": say("Still open: {number}.", number="{number}"),
        "noneOpen": say("You have answered every exercise."),
        "afterwards": say(
            "With the code you also see what was right and why. After that you can change nothing"
            " any more."
        ),
        "finish": say("Show my code"),
        "yourCode": say("Your code"),
        "copy": say("Copy the code"),
        "copied": say("The code is copied."),
        "giveCode": say(
            "Give the code to your teacher: send it, or write it on paper. Below you see what each"
            " of your answers does."
        ),
        "yourAnswer": say("Your answer: {answer}.", answer="{answer}"),
        "well": say(WELL),
        "partly": say(PARTLY),
        "aside": say(ASIDE),
        "more": say(MORE, answers="{answers}"),
    }

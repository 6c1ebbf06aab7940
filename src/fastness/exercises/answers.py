"""Reads what a student answers: squares, moves in notation, yes or no."""

from __future__ import annotations

import re

import chess

from fastness.errors import AnswerError
from fastness.exercises.exercise import Exercise
from fastness.exercises.words import NONE, answer_word, board_of_answers
from fastness.language import ENGLISH, Language
from fastness.survey.lines import read_notation
from fastness.survey.words import side_name

_SPACES = re.compile(r"[,;\s]+")
_NONE = ("", NONE, "nothing", "-")


def read_answers(exercise: Exercise, text: str, language: Language = ENGLISH) -> tuple[str, ...]:
    """The answers in `text`, as `Exercise.accepted` writes them, each once.

    Squares (or ``none``) for "which unit"; ``yes`` or ``no`` for "is it safe"; moves in short
    algebraic or UCI notation for the others, the opponent's reply for "why it fails". Words and
    letters are those of the language, or English ones.

    Raises AnswerError with the word that cannot be read.
    """
    words = [word for word in _SPACES.split(text.strip()) if word]
    if exercise.kind == "is it safe":
        return (_yes_or_no(text, language),)
    if exercise.kind == "which unit":
        if text.strip().casefold() in (*_NONE, answer_word(NONE, language).casefold()):
            return ()
        return _each_once([_square(exercise, word, language) for word in words])
    board = board_of_answers(exercise)
    return _each_once([_move(board, word, language) for word in words])


def _each_once(answers: list[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(answers))


def _yes_or_no(text: str, language: Language) -> str:
    word = text.strip().casefold()
    for of in (language, ENGLISH):
        for answer in ("yes", "no"):
            if word and answer_word(answer, of).casefold().startswith(word):
                return answer
    raise AnswerError(language.say('"{text}" is no answer here: say yes or no', text=text.strip()))


def _square(exercise: Exercise, word: str, language: Language) -> str:
    name = word.lower()[-2:]
    if name not in chess.SQUARE_NAMES:
        told = language.say(
            '"{word}" is no square: say where the unit stands, as e5, or none', word=word
        )
        raise AnswerError(told)
    board = chess.Board(exercise.fen)
    if board.color_at(chess.parse_square(name)) != board.turn:
        side = side_name("white" if board.turn else "black", language)
        raise AnswerError(
            language.say("on {square} there is no unit of {side}'s", square=name, side=side)
        )
    return name


def _move(board: chess.Board, word: str, language: Language) -> str:
    bare = re.sub(r"^\d+\.+", "", word)
    for read, written in (
        (board.parse_san, read_notation(bare, language)),
        (board.parse_san, bare),
        (board.parse_uci, bare),
    ):
        try:
            return read(written).uci()
        except ValueError:
            continue
    side = side_name("white" if board.turn else "black", language)
    told = language.say(
        '"{word}" is no legal move of {side}\'s here: write it as Nf6 or g8f6', word=word, side=side
    )
    raise AnswerError(told)

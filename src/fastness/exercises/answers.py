"""Reads what a student answers: squares, moves in notation, yes or no."""

from __future__ import annotations

import re

import chess

from fastness.errors import AnswerError
from fastness.exercises.exercise import Exercise

_SPACES = re.compile(r"[,;\s]+")
_NONE = ("", "none", "nothing", "-")


def read_answers(exercise: Exercise, text: str) -> tuple[str, ...]:
    """The answers in `text`, as `Exercise.accepted` writes them, each once.

    Squares (or ``none``) for "which unit"; ``yes`` or ``no`` for "is it safe"; moves in short
    algebraic or UCI notation for the others, the opponent's reply for "why it fails".

    Raises AnswerError with the word that cannot be read.
    """
    words = [word for word in _SPACES.split(text.strip()) if word]
    if exercise.kind == "is it safe":
        return (_yes_or_no(text),)
    if exercise.kind == "which unit":
        if text.strip().lower() in _NONE:
            return ()
        return _each_once([_square(exercise, word) for word in words])
    board = board_of_answers(exercise)
    return _each_once([_move(board, word) for word in words])


def board_of_answers(exercise: Exercise) -> chess.Board:
    """The board on which the answers are played: after the move asked about, if replies are."""
    board = chess.Board(exercise.fen)
    if exercise.kind == "why it fails" and exercise.asked:
        board.push_uci(exercise.asked)
    return board


def answer_in_notation(exercise: Exercise, answer: str) -> str:
    """An answer as people write it: ``Be7``, ``e5``, ``yes``."""
    if exercise.kind in ("which unit", "is it safe"):
        return answer
    board = board_of_answers(exercise)
    return board.san(chess.Move.from_uci(answer))


def _each_once(answers: list[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(answers))


def _yes_or_no(text: str) -> str:
    word = text.strip().lower()
    for answer in ("yes", "no"):
        if word and answer.startswith(word):
            return answer
    raise AnswerError(f'"{text.strip()}" is no answer here: say yes or no')


def _square(exercise: Exercise, word: str) -> str:
    name = word.lower()[-2:]
    if name not in chess.SQUARE_NAMES:
        raise AnswerError(f'"{word}" is no square: say where the unit stands, as e5, or none')
    board = chess.Board(exercise.fen)
    if board.color_at(chess.parse_square(name)) != board.turn:
        side = "White" if board.turn else "Black"
        raise AnswerError(f"on {name} there is no unit of {side}'s")
    return name


def _move(board: chess.Board, word: str) -> str:
    bare = re.sub(r"^\d+\.+", "", word)
    for read in (board.parse_san, board.parse_uci):
        try:
            return read(bare).uci()
        except ValueError:
            continue
    side = "White" if board.turn else "Black"
    raise AnswerError(f'"{word}" is no legal move of {side}\'s here: write it as Nf6 or g8f6')

"""Near-duplicates: exercises with the same answer and the same units taking part.

A position that came back two moves later with a rook elsewhere is no new exercise. Two exercises
have one pattern where the kind of question, the answer, and the units that take part in attack
and answer are the same, on the same squares; mirror images from left to right and with the
colours exchanged count as the same, as long as the survey proves them by the same line: where
several replies are as good, it may show another one of the mirror image.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

import chess

from fastness.core.shapes import Survey
from fastness.exercises.difficulty import is_unsafe
from fastness.exercises.exercise import Exercise

_PASS = "0000"


def pattern_key(exercise: Exercise) -> str:
    """The same text of 64 characters for near-duplicates, and for nothing else."""
    return hashlib.sha256(pattern(exercise).encode()).hexdigest()


def pattern(exercise: Exercise) -> str:
    """Kind, answer and the units that take part, seen from White's side and the smaller mirror."""
    board = chess.Board(exercise.fen)
    flip = board.turn == chess.BLACK
    return min(_seen(exercise, board, flip=flip, mirror=mirror) for mirror in (False, True))


def taking_part(exercise: Exercise) -> set[chess.Square]:
    """The squares of the units that take part in the attack or the answer.

    Where nothing is attacked, and none falls, every unit does: each of them is part of the answer.
    """
    board = chess.Board(exercise.fen)
    survey = exercise.proved.survey
    squares = _of_attack(survey)
    if exercise.asked is not None:
        verdict = exercise.proved.verdict(exercise.asked)
        squares |= _of_moves([exercise.asked, *(verdict["line"] or ())])
    moves = [answer for answer in exercise.accepted if _is_move(answer)]
    squares |= _of_moves(moves)
    held = {square for square in squares if board.piece_at(square)}
    return held or set(chess.scan_forward(board.occupied))


def _of_attack(survey: Survey) -> set[chess.Square]:
    """The units that are not safe, those that win them, and what the causes name."""
    squares: set[chess.Square] = set()
    for unit in survey["units"]:
        seems = unit["status"] in ("safe by tactics", "won back")
        if is_unsafe(unit) or seems:
            squares.add(chess.parse_square(unit["square"]))
            squares |= _of_moves(unit["line"] or ())
        for cause in unit["causes"]:
            squares |= {chess.parse_square(square) for square in cause["squares"]}
    return squares


def _of_moves(moves: Iterable[str]) -> set[chess.Square]:
    """Where the units of moves stood and went to."""
    squares: set[chess.Square] = set()
    for uci in moves:
        if uci != _PASS:
            move = chess.Move.from_uci(uci)
            squares |= {move.from_square, move.to_square}
    return squares


def _is_move(answer: str) -> bool:
    return len(answer) in (4, 5) and answer[0] in "abcdefgh" and answer[1] in "12345678"


def _seen(exercise: Exercise, board: chess.Board, *, flip: bool, mirror: bool) -> str:
    def square(name: chess.Square) -> str:
        turned = chess.square_mirror(name) if flip else name
        turned = turned ^ 7 if mirror else turned
        return chess.square_name(turned)

    def answer(text: str) -> str:
        if _is_move(text):
            move = chess.Move.from_uci(text)
            return square(move.from_square) + square(move.to_square) + text[4:]
        return square(chess.parse_square(text)) if text in chess.SQUARE_NAMES else text

    units = []
    for place in taking_part(exercise):
        piece = board.piece_at(place)
        if piece:
            white = piece.color != flip
            letter = chess.piece_symbol(piece.piece_type)
            units.append((letter.upper() if white else letter) + square(place))
    asked = answer(exercise.asked) if exercise.asked else "-"
    answers = sorted(map(answer, exercise.accepted))
    return " ".join([exercise.kind, asked, ",".join(answers) or "none", *sorted(units)])

"""A row of lettered boxes for each exercise, so that a sheet on paper is entered by few letters."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import chess

from fastness.core.shapes import Unit
from fastness.errors import OptionError
from fastness.exercises.exercise import Exercise
from fastness.exercises.words import NONE
from fastness.survey.tries import loss
from fastness.survey.words import KINDS_BY_WORTH

NOTHING, OTHER = "-", "o"
"""What is entered where nothing was written, or something that has no box."""
# The letter o stands for another answer, and small l looks like the figure one.
LETTERS = "abcdefghijkmnpqrstuvwxyzABCDEFGHJKLMNPQRSTUVWXYZ"
MOST_WRONG = 5
"""Wrong answers that have a box."""
_SAFE_PIECES = ("safe", "won back", "safe by tactics")


@dataclass(frozen=True, slots=True)
class Box:
    """A likely answer, written as in `Exercise.accepted` (or ``none``), and whether it is right."""

    letter: str
    answer: str
    counts: Literal["right", "wrong", "not judged"]


@dataclass(frozen=True, slots=True)
class Row:
    """The boxes of one exercise; `label` is its number on the sheet."""

    label: str
    boxes: tuple[Box, ...]


def grid_row(label: str, exercise: Exercise, struck: Sequence[str] = ()) -> Row:
    """The likely answers of an exercise with their letters: the right ones first.

    `struck` are answers that the teacher no longer counts as right, and that children may give.
    """
    wrong = dict.fromkeys([*struck, *likely_wrong(exercise)])
    answers = [(one, "right") for one in _right(exercise)]
    answers += [(one, "wrong") for one in wrong]
    answers += [(one, "not judged") for one in exercise.not_judged]
    boxes = tuple(
        Box(letter, answer, counts)  # type: ignore[arg-type]
        for letter, (answer, counts) in zip(LETTERS, answers, strict=False)
    )
    return Row(label, boxes)


def read_marks(text: str, rows: Sequence[Row]) -> list[tuple[str, ...] | None]:
    """What a child wrote, exercise by exercise, from ``a bc - o``: a word for each exercise.

    None stands for an answer that has no box. Raises OptionError where a letter has no box or
    the number of words is not that of the rows.
    """
    words = text.split()
    if len(words) != len(rows):
        raise OptionError(
            f"{len(words)} words for {len(rows)} exercises; write one word for each, "
            f"{NOTHING!r} where nothing was written"
        )
    return [_read(word, row) for word, row in zip(words, rows, strict=True)]


def _read(word: str, row: Row) -> tuple[str, ...] | None:
    if word == NOTHING:
        return ()
    if word == OTHER:
        return None
    by_letter = {box.letter: box.answer for box in row.boxes}
    for letter in word:
        if letter not in by_letter:
            raise OptionError(
                f"exercise {row.label} has no box {letter!r}; there are {', '.join(by_letter)}, "
                f"{OTHER!r} alone for something else and {NOTHING!r} for nothing"
            )
    return tuple(by_letter[letter] for letter in dict.fromkeys(word))


def _right(exercise: Exercise) -> tuple[str, ...]:
    if exercise.kind == "which unit" and not exercise.accepted:
        return (NONE,)
    return exercise.accepted


def likely_wrong(exercise: Exercise) -> tuple[str, ...]:
    """What a club player would answer wrongly, the likeliest first; at most `MOST_WRONG`."""
    found = _WRONG[exercise.kind](exercise)
    known = {*_right(exercise), *exercise.not_judged}
    return tuple(one for one in dict.fromkeys(found) if one not in known)[:MOST_WRONG]


def _wrong_units(exercise: Exercise) -> list[str]:
    """Units that are attacked or loose and yet not unsafe, the most valuable first."""
    units = [
        unit
        for unit in exercise.proved.survey["units"]
        if unit["status"] in _SAFE_PIECES and unit["unit"] != "king"
    ]
    seen = [unit for unit in units if unit["attackers"] or unit["status"] != "safe"]
    loose = [unit for unit in units if unit["loose"] and unit not in seen]
    return [NONE, *(unit["square"] for group in (seen, loose) for unit in _by_worth(group))]


def _by_worth(units: Sequence[Unit]) -> list[Unit]:
    return sorted(units, key=lambda unit: (KINDS_BY_WORTH.index(unit["unit"]), unit["square"]))


def _falling(exercise: Exercise) -> list[str]:
    falling = [one for one in exercise.proved.survey["moves"] if not one["holds"]]
    falling.sort(key=lambda one: (not one["natural"], loss(one), one["san"]))
    return [one["uci"] for one in falling]


def _wrong_ways(exercise: Exercise) -> list[str]:
    holding = [one for one in exercise.proved.survey["moves"] if one["holds"]]
    holding.sort(key=lambda one: (not one["natural"], one["rank"] or 0, one["san"]))
    first = [one["uci"] for one in holding if one["uci"] not in exercise.accepted]
    natural, falling = first[:2], _falling(exercise)
    return [*natural, *falling, *first[2:]]


def _wrong_replies(exercise: Exercise) -> list[str]:
    """Captures and checks that are not among the answers."""
    board = chess.Board(exercise.fen)
    if exercise.asked:
        board.push_uci(exercise.asked)
    moves = sorted(board.legal_moves, key=lambda move: (not board.is_capture(move), move.uci()))
    return [move.uci() for move in moves if board.is_capture(move) or board.gives_check(move)]


def _yes_or_no(_exercise: Exercise) -> list[str]:
    return ["yes", "no"]


_WRONG = {
    "which unit": _wrong_units,
    "every move": _falling,
    "better way": _wrong_ways,
    "why it fails": _wrong_replies,
    "is it safe": _yes_or_no,
}

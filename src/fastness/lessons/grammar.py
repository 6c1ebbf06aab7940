"""The claims of a lesson, as they are written; docs/lessons.md has the grammar."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from difflib import get_close_matches
from typing import cast, get_args

import chess

from fastness.core.shapes import Mechanism, Way
from fastness.lessons.lesson import (
    AllThatKeep,
    Better,
    Claim,
    FallsBy,
    Keeps,
    Loses,
    Safety,
    Threatened,
    Twin,
    Variation,
    Worth,
)
from fastness.lessons.own_marks import NAME as MARKS
from fastness.lessons.own_marks import WANTED as MARKS_WANTED
from fastness.lessons.written import Written
from fastness.survey.words import WAYS

_CLAIM = re.compile(r"([A-Za-z][A-Za-z ]*?)\s*:")
_WAY = re.compile(r"\(([^()]*)\)\s*$")
_PAWNS = re.compile(r"\d{1,3}(\.\d{1,2})?")
MECHANISMS: tuple[str, ...] = get_args(Mechanism)


def is_claim(row: Written) -> bool:
    """Whether a row begins as a claim does: words and a colon."""
    return bool(_CLAIM.match(row.text))


def name_and_value(row: Written) -> tuple[str, Written]:
    """The name of a claim, small and with single blanks, and what follows the colon.

    Raises LessonError where there is no name and colon, or nothing behind it.
    """
    found = _CLAIM.match(row.text)
    if not found:
        raise row.fault(f'this is no claim; write "name: value" with one of {", ".join(NAMES)}')
    name, value = " ".join(found[1].lower().split()), row.part(found.end())
    if not value.text:
        raise value.fault(f'nothing stands behind "{name}:"; write {_WANTED.get(name, "a value")}')
    return name, value


def read_claim(row: Written, board: chess.Board) -> Claim:
    """The claim of a row about the position on `board`, which stays as it is.

    Raises LessonError, which says what would be right.
    """
    name, value = name_and_value(row)
    if name not in _READERS:
        near = get_close_matches(name, (*NAMES, MARKS), 1)
        meant = f'; is "{near[0]}" meant?' if near else ""
        raise row.fault(
            f'no claim has the name "{name}"; there are {", ".join(NAMES)}, and {MARKS} to'
            f" draw{meant}"
        )
    return _READERS[name](row, value, board.copy(stack=False))


def _unsafe(row: Written, value: Written, board: chess.Board) -> Claim:
    return Safety(row.line, row.text, _squares(value, board), unsafe=True)


def _safe(row: Written, value: Written, board: chess.Board) -> Claim:
    return Safety(row.line, row.text, _squares(value, board), unsafe=False)


def _squares(value: Written, board: chess.Board) -> tuple[str, ...]:
    return tuple(item.occupied(board) for item in value.items())


def _holds(row: Written, value: Written, board: chess.Board) -> Claim:
    return Keeps(row.line, row.text, _moves(value, board))


def _all(row: Written, value: Written, board: chess.Board) -> Claim:
    return AllThatKeep(row.line, row.text, _moves(value, board))


def _only(row: Written, value: Written, board: chess.Board) -> Claim:
    return AllThatKeep(row.line, row.text, (value.move(board),))


def _moves(value: Written, board: chess.Board) -> tuple[str, ...]:
    return tuple(item.move(board) for item in value.items())


def _falls(row: Written, value: Written, board: chess.Board) -> Claim:
    words = value.words()
    at = next((one for one in words if one.text == "because"), None)
    if at is None:
        return Loses(row.line, row.text, value.move(board), ())
    start = at.column - value.column
    move, rest = value.part(0, start), value.part(start + len(at.text))
    played = move.move(board)
    board.push_uci(played)
    because = rest.moves(board)
    if not because:
        raise rest.fault('no move stands behind "because"; write the answer that wins something')
    return Loses(row.line, row.text, played, because)


def _better(row: Written, value: Written, board: chess.Board) -> Claim:
    return Better(row.line, row.text, tuple(_with_way(item, board) for item in value.items()))


def _with_way(item: Written, board: chess.Board) -> tuple[str, Way | None]:
    found = _WAY.search(item.text)
    if not found:
        return item.move(board), None
    way = item.part(*found.span(1))
    if way.text not in WAYS:
        raise way.fault(f'"{way.text}" is no way; there are {", ".join(WAYS)}')
    return item.part(0, found.start()).move(board), way.text


def _danger(row: Written, value: Written, _: chess.Board) -> Claim:
    return Threatened(row.line, row.text, _worth(value.alone(_WANTED["danger"])))


def _worth(word: Written) -> Worth:
    """Pawns' worth as centipawns, or a word."""
    if word.text == "mate":
        return "mate"
    if word.text == "none":
        return "none"
    if not _PAWNS.fullmatch(word.text):
        raise word.fault(
            f'"{word.text}" is no worth; write pawns\' worth, such as 3 or 0.5, or mate or none'
        )
    return int(Decimal(word.text) * 100)


def _mechanism(row: Written, value: Written, board: chess.Board) -> Claim:
    unit, *rest = value.words()
    square = unit.occupied(board)
    name = " ".join(word.text for word in rest)
    if name not in MECHANISMS:
        at = rest[0] if rest else value.part(len(value.text))
        raise at.fault(f'"{name}" is no mechanism; there are {", ".join(MECHANISMS)}')
    return FallsBy(row.line, row.text, square, cast("Mechanism", name))


def _line(row: Written, value: Written, board: chess.Board) -> Claim:
    words = value.words()
    passes = words[0].text == "pass"
    if passes and board.is_check():
        raise words[0].fault("the side to move is in check and cannot pass; begin with its move")
    if passes:
        words.pop(0)
        board.push(chess.Move.null())
    wins: Worth | None = None
    if len(words) > 1 and words[-2].text == "wins":
        wins = _worth(words[-1])
        if not isinstance(wins, int) or not wins:
            raise words[-1].fault('write pawns\' worth behind "wins", such as wins 3')
        words = words[:-2]
    elif words and words[-1].text == "mate":
        wins, words = "mate", words[:-1]
    moves = tuple(move for word in words for move in word.moves(board))
    if not moves:
        raise value.fault("no move stands here; write moves that can be played one after another")
    return Variation(row.line, row.text, passes, moves, wins)


def _twin(row: Written, value: Written, _: chess.Board) -> Claim:
    at = next((one for one in value.words() if one.text == "better"), None)
    if at is None:
        raise value.fault('"better" is missing; write twin: FEN better Be7')
    start = at.column - value.column
    other = value.part(0, start).fen()
    return Twin(row.line, row.text, other.fen(), value.part(start + len(at.text)).move(other))


_READERS: dict[str, Callable[[Written, Written, chess.Board], Claim]] = {
    "unsafe": _unsafe,
    "safe": _safe,
    "holds": _holds,
    "falls": _falls,
    "better ways": _better,
    "only": _only,
    "these are all": _all,
    "danger": _danger,
    "mechanism": _mechanism,
    "line": _line,
    "twin": _twin,
}
NAMES = tuple(_READERS)
"""The names of the claims."""
_WANTED = {
    "unsafe": "squares: c6, d4",
    "safe": "squares: c6, d4",
    "holds": "moves: Be7, Nf6",
    "falls": "a move and what refutes it: Qxg5 because Nxg5",
    "better ways": "moves, with their ways if you like: exd5 (capture)",
    "only": "a move: Be7",
    "these are all": "moves: Be7, Nf6",
    "danger": "pawns' worth, mate or none",
    "mechanism": "a square and a mechanism: c6 pin",
    "line": "moves: Nxe5 Nxe5",
    "twin": "a FEN, the word better, and a move",
    "moves": "moves: 1.e4 e5 2.Nf3",
    MARKS: MARKS_WANTED,
}

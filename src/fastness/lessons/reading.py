"""Reading a lesson: the blocks of its Markdown, and in each the position and the claims."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import chess

from fastness.errors import LessonError
from fastness.lessons.grammar import is_claim, name_and_value, read_claim
from fastness.lessons.lesson import Block, Claim, Fault, Lesson, OwnMarks, Place, Prose
from fastness.lessons.own_marks import NAME as MARKS
from fastness.lessons.own_marks import read_marks
from fastness.lessons.written import Written

_FENCE = re.compile(r" {0,3}(`{3,}|~{3,})\s*([^\s`]*)")
POSITION = "position"
"""The word behind the fence that makes a block a position."""


def read_lesson(text: str) -> Lesson:
    """The lesson that a text is. What cannot be read is a fault, and hides nothing else."""
    faults: list[Fault] = []
    parts: list[Prose | Block] = []
    for span in _spans(text.split("\n")):
        if not span.block:
            parts.append(Prose(span.line, span.text))
            continue
        if not span.closed:
            told = "this position block has no end; close it with ``` on a line of its own"
            faults.append(Fault(span.line, 1, told))
            parts.append(Block(span.line, span.text, None, ()))
            continue
        parts.append(_block(span, faults))
    if not any(isinstance(part, Block) for part in parts):
        told = "there is no position here; begin one with ```position on a line of its own"
        faults.append(Fault(1, 1, told))
    return Lesson(tuple(parts), tuple(faults))


@dataclass(slots=True)
class _Span:
    """Rows of the file that belong together; those of a block have its fences around them."""

    line: int
    rows: list[str]
    block: bool
    closed: bool = False
    last: bool = False

    @property
    def text(self) -> str:
        return "\n".join(self.rows) + ("" if self.last else "\n")


def _spans(rows: Sequence[str]) -> list[_Span]:
    """The file cut where position blocks begin and end; other fenced blocks are prose."""
    spans = [_Span(1, [], block=False)]
    fence = ""
    for number, row in enumerate(rows, 1):
        mark = _FENCE.match(row)
        position = bool(mark) and mark is not None and mark[2].lower() == POSITION
        inside = spans[-1].block and not spans[-1].closed
        if position and (inside or not fence):
            fence = mark[1] if mark else ""
            spans.append(_Span(number, [row], block=True))
            continue
        if spans[-1].closed:
            spans.append(_Span(number, [], block=False))
        spans[-1].rows.append(row)
        if mark and fence and mark[1].startswith(fence) and row.strip() == mark[1]:
            fence = ""
            spans[-1].closed = spans[-1].block
        elif mark and not fence:
            fence = mark[1]
    spans[-1].last = True
    return [span for span in spans if span.rows]


def _block(span: _Span, faults: list[Fault]) -> Block:
    rows = [
        Written(row, span.line + number, 1).part(0)
        for number, row in enumerate(span.rows)
        if row.strip() and not row.lstrip().startswith("#")
    ]
    rows = rows[1:-1]
    try:
        place, rest = _place(span.line, rows)
    except LessonError as error:
        faults.append(_fault(error))
        return Block(span.line, span.text, None, ())
    board, claims, marks = chess.Board(place.fen), list[Claim](), list[OwnMarks]()
    for row in rest:
        try:
            if is_claim(row) and name_and_value(row)[0] == MARKS:
                marks.append(read_marks(row, name_and_value(row)[1]))
            else:
                claims.append(read_claim(row, board))
        except LessonError as error:
            faults.append(_fault(error))
    return Block(span.line, span.text, place, tuple(claims), tuple(marks))


def _fault(error: LessonError) -> Fault:
    return Fault(error.line, error.column, error.message)


def _place(line: int, rows: list[Written]) -> tuple[Place, list[Written]]:
    """The position at the head of a block, and the rows behind it."""
    board, rest, given = chess.Board(), rows, False
    if rest and not is_claim(rest[0]):
        board, rest, given = rest[0].fen(), rest[1:], True
    start, moves = board.fen(), tuple[str, ...]()
    if rest and is_claim(rest[0]) and name_and_value(rest[0])[0] == "moves":
        moves, rest, given = name_and_value(rest[0])[1].moves(board), rest[1:], True
    if not given:
        at = rest[0] if rest else Written("", line, 1)
        raise at.fault('the position is missing; begin with a FEN, or with "moves: 1.e4 e5"')
    return Place(line, start, moves, board.fen()), rest

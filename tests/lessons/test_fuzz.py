"""Lessons spoilt in every way: read or told, never an exception, and no row of the file lost."""

import chess
from hypothesis import given

from fastness.lessons.example import EXAMPLES
from fastness.lessons.grammar import MECHANISMS, NAMES
from fastness.lessons.lesson import Block
from fastness.lessons.reading import read_lesson
from fastness.survey.words import WAYS
from tests.fuzzing import TRIES, spoilt

PIECES = [
    *(f"\n{name}: " for name in NAMES),
    *(f" {name}" for name in MECHANISMS[:6]),
    *(f" ({way})" for way in WAYS),
    "```position\n", "```", "~~~", "\n", "\r\n", "#", ":", ",", "because", "better", "wins 1",
    "wins mate", "pass", "e5", "Nf6", "e7e8q", "O-O", "1.e4 e5", "...", "1e9", "999.99", "-1",
    "8/8/8/8/8/8/8/8 w - - 0 1", "4k3/8/8/8/8/8/8/4K2R w K - 0 1", "moves: ", "marks: ring e5, ",
    "guard d6-e5", "text x", "\u2028", "\x00", "\ud7ff", "{", "<b>", "\u00a0", "\t",
]  # fmt: skip
TEXTS = list(EXAMPLES.values())


@TRIES
@given(spoilt(TEXTS, PIECES))
def test_any_text_is_a_lesson_with_faults_or_without(text: str) -> None:
    lesson = read_lesson(text)
    assert "".join(part.text for part in lesson.parts) == text
    rows = text.split("\n")
    for fault in lesson.faults:
        assert 1 <= fault.line <= len(rows)
        assert 1 <= fault.column <= len(rows[fault.line - 1]) + 1
        assert fault.message
    for block in lesson.parts:
        if isinstance(block, Block) and block.place is not None:
            board = chess.Board(block.place.start)
            for move in block.place.moves:
                board.push(board.parse_uci(move))
            assert board.fen() == block.place.fen
            assert board.is_valid()

"""A piece of a lesson's line that knows its place, so that a fault can name it."""

from __future__ import annotations

import re
from dataclasses import dataclass

import chess

from fastness import core
from fastness.errors import LessonError, MoveError, PositionError
from fastness.intake.san import play

_NUMBER = re.compile(r"\d+\.+")
FIELDS = ("0", "1")
"""The two counts of a FEN, where they are left out."""


@dataclass(frozen=True, slots=True)
class Written:
    """Text with the line and the column where it begins, both counted from 1."""

    text: str
    line: int
    column: int

    def fault(self, message: str) -> LessonError:
        """The error that what is written here is."""
        return LessonError(message, self.line, self.column)

    def part(self, start: int, end: int | None = None) -> Written:
        """From `start` to `end`, without the blanks around it."""
        text = self.text[start:end]
        blanks = len(text) - len(text.lstrip())
        return Written(text.strip(), self.line, self.column + start + blanks)

    def words(self) -> list[Written]:
        """What stands between blanks."""
        return [self.part(*word.span()) for word in re.finditer(r"\S+", self.text)]

    def items(self) -> list[Written]:
        """What stands between commas. Raises LessonError where nothing does."""
        found = [self.part(*item.span()) for item in re.finditer(r"[^,]*(?:,|$)", self.text)]
        found = [item.part(0, len(item.text.rstrip(","))) for item in found]
        if self.text and not self.text.endswith(",") and not found[-1].text:
            found.pop()
        for item in found:
            if not item.text:
                raise item.fault("nothing stands here; write a square or a move, or take the comma")
        return found

    def alone(self, wanted: str) -> Written:
        """The one word that is written. Raises LessonError where there is none, or more."""
        words = self.words()
        if len(words) != 1:
            at = words[1] if words else self
            raise at.fault(f"one word is wanted here: {wanted}")
        return words[0]

    def square(self) -> str:
        """The square that is written."""
        word = self.alone("a square, such as c6")
        if word.text not in chess.SQUARE_NAMES:
            raise word.fault(f'"{word.text}" is no square; write a letter a-h and a digit 1-8: c6')
        return word.text

    def occupied(self, board: chess.Board) -> str:
        """The square that is written, on which something stands."""
        square = self.square()
        if board.piece_at(chess.parse_square(square)) is None:
            raise self.fault(f"nothing stands on {square}; name the square of a piece or pawn")
        return square

    def moves(self, board: chess.Board) -> tuple[str, ...]:
        """The moves that are written, numbers allowed, as UCI; they are played on `board`."""
        return tuple(move for word in self.words() for move in word._played(board))

    def _played(self, board: chess.Board) -> list[str]:
        bare = self.part(number.end()) if (number := _NUMBER.match(self.text)) else self
        if not bare.text:
            return []
        try:
            return [play(board, bare.text.rstrip("!?")).uci()]
        except MoveError as error:
            raise bare.fault(str(error)) from None

    def move(self, board: chess.Board) -> str:
        """The one move that is written, as UCI; `board` stays as it is."""
        found = self.moves(board.copy(stack=False))
        if len(found) != 1:
            raise self.fault("one move is wanted here, such as Be7")
        return found[0]

    def fen(self) -> chess.Board:
        """The position that is written as FEN; the two counts at its end may be left out."""
        fields = self.text.split()
        if not 4 <= len(fields) <= 6:
            raise self.fault(
                f"{len(fields)} of the fields of a FEN stand here; it needs the board, the side to"
                ' move, castling rights and the en passant square, and may have two counts: "0 1"'
            )
        text = " ".join([*fields, *FIELDS[len(fields) - 4 :]])
        try:
            core.survey(text, reach=1)
            return chess.Board(text)
        except (PositionError, ValueError) as error:
            raise self.fault(str(error)) from None

"""A score sheet as it is typed: forgiving of how moves are written, strict about what is legal."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, field
from typing import Literal

import chess
from chess import KING

Letters = Literal["english", "german", "french", "spanish"]
# King, queen, rook, bishop, knight: common practice, no source.
LETTERS: dict[Letters, str] = {
    "english": "kqrbn",
    "german": "kdtls",
    "french": "rdtfc",
    "spanish": "rdtac",
}
_KINDS = (KING, chess.QUEEN, chess.ROOK, chess.BISHOP, chess.KNIGHT)
RESULTS = {"1-0": "1-0", "0-1": "0-1", "1/2": "1/2-1/2", "1/2-1/2": "1/2-1/2", "*": "*"}
_NEAR = 5
_NUMBER = re.compile(r"^\d+\s*\.+\s*")
# What may be left out or written in another way: takes, checks, marks, the sign of promotion.
_MARKS = re.compile(r"e\.?p\.?$|[x:+#!?=/()\-.\u00d7\u2013]", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Entered:
    """What was typed has been taken: the moves in SAN, and what is odd about them if anything."""

    sans: tuple[str, ...]
    notice: str | None = None


@dataclass(frozen=True, slots=True)
class Ambiguous:
    """The word may be one of several legal moves, in SAN; nothing of it was taken.

    `before` are the moves of the same line that were, `rest` the words after it.
    """

    word: str
    choices: tuple[str, ...]
    before: tuple[str, ...]
    rest: str


@dataclass(frozen=True, slots=True)
class Refused:
    """No legal move can be meant; `near` are legal ones that look like it."""

    word: str
    near: tuple[str, ...]
    before: tuple[str, ...]
    reason: str


@dataclass(slots=True)
class Sheet:
    """A game that is being typed. Nothing is read or written here.

    `result` is PGN's; `illegible` tells that the sheet could not be read any further, `finished`
    that nothing more will be typed. `asked` are the moves between which the last word left a doubt:
    one of them, written exactly so, ends it.
    """

    letters: Letters = "english"
    board: chess.Board = field(default_factory=chess.Board)
    result: str = "*"
    illegible: bool = False
    finished: bool = False
    asked: tuple[str, ...] = ()

    def enter(self, text: str) -> Entered | Ambiguous | Refused:
        """Take the moves of a line, as far as they are clear and legal.

        Case, takes, checks, numbers and annotations do not matter; a result may end the line.
        """
        taken: list[str] = []
        words = text.replace("½", "1/2").split()
        notice = None
        for index, typed in enumerate(words):
            word = _NUMBER.sub("", typed).strip(".")
            # A mark that stands alone, such as "e.p." or "+", says nothing new.
            if not _bare(word):
                continue
            if word in RESULTS:
                self.result = RESULTS[word]
                notice = self._odd_result()
                continue
            found = self.meant_by(word)
            if word in self.asked:
                found = [self.board.parse_san(word)]
            self.asked = ()
            if len(found) > 1:
                sans = tuple(sorted(self.board.san(move) for move in found))
                self.asked = sans
                return Ambiguous(word, sans, tuple(taken), " ".join(words[index + 1 :]))
            if not found:
                return Refused(word, self._near(word), tuple(taken), self._why_not())
            taken.append(self.board.san(found[0]))
            self.board.push(found[0])
        return Entered(tuple(taken), notice)

    def meant_by(self, word: str) -> list[chess.Move]:
        """The legal moves that a word may mean."""
        bare = _bare(word)
        if not bare:
            return []
        found = [move for move in self.board.legal_moves if bare in self._forms(move)]
        letter = word[:1]
        if letter.isupper() and letter.lower() in LETTERS[self.letters]:
            # A capital is a piece, if a piece can be meant.
            pieces = [one for one in found if self.board.piece_type_at(one.from_square) != 1]
            return pieces or found
        return found

    def _forms(self, move: chess.Move) -> set[str]:
        """Every way to write a legal move, without marks and in small letters."""
        kind = self.board.piece_type_at(move.from_square)
        start, to = chess.square_name(move.from_square), chess.square_name(move.to_square)
        forms = {start + to}
        if kind == chess.PAWN:
            forms |= {to, start[0] + to} if self.board.is_capture(move) else {to}
            if self.board.is_capture(move):
                forms.add(start[0] + to[0])
            return forms if not move.promotion else self._promoting(forms, move.promotion)
        letter = self._letter(kind)
        forms |= {letter + to, letter + start + to, letter + start[0] + to, letter + start[1] + to}
        if self.board.is_castling(move):
            forms.add("oo" if chess.square_file(move.to_square) == 6 else "ooo")
        return forms

    def _promoting(self, forms: set[str], to: int) -> set[str]:
        # Without a letter each of the four is meant, so that the sheet asks.
        return forms | {form + self._letter(to) for form in forms}

    def last_moves(self, plies: int = 6) -> str:
        """The last moves with their numbers, such as ``2. Nf3 Nc6 3. Bb5``; empty if none is."""
        shown = self.board.move_stack[-plies:]
        before = self.board.copy()
        for _ in shown:
            before.pop()
        return before.variation_san(shown) if shown else ""

    def _letter(self, kind: int | None) -> str:
        return LETTERS[self.letters][_KINDS.index(kind or KING)]

    def _near(self, word: str) -> tuple[str, ...]:
        legal = {self.board.san(move): self._forms(move) for move in self.board.legal_moves}
        bare = _bare(word)

        def unlikeness(san: str) -> float:
            alike = (difflib.SequenceMatcher(None, bare, form).ratio() for form in legal[san])
            return -max(alike)

        return tuple(sorted(legal, key=lambda san: (unlikeness(san), san))[:_NEAR])

    def _why_not(self) -> str:
        if self.board.is_checkmate():
            return "it is mate already"
        if self.board.is_stalemate():
            return "it is stalemate already"
        return "the king is in check" if self.board.is_check() else "no such move is legal"

    def _odd_result(self) -> str | None:
        """What the board says against the result, which is kept as it stands on the sheet."""
        if not self.board.is_checkmate() or self.result == "*":
            return None
        truly = "0-1" if self.board.turn else "1-0"
        return None if self.result == truly else f"there is mate on the board: {truly}"

    def back(self, count: int = 1) -> int:
        """Take back so many moves, or all there are; how many were."""
        self.asked = ()
        taken = min(count, len(self.board.move_stack))
        for _ in range(taken):
            self.board.pop()
        self.illegible = False
        return taken


def _bare(word: str) -> str:
    """A word in small letters, without marks; castling with letters however it is written."""
    bare = _MARKS.sub("", word)
    castling = bare.replace("0", "o").lower()
    return castling if castling in ("oo", "ooo") else bare.lower()

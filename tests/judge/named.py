"""What a text names, and what the claims behind it name: squares, moves and units."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass
from typing import Any

import chess

from fastness.survey.claim import Claim
from tests.judge.plain import PASS

SAN = re.compile(r"(?:O-O(?:-O)?|[KQRBN]?[a-h]?[1-8]?x?[a-h][1-8](?:=[QRBN])?)[+#]?")
MOVE = re.compile(r"[a-h][1-8][a-h][1-8][nbrq]?|0000")
SQUARE = re.compile(r"[a-h][1-8]")
UNIT = re.compile(r"\b(pawn|knight|bishop|rook|queen|king) (?:on )?([a-h][1-8])\b")


def words(text: str) -> list[str]:
    """The words of a text, move numbers and what stands about them taken off."""
    found = []
    for word in text.split():
        bare = re.sub(r"^[(\d.]*(?<=[.(])", "", word)
        found.append(bare.rstrip(".,;:)"))
    return found


def named_in(text: str) -> Iterator[str]:
    """The squares and moves in SAN that a text names."""
    return (word for word in words(text) if SAN.fullmatch(word))


def facts(told: Any) -> Iterator[str]:
    """The strings in a claim, the FEN left out."""
    if isinstance(told, str):
        yield told
    elif isinstance(told, tuple):
        for one in told:
            yield from facts(one)
    elif is_dataclass(told):
        for field in fields(told):
            if field.name != "fen":
                yield from facts(getattr(told, field.name))


class Named:
    """The squares, moves and units that claims name, their lines played out."""

    def __init__(self, fen: str, claims: Sequence[Claim]) -> None:
        self.start = chess.Board(fen)
        self.told: set[str] = set()
        self.units: set[tuple[str, str]] = set()
        self._stand(self.start)
        for claim in claims:
            for fact in facts(claim):
                if SQUARE.fullmatch(fact):
                    self.told.add(fact)
                elif MOVE.fullmatch(fact):
                    self._play([fact])
            for field in fields(claim):
                value = getattr(claim, field.name)
                if field.name in ("line", "answer", "likely") and value:
                    self._play(value)
                for line in value if field.name == "others" else ():
                    self._play(line)

    def _play(self, line: Sequence[str]) -> None:
        """Every move of a line, as far as it is legal; a move out of its line is no line."""
        board = self.start.copy(stack=False)
        for uci in line:
            move = chess.Move.from_uci(uci)
            if uci != PASS:
                if not board.is_legal(move):
                    return
                self.told |= {board.san(move), board.san(move).rstrip("+#")}
                self.told |= {uci[:2], uci[2:4]}
            board.push(move)
            self._stand(board)

    def _stand(self, board: chess.Board) -> None:
        self.units |= {
            (chess.piece_name(piece.piece_type), chess.square_name(at))
            for at, piece in board.piece_map().items()
        }

    def faults(self, text: str) -> list[str]:
        """What a text names that no claim does."""
        strange = [word for word in named_in(text) if word not in self.told]
        units = [unit for unit in UNIT.findall(text) if unit not in self.units]
        return [f"no claim names {one}" for one in (*strange, *units)]

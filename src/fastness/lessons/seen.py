"""A position of a lesson as the survey sees it to one reach."""

from __future__ import annotations

from functools import cached_property

import chess

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey, Unit
from fastness.exercises.difficulty import is_unsafe
from fastness.language import Language
from fastness.lessons.lesson import Place
from fastness.survey.claims import claims
from fastness.survey.findings import Findings
from fastness.survey.words import CENTIPAWNS


class Seen:
    """A position looked at to `reach`; moves that hold are ranked by `rank_nodes`, if not 0."""

    def __init__(self, place: Place, reach: int, rank_nodes: int) -> None:
        self.place = place
        self.reach = reach
        self.rank_nodes = rank_nodes
        self._findings: dict[str, Findings] = {}

    @cached_property
    def board(self) -> chess.Board:
        """The position."""
        return chess.Board(self.place.fen)

    @cached_property
    def survey(self) -> Survey:
        """The survey; a trade in progress is judged from its start."""
        return core.survey(
            self.place.start, moves=self.place.moves, reach=self.reach, rank_nodes=self.rank_nodes
        )

    def findings(self, language: Language) -> Findings:
        """What the survey found, as its sentences are made from it."""
        if language.code not in self._findings:
            self._findings[language.code] = Findings(
                claims(self.survey, moves_given=bool(self.place.moves)), language
            )
        return self._findings[language.code]

    def bare(self, fen: str, reach: int | None = None) -> Survey:
        """The survey of another position by itself, without ranks."""
        return core.survey(fen, reach=self.reach if reach is None else reach)

    def elsewhere(self, fen: str) -> Seen:
        """Another position, seen as far."""
        return Seen(Place(self.place.line, fen, (), fen), self.reach, self.rank_nodes)

    def verdict(self, uci: str) -> MoveVerdict:
        """What the survey says of a legal move."""
        return next(move for move in self.survey["moves"] if move["uci"] == uci)

    def holding(self) -> tuple[str, ...]:
        """All moves (UCI) that hold."""
        return tuple(move["uci"] for move in self.survey["moves"] if move["holds"])

    def unit(self, square: str) -> Unit | None:
        """A unit of the side to move, or one of the opponent's that could be won; else None."""
        units = [*self.survey["units"], *self.survey["takings"]]
        return next((unit for unit in units if unit["square"] == square), None)

    def is_own(self, square: str) -> bool:
        """Whether what stands on a square belongs to the side to move."""
        return self.board.color_at(chess.parse_square(square)) == self.board.turn

    def threat(self) -> list[str]:
        """The line that shows what is in danger; empty where nothing is."""
        for unit in self.survey["units"]:
            if is_unsafe(unit) and unit["line"]:
                return unit["line"]
        return next(iter(self.survey["promotion_lines"]), [])

    def base(self) -> int:
        """The balance, for the side to move, from which a trade in progress is counted."""
        board, side = chess.Board(self.place.start), self.board.turn
        base = balance(board, side)
        for uci in self.place.moves:
            move = chess.Move.from_uci(uci)
            takes = board.is_capture(move)
            board.push(move)
            base = base if takes else balance(board, side)
        return base


def balance(board: chess.Board, side: chess.Color) -> int:
    """What a side is ahead by in material, in centipawns."""
    return sum(
        worth * (len(board.pieces(kind, side)) - len(board.pieces(kind, not side)))
        for kind, worth in CENTIPAWNS.items()
    )

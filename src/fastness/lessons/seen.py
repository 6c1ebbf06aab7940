"""A position of a lesson as the survey sees it to one reach."""

from __future__ import annotations

from functools import cached_property

import chess

from fastness import core
from fastness.core.shapes import MoveVerdict, Net, Survey, Unit
from fastness.exercises.difficulty import is_unsafe
from fastness.language import Language
from fastness.lessons.lesson import Place
from fastness.survey.claims import claims
from fastness.survey.findings import Findings
from fastness.survey.tries import loss
from fastness.survey.words import CENTIPAWNS

MATE = 100_000
"""A mate as centipawns, beyond any material."""
SAME = 50
"""Of the moves of the best net those within so many centipawns of the best are the better ways."""
BEHIND = 100
"""A move so many centipawns behind the best at the first look is not thought about again."""


class Seen:
    """A position looked at to `reach`; moves that hold are ranked by `rank_nodes`, if not 0.

    `first` is the look one move less deep, by which this one is spared what does not change: which
    moves hold is asked of the search alone, and only the moves that may be among the better ways
    are thought about for longer.
    """

    def __init__(
        self, place: Place, reach: int, rank_nodes: int, first: Seen | None = None
    ) -> None:
        self.place = place
        self.reach = reach
        self.rank_nodes = rank_nodes
        self.first = first
        self._findings: dict[str, Findings] = {}
        self._elsewhere: dict[str, Seen] = {}
        self._squares: dict[tuple[str, int, int], Survey] = {}

    @cached_property
    def board(self) -> chess.Board:
        """The position."""
        return chess.Board(self.place.fen)

    @cached_property
    def survey(self) -> Survey:
        """The survey; a trade in progress is judged from its start."""
        return core.survey(
            self.place.start,
            moves=self.place.moves,
            reach=self.reach,
            rank_nodes=0 if self.first else self.rank_nodes,
        )

    @cached_property
    def _deeper(self) -> dict[str, bool | None]:
        """Whether each move (UCI) has its verdict one move deeper too; None: not judged there."""
        survey = core.survey(self.place.start, moves=self.place.moves, reach=self.reach, firm=True)
        return {move["uci"]: move["firm"] for move in survey["moves"]}

    def holds(self, uci: str) -> bool:
        """Whether a legal move holds."""
        if self.first is None:
            return self.verdict(uci)["holds"]
        firm = self.first._deeper[uci]
        if firm is None:
            return self.verdict(uci)["holds"]
        return self.first.verdict(uci)["holds"] == firm

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
        if fen not in self._elsewhere:
            first = self.first.elsewhere(fen) if self.first else None
            place = Place(self.place.line, fen, (), fen)
            self._elsewhere[fen] = Seen(place, self.reach, self.rank_nodes, first)
        return self._elsewhere[fen]

    def verdict(self, uci: str) -> MoveVerdict:
        """What the survey says of a legal move."""
        return next(move for move in self.survey["moves"] if move["uci"] == uci)

    def holding(self) -> tuple[str, ...]:
        """All moves (UCI) that hold."""
        moves = (self.first or self).survey["moves"]
        return tuple(move["uci"] for move in moves if self.holds(move["uci"]))

    @property
    def ranked(self) -> bool:
        """Whether the moves that hold were ranked."""
        return (self.first or self).survey["ranked"]

    @cached_property
    def advised(self) -> tuple[str, ...]:
        """The better ways (UCI), the first in rank first."""
        if self.first is None:
            moves = [move for move in self.survey["moves"] if move["advised"]]
            moves.sort(key=lambda move: (move["rank"] or 0, move["san"]))
            return tuple(move["uci"] for move in moves)
        rivals = self._rivals(self.first)
        if len(rivals) < 2:
            return tuple(rivals)
        worth = {uci: self._thought(uci) for uci in rivals}
        best = max(worth.values())
        better = [uci for uci in rivals if worth[uci] >= best - SAME]
        return tuple(sorted(better, key=lambda uci: (-worth[uci], uci)))

    def _rivals(self, first: Seen) -> list[str]:
        """The moves of the best net that were not far behind the best of them at the first look."""
        losses = {uci: loss(self._landed(uci, self.reach, 0)) for uci in self.holding()}
        least = min(losses.values(), default=0)
        rivals = [uci for uci in losses if losses[uci] == least]
        looked = {uci: first.verdict(uci)["evaluation"] for uci in rivals}
        worth = {uci: in_centipawns(one) for uci, one in looked.items() if one is not None}
        best = max(worth.values(), default=0)
        return [uci for uci in rivals if uci not in worth or worth[uci] >= best - BEHIND]

    def _thought(self, uci: str) -> int:
        """What the mover has after a move by the evaluation, thought about by `rank_nodes`."""
        # Only what holds is thought about, which is found faster where the reach is shorter.
        quicker = self.first is not None and self.first.holds(uci)
        reach = self.first.reach if self.first is not None and quicker else self.reach
        evaluation = self._landed(uci, reach, self.rank_nodes)["evaluation"]
        return 0 if evaluation is None else in_centipawns(evaluation)

    def _landed(self, uci: str, reach: int, rank_nodes: int) -> MoveVerdict:
        """What is found of a move where only those to its square are looked at."""
        square = uci[2:4]
        if (square, reach, rank_nodes) not in self._squares:
            self._squares[square, reach, rank_nodes] = core.survey(
                self.place.start,
                moves=self.place.moves,
                reach=reach,
                rank_nodes=rank_nodes,
                landing=square,
            )
        moves = self._squares[square, reach, rank_nodes]["moves"]
        return next(move for move in moves if move["uci"] == uci)

    def is_surely_unsafe(self, square: str) -> bool:
        """Whether a quick look finds a unit of the side to move unsafe; False says nothing."""
        return self.first is not None and square in self._unsafe

    @cached_property
    def _unsafe(self) -> tuple[str, ...]:
        return core.unsafe_units(self.place.fen, reach=self.reach)

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


def in_centipawns(evaluation: Net) -> int:
    """An evaluation as a number; a mate is beyond any material."""
    if isinstance(evaluation, int):
        return evaluation
    return MATE if evaluation == "mates" else -MATE


def balance(board: chess.Board, side: chess.Color) -> int:
    """What a side is ahead by in material, in centipawns."""
    return sum(
        worth * (len(board.pieces(kind, side)) - len(board.pieces(kind, not side)))
        for kind, worth in CENTIPAWNS.items()
    )

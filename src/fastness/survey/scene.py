"""A proof line played out, and the units that take part in what happens in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations

import chess

from fastness.survey.lines import taken_at
from fastness.survey.words import CENTIPAWNS


@dataclass(frozen=True, slots=True)
class Step:
    """One move of a line, with the boards before and after it; a pass is the null move."""

    move: chess.Move
    before: chess.Board
    after: chess.Board

    @property
    def takes(self) -> bool:
        """Whether the move captures."""
        return bool(self.move) and self.before.is_capture(self.move)


@dataclass(frozen=True, slots=True)
class Scene:
    """The line by which the unit on `unit` falls, told from the survey's position.

    `capture` is the place of the move that takes it, None if it is not taken in the line.
    """

    board: chess.Board
    unit: int
    steps: tuple[Step, ...]
    capture: int | None

    @property
    def owner(self) -> chess.Color:
        """The side that loses the unit."""
        return bool(self.board.color_at(self.unit))

    def boards(self) -> Iterator[chess.Board]:
        """The board at the start and after each move."""
        yield self.board
        for step in self.steps:
            yield step.after

    def stands(self) -> Iterator[tuple[chess.Board, int | None]]:
        """Each board with where the unit stands on it; None once it is taken."""
        at: int | None = self.unit
        yield self.board, at
        for index, step in enumerate(self.steps):
            if at is not None and step.move:
                at = _moved(step, at)
            if self.capture is not None and index >= self.capture:
                at = None
            yield step.after, at

    def attacks(self) -> Iterator[Step]:
        """The moves of the other side up to the one that takes the unit."""
        last = len(self.steps) if self.capture is None else self.capture + 1
        for step in self.steps[:last]:
            if step.before.turn != self.owner and step.move:
                yield step

    def taking(self) -> Step | None:
        """The move that takes the unit."""
        return None if self.capture is None else self.steps[self.capture]


def _moved(step: Step, at: int) -> int:
    """Where a unit on `at` stands after a move, castling included."""
    if step.move.from_square == at:
        return step.move.to_square
    if step.before.is_castling(step.move):
        rook = chess.H1 if step.move.to_square > step.move.from_square else chess.A1
        if at == chess.square(chess.square_file(rook), chess.square_rank(step.move.to_square)):
            return (step.move.from_square + step.move.to_square) // 2
    return at


def play(fen: str, line: Sequence[str]) -> tuple[Step, ...]:
    """The moves of a line played out from `fen`."""
    board = chess.Board(fen)
    steps = []
    for uci in line:
        before = board.copy(stack=False)
        move = chess.Move.from_uci(uci)
        board.push(move)
        steps.append(Step(move, before, board.copy(stack=False)))
    return tuple(steps)


def material_won(steps: Sequence[Step], side: chess.Color) -> int:
    """Centipawns that a side wins in a line by the classical table; below 0 what it loses."""
    total = 0
    for step in steps:
        won = CENTIPAWNS[step.move.promotion] - CENTIPAWNS[chess.PAWN] if step.move.promotion else 0
        if step.takes:
            # En passant takes a pawn that stands beside.
            taken = step.before.piece_type_at(step.move.to_square) or chess.PAWN
            won += CENTIPAWNS[taken]
        total += won if step.before.turn is side else -won
    return total


def scene(fen: str, line: Sequence[str], square: str) -> Scene:
    """The scene of the fall of the unit on `square` by `line`."""
    taken = taken_at(fen, line, square)
    return Scene(chess.Board(fen), chess.parse_square(square), play(fen, line), taken)


def pinned_among(
    board: chess.Board, squares: Sequence[int], owner: chess.Color
) -> tuple[int, int, int] | None:
    """Of `squares`: a slider, a unit of `owner` on its line, and one of `owner` right behind."""
    for slider, front, back in permutations(squares, 3):
        if board.color_at(slider) == owner or board.color_at(slider) is None:
            continue
        if not board.color_at(front) == board.color_at(back) == owner:
            continue
        between = chess.SquareSet.between(slider, back) & board.occupied
        if set(between) == {front} and front in board.attacks(slider):
            return slider, front, back
    return None

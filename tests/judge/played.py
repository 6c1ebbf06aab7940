"""A line played out by the rules, with every unit followed from where it first stood."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import chess

from tests.judge.board import balance, taken_on


@dataclass(frozen=True, slots=True)
class Step:
    """One move of a line. Squares are where it happens; `taken` is where what it takes stood."""

    before: chess.Board
    move: chess.Move
    after: chess.Board
    taken: int | None
    homes: dict[int, int]
    """Where the unit on each square before the move stood when the line began."""

    @property
    def side(self) -> chess.Color:
        return self.before.turn

    @property
    def victim(self) -> int | None:
        """Where what the move takes stood when the line began."""
        return None if self.taken is None else self.homes.get(self.taken)

    def later(self) -> dict[int, int]:
        """Where the unit on each square after the move stood when the line began."""
        homes = dict(self.homes)
        _follow(homes, self.before, self.move, self.taken)
        return homes


@dataclass(frozen=True, slots=True)
class Played:
    """A line: its moves without the passes, and the boards at its ends."""

    start: chess.Board
    steps: tuple[Step, ...]
    end: chess.Board

    def gain(self, side: chess.Color) -> int:
        """What `side` gains in centipawns from the start of the line to its end."""
        return balance(self.end, side) - balance(self.start, side)

    def mates(self, side: chess.Color) -> bool:
        """Whether the line ends with the other side mated."""
        return self.end.turn != side and self.end.is_checkmate()

    def taking(self, unit: int) -> Step | None:
        """The step that takes the unit which stood on `unit` at the start."""
        return next((step for step in self.steps if step.victim == unit), None)

    def homes(self) -> dict[int, int]:
        """Where the unit on each square at the end stood when the line began."""
        if not self.steps:
            return {square: square for square in self.start.piece_map()}
        return self.steps[-1].later()

    def until(self, last: Step | None) -> Iterator[Step]:
        """The steps up to `last` and with it; all of them for None."""
        for step in self.steps:
            yield step
            if step is last:
                return

    def where(self, unit: int, step: Step) -> int | None:
        """Where the unit that began on `unit` stands before a step."""
        return next((at for at, home in step.homes.items() if home == unit), None)


def played(fen: str, line: Sequence[str]) -> Played:
    """Plays UCI moves, a pass being ``0000``; AssertionError for what the rules do not allow."""
    start = chess.Board(fen)
    board, steps = start.copy(stack=False), []
    homes = {square: square for square in start.piece_map()}
    for uci in line:
        move = chess.Move.from_uci(uci)
        before = board.copy(stack=False)
        if not move:
            assert not board.is_check(), f"a pass in check: {line} from {fen}"
            board.push(move)
            continue
        assert board.is_legal(move), f"{uci} is not legal in {line} from {fen}"
        taken = taken_on(board, move)
        board.push(move)
        steps.append(Step(before, move, board.copy(stack=False), taken, dict(homes)))
        _follow(homes, before, move, taken)
    return Played(start, tuple(steps), board)


def _follow(
    homes: dict[int, int], before: chess.Board, move: chess.Move, taken: int | None
) -> None:
    if taken is not None:
        homes.pop(taken, None)
    homes[move.to_square] = homes.pop(move.from_square)
    if before.is_castling(move):
        rank = chess.square_rank(move.from_square)
        short = move.to_square > move.from_square
        home, to = chess.square(7 if short else 0, rank), chess.square(5 if short else 3, rank)
        homes[to] = homes.pop(home)

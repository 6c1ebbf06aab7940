"""What a mechanism is judged on: a unit, the line in which it falls, and who stood where."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import chess

from tests.judge.board import worth_on
from tests.judge.played import Played, Step, played


@dataclass(frozen=True, slots=True)
class Case:
    """A unit that falls. `unit` is where it stands; `capture` takes it, None for a king."""

    line: Played
    unit: int
    owner: chess.Color
    capture: Step | None

    @property
    def attacker(self) -> chess.Color:
        return not self.owner

    @property
    def start(self) -> chess.Board:
        return self.line.start

    @property
    def stays(self) -> bool:
        """Whether the unit is taken where it stands."""
        return self.capture is not None and self.capture.taken == self.unit

    def worth(self) -> int:
        return worth_on(self.start, self.unit)

    def attacks(self) -> Iterator[Step]:
        """The attacker's steps up to the capture and with it."""
        return (step for step in self.line.until(self.capture) if step.side == self.attacker)

    def earlier(self) -> Iterator[Step]:
        """The attacker's steps before the capture."""
        return (step for step in self.attacks() if step is not self.capture)

    def boards(self) -> Iterator[tuple[chess.Board, dict[int, int]]]:
        """The boards from the start to the capture, each with where its units began."""
        yield self.start, {square: square for square in self.start.piece_map()}
        for step in self.line.until(self.capture):
            yield step.before, step.homes

    def early(self) -> Iterator[tuple[chess.Board, dict[int, int]]]:
        """The board at the start, and after the attacker's first move if that does not take the
        unit, each with where its units began."""
        yield self.start, {square: square for square in self.start.piece_map()}
        first = next(self.earlier(), None)
        if first is not None:
            yield first.after, first.later()

    def last_board(self) -> chess.Board:
        """The board before the capture, or at the end of a line without one."""
        return self.capture.before if self.capture else self.line.end


def case(fen: str, line: Sequence[str], unit: int) -> Case:
    """The case of the unit on a square that falls in `line` from `fen`."""
    run = played(fen, line)
    owner = run.start.color_at(unit)
    if owner is None:  # a promotion square: its attacker is the one who promotes there
        owner = chess.square_rank(unit) == 0
    return Case(run, unit, owner, run.taking(unit))


def known_as(squares: set[int], homes: dict[int, int]) -> set[int]:
    """Squares, with those where the units on them stood when the line began."""
    return squares | {homes[square] for square in squares if square in homes}

"""What a position is worth, by the plain reference: dangers, nets, threats, what is won."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import chess

from fastness.core.shapes import Survey
from tests.judge.board import THRESHOLD, balance
from tests.judge.plain import PASS, Plain, mating

PAWN = 100


def in_words(value: int, mates: str, mated: str) -> int | str:
    """A value as the survey tells it: centipawns, or a word for a mate."""
    if mating(value):
        return mates
    return mated if mating(-value) else value


@dataclass(slots=True)
class Position:
    """A surveyed position under judgement. `base` is the opponent's, in centipawns.

    Every answer is kept, since several claims ask the same.
    """

    survey: Survey
    plain: Plain
    base: int
    board: chess.Board = field(init=False)
    kept: dict[tuple[object, ...], int] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.board = chess.Board(self.survey["fen"])

    @property
    def own(self) -> chess.Color:
        return self.board.turn

    @property
    def reach(self) -> int:
        return self.survey["reach"]

    def bare(self, side: chess.Color) -> int:
        """The balance of `side` on the board as it stands."""
        return balance(self.board, side)

    def value(self, moves: Sequence[str], plies: int, attacker: chess.Color, base: int) -> int:
        """What the attacker wins beyond `base` after `moves`, in so many plies."""
        asked = (*moves, plies, attacker, base)
        if asked not in self.kept:
            fen = self.survey["fen"]
            self.kept[asked] = self.plain.value(fen, moves, plies, attacker, base)
        return self.kept[asked]

    def danger(self, reach: int) -> int:
        """What the opponent wins if the side to move passes."""
        return self.value([PASS], 2 * reach - 1, not self.own, self.base)

    def net(self, uci: str, reach: int) -> int:
        """The mover's balance change by a move, with everything counted."""
        return -self.value([uci], 2 * reach - 1, not self.own, self.base)

    def holds(self, uci: str, reach: int) -> bool:
        """Whether the opponent wins less than half a pawn after a move."""
        asked = (uci, 2 * reach - 1, not self.own, self.base)
        if asked in self.kept:
            return self.kept[asked] < THRESHOLD
        fen, plies = self.survey["fen"], 2 * reach - 1
        return not self.plain.attains(fen, [uci], plies, not self.own, self.base, THRESHOLD)

    def wins(self, line: Sequence[str], reach: int) -> int:
        """What the side that moves first in `line` wins by that move, from the bare balance."""
        attacker = not self.own if line[0] == PASS else self.own
        first = [PASS, line[1]] if line[0] == PASS else [line[0]]
        return self.value(first, 2 * reach - 2, attacker, self.bare(attacker))

    def threats(self, reach: int, *, takings: bool = False) -> dict[str, int]:
        """First moves that win something, of the opponent or for `takings` of the side to move.

        Each with what it wins at the smallest reach from 1 to `reach` at which it is a threat.
        """
        board, opening = self.board.copy(stack=False), [] if takings else [PASS]
        if not takings:
            board.push(chess.Move.null())
        found: dict[str, int] = {}
        most = 0
        for near in range(1, reach + 1):
            needed = THRESHOLD if most < THRESHOLD else most + PAWN
            wins = {
                move.uci(): self.wins([*opening, move.uci()], near) for move in board.legal_moves
            }
            best = max(wins.values(), default=0)
            least = max(needed, best - PAWN + 1) if near > 1 else needed
            found |= {uci: won for uci, won in wins.items() if won >= least and uci not in found}
            most = max(most, best)
        return found


def at_least(value: int, told: int | str | None) -> bool:
    """Whether a value bears out a loss as told: centipawns, or ``mate``."""
    if told == "mate":
        return mating(value)
    return isinstance(told, int) and value >= told


def best_lines(position: Position, line: list[str], reach: int) -> Iterator[list[str]]:
    """Every line of best play after a pass and a threat, eight plies at most beyond the threat."""
    attacker = not position.own if line[0] == PASS else position.own
    board = chess.Board(position.survey["fen"])
    for uci in line:
        board.push(chess.Move.from_uci(uci))
    began = 2 if line[0] == PASS else 1
    base = position.bare(attacker)

    def value(moves: list[str]) -> int:
        return position.value(moves, max(2 * reach - 1 - len(moves) + began - 1, 0), attacker, base)

    def walk(moves: list[str], worth: int) -> Iterator[list[str]]:
        quiet = len(moves) - began + 1 >= 2 * reach - 1 and not board.is_check()
        legal = list(board.generate_legal_captures() if quiet else board.legal_moves)
        found = False
        for move in legal if len(moves) - began < 8 else []:
            longer = [*moves, move.uci()]
            board.push(move)
            if nearly(value(longer), worth):
                found = True
                yield from walk(longer, value(longer))
            board.pop()
        if not found:
            yield moves

    yield from walk(line, value(line))


def nearly(value: int, other: int) -> bool:
    """Whether two values are the same, a mate one ply nearer or farther included."""
    return value == other or (abs(value - other) == 1 and (mating(value) or mating(-value)))

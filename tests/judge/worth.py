"""What a position is worth, by the plain reference: dangers, nets, threats, what is won."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

import chess

from fastness.core.shapes import Survey
from fastness.survey.claim import Loss
from tests.judge.board import THRESHOLD, balance, exchange
from tests.judge.plain import PASS, Plain, mating
from tests.judge.played import played

PAWN = 100
EVASION_PLIES = 6
"""After so many plies of quiescence a check is no longer answered by every move."""


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

    def balance_by(self, worth: Sequence[int], side: chess.Color) -> int:
        """The balance of `side` by another table, from the pawn to the queen."""
        return sum(
            value * (len(self.board.pieces(kind, side)) - len(self.board.pieces(kind, not side)))
            for kind, value in zip(chess.PIECE_TYPES, worth, strict=False)
        )

    def legal(self) -> list[str]:
        """The legal moves in UCI notation."""
        return [move.uci() for move in self.board.legal_moves]

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


def shows(position: Position, line: Sequence[str], net: int) -> list[str]:
    """What is false in a line that is to end where a move's net stands; empty if nothing is."""
    run = played(position.survey["fen"], line)
    other = not position.own
    if mating(-net) or mating(net):
        shown = run.mates(other if mating(-net) else position.own)
    else:
        stale = net == 0 and run.end.is_stalemate()
        shown = stale or position.base - position.bare(other) - run.gain(other) == net
    told = in_words(net, "mates", "mated")
    return [] if shown else [f"the line of {line[0]} does not end at {told}"]


def at_least(value: int, told: int | str | None) -> bool:
    """Whether a value bears out a loss as told: centipawns, or ``mate``."""
    if told == "mate":
        return mating(value)
    return isinstance(told, int) and value >= told


def best_lines(position: Position, line: list[str], reach: int) -> Iterator[list[str]]:
    """Every line of best play after a threat, eight plies at most beyond it.

    `line` is the threat, after a pass where there is one. After a quiet threat at reach 2 the
    defender may pass as well; then only what is taken next counts.
    """
    attacker = not position.own if line[0] == PASS else position.own
    board = chess.Board(position.survey["fen"])
    for uci in line:
        board.push(chess.Move.from_uci(uci))
    base, last = position.bare(attacker), len(line) + 2 * reach - 2

    def value(moves: list[str]) -> int:
        return position.value(moves, last - len(moves), attacker, base)

    def walk(moves: list[str], worth: int) -> Iterator[list[str]]:
        found = False
        for move in searched(board, last - len(moves)) if len(moves) < len(line) + 8 else []:
            longer = [*moves, move.uci()]
            board.push(move)
            if nearly(value(longer), worth):
                found = True
                yield from walk(longer, value(longer))
            board.pop()
        if not found:
            yield moves

    yield from walk(line, value(line))
    threat = chess.Move.from_uci(line[-1])
    before = chess.Board(position.survey["fen"])
    before.turn = attacker
    quiet = not before.is_capture(threat) and not threat.promotion and not board.is_check()
    if reach == 2 and quiet:
        yield from _taken_next(board, [*line, PASS], value)


def _taken_next(
    board: chess.Board, moves: list[str], value: Callable[[list[str]], int]
) -> Iterator[list[str]]:
    """The captures that win the most after a pass, if they win something where they take."""
    board.push(chess.Move.null())
    wins = {move: value([*moves, move.uci()]) for move in board.legal_moves}
    best = [move for move, won in wins.items() if won == max(wins.values()) and not mating(won)]
    taking = [move for move in best if board.is_capture(move)]
    if all(exchange(board, move.to_square, move) >= THRESHOLD for move in taking):
        yield from ([*moves, move.uci()] for move in taking)
    board.pop()


def searched(board: chess.Board, plies: int) -> list[chess.Move]:
    """The moves tried with so many plies left; with 0 or fewer, those of the quiescence."""
    legal = list(board.legal_moves)
    if plies > 0:
        return legal
    if board.is_check() and plies > -EVASION_PLIES:
        return [move for move in legal if not (board.is_capture(move) and _lesser(move))]
    return [
        move for move in legal if (board.is_capture(move) or move.promotion) and not _lesser(move)
    ]


def _lesser(move: chess.Move) -> bool:
    return move.promotion not in (None, chess.QUEEN)


def nearly(value: int, other: int) -> bool:
    """Whether two values are the same, a mate one ply nearer or farther included."""
    return value == other or (abs(value - other) == 1 and (mating(value) or mating(-value)))


def lost(net: int) -> Loss:
    """What a move that falls loses, as it is told."""
    return "mate" if mating(-net) else -net


def begins(move: str, line: tuple[str, ...]) -> list[str]:
    return [] if line[:1] == (move,) else [f"the line does not begin with {move}"]

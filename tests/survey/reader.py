"""Holds what the sentences of a page claim against the board."""

import re
from collections.abc import Callable

import chess
from chess import KING

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey
from tests.survey.claims import (
    RANK,
    TIMES,
    UNIT,
    Line,
    amount,
    behind,
    change,
    falls_in,
    passed,
    read_line,
    taken_on,
    units_named,
)

KEPT = 49
"""Centipawns up to which nothing counts as won: less than half a pawn."""


class Reader:
    """Reads a page in order; what a sentence claims of a line waits until the line is told."""

    def __init__(self, survey: Survey) -> None:
        self.survey = survey
        self.board = chess.Board(survey["fen"])
        self.own = self.board.turn
        self.verdicts: dict[str, MoveVerdict] = {move["san"]: move for move in survey["moves"]}
        self.unit: int | None = None
        self.together_squares: list[int] = []
        self.gains: list[tuple[int, int]] = []
        self.waiting: list[Callable[[Line], None]] = []
        self.last: list[Callable[[Line], None]] = []
        self.back: tuple[Line, chess.Color]
        self.shown: Line

    def named(self, told: str) -> list[int]:
        return units_named(self.board, told)

    def proof(self, told: str) -> None:
        start = self.board
        if told.startswith("If "):
            side, told = re.fullmatch(r"If (White|Black) passes: (.*)", told).groups()  # type: ignore[union-attr]
            assert (side == "White") == self.own
            start = passed(self.board)
        words = told.split()
        line = read_line(start, words)
        assert not words
        assert self.waiting, f"a line that proves nothing: {told}"
        self.shown = line
        for claim in self.waiting:
            claim(line)
        if len(self.gains) == 1 and len(takers(line)) == 1 and "(passes)" not in line.sans:
            assert self.gains[0][0] == self.gains[0][1], told
        self.last, self.waiting, self.gains = self.waiting, [], []

    def proof_of(self, told: str, name: str) -> None:
        """One of several lines for units that are unsafe together, and who falls in it."""
        at = self.named(name)[0]
        assert at in self.together_squares

        def claim(line: Line) -> None:
            assert falls_in(line, at), told

        # The first line shows the causes told as well, the others only the cost.
        self.waiting = [*(self.waiting or self.last[:1]), claim]
        self.proof(told)

    def falls(self, name: str, *costs: str | None) -> None:
        """A unit is lost, at this cost to its side; the line must show it."""
        squares = self.named(name)
        self.unit = squares[0]
        loser = self.board.color_at(squares[0])
        assert loser is not None
        cost = amount(costs[0]) if costs and costs[0] else None

        def claim(line: Line) -> None:
            if cost is None:
                assert line.end.is_checkmate()
                assert line.end.turn == loser
            else:
                assert -change(line, loser) >= cost
                self.gains.append((-change(line, loser), cost))
                assert any(falls_in(line, square) for square in squares)

        self.waiting.append(claim)

    def kept(self, name: str) -> None:
        """A unit that is won back or safe by tactics: its taker gains nothing by the line."""
        self.unit = self.named(name)[0]
        loser = self.board.color_at(self.unit)
        assert loser is not None

        def claim(line: Line) -> None:
            mated = line.end.is_checkmate() and line.end.turn != loser
            assert mated or -change(line, loser) <= KEPT

        self.waiting.append(claim)

    def together(self, names: str) -> None:
        self.together_squares = self.named(names)
        assert len(self.together_squares) > 1

    def in_turn(self, names: str, first: str, back: str, last: str) -> None:
        """The threat takes `first`, and once `back` has taken back, `last` is taken."""
        self.together(names)
        one, other = self.named(first)[0], self.named(last)[0]
        assert {one, other} == set(self.together_squares)
        name = chess.square_name(other)
        line = next(unit["line"] for unit in self.survey["units"] if unit["square"] == name) or []
        threat, reply, *rest = [chess.Move.from_uci(uci) for uci in line[1:]]
        board = passed(self.board)
        assert taken_on(board, threat) == one
        board.push(threat)
        assert board.san(reply) == back
        assert reply.to_square == threat.to_square
        assert any(move.to_square == other for move in rest)

    def cost(self, told: str | None = None) -> None:
        names = " and ".join(
            f"the {chess.piece_name(self.board.piece_type_at(at) or 0)} on {chess.square_name(at)}"
            for at in self.together_squares
        )
        self.falls(names, told)

    def mates(self) -> None:
        king = self.board.king(not self.own)
        assert king is not None
        self.falls(f"the king on {chess.square_name(king)}")

    def owed(self, told: str) -> None:
        assert self.survey["owed"] == amount(told)

    def bear_unguarded(self, attackers: str) -> None:
        self.bear(attackers, "")

    def unattacked(self) -> None:
        self.bear("", None)

    def alone(self) -> None:
        self.bear("", "")

    def bear(self, attackers: str | None, guards: str | None, whole: bool = True) -> None:
        assert self.unit is not None
        side = self.board.color_at(self.unit)
        assert side is not None
        for told, colour in ((attackers, not side), (guards, side)):
            if told is None:
                continue
            named, really = set(self.named(told)), set(self.board.attackers(colour, self.unit))
            assert named == really if whole else named and named <= really

    def lesser(self, attackers: str, guards: str | None = None) -> None:
        self.bear(attackers, None, whole=False)
        self.bear(None, guards or "")
        assert self.unit is not None
        worth = RANK[chess.piece_name(self.board.piece_type_at(self.unit) or 6)]
        names = re.findall(r"the (\w+) on", attackers.lower())
        assert names
        assert all(RANK[name] < worth for name in names)

    def outnumbered(self, often: str, attackers: str, guarded: str, rest: str) -> None:
        self.bear(attackers, rest.split(";")[0])
        assert TIMES[often] == len(self.named(attackers))
        assert TIMES[guarded] == len(self.named(rest.split(";")[0]))
        if "behind" in rest:
            assert self.unit is not None
            attacker = not self.board.color_at(self.unit)
            front, back = rest.split(";")[1].split(" stand")
            found = behind(self.board, attacker, self.unit)
            assert set(self.named(back)) == found
            fronts = set(self.named(front))
            assert fronts <= set(self.board.attackers(attacker, self.unit))
            for at in fronts:
                assert any(at in chess.SquareSet.between(one, self.unit) for one in found)

    def taken_in_line(self, name: str, square: str) -> None:
        at, unit = chess.parse_square(square), self.unit
        assert unit is not None
        kind = chess.piece_name(self.board.piece_type_at(unit) or KING)
        assert RANK[name] < RANK[kind]

        def claim(line: Line) -> None:
            takers = [
                board.piece_type_at(at)
                for board, move in zip(line.boards, line.moves, strict=False)
                if move.from_square == at and board.is_capture(move)
            ]
            assert chess.PIECE_NAMES.index(name) in takers

        self.waiting.append(claim)

    def given_up(self, name: str) -> None:
        """The unit takes what is named, which is worth less, and is taken there at once."""
        self.unattacked()
        unit = self.unit
        assert unit is not None
        kind = chess.piece_name(self.board.piece_type_at(unit) or KING)
        [(taken, square)] = UNIT.findall(name)
        at = chess.parse_square(square)
        assert RANK[taken] < RANK[kind]

        def claim(line: Line) -> None:
            for before, given, back in zip(line.boards, line.moves, line.moves[1:], strict=False):
                if given.to_square == back.to_square == at:
                    assert before.piece_type_at(at) == chess.PIECE_NAMES.index(taken)
                    assert before.piece_type_at(given.from_square) == self.board.piece_type_at(unit)
                    return
            raise AssertionError(name)

        self.waiting.append(claim)

    def promoted(self, square: str) -> None:
        def claim(line: Line) -> None:
            assert any(m.promotion and chess.square_name(m.to_square) == square for m in line.moves)

        self.waiting.append(claim)

    def takes_back(self, side: str, told: str) -> None:
        """A unit is taken and what took it is taken back, which the answer shows to be no help."""
        loser = side == "White"
        start = passed(self.board) if loser == self.own else self.board
        words = told.split()
        line = read_line(start, words)
        assert not words
        assert len(line.moves) > 2
        taken, back = line.moves[:2]
        assert self.board.color_at(taken.to_square) == loser
        assert taken.to_square == back.to_square
        self.back = (line, loser)

    def back_costs(self, told: str) -> None:
        line, loser = self.back
        assert -change(line, loser) == amount(told)

    def back_mates(self) -> None:
        line, loser = self.back
        assert line.end.is_checkmate()
        assert line.end.turn == loser

    def at_stake(self, move: str, names: str) -> None:
        """After a pass and the opponent's quiet move these can be won."""
        board = passed(self.board)
        board.push_san(re.sub(r"^\d+\.+", "", move))
        there = {chess.square_name(at) for at in units_named(board, names)}
        reach = self.survey["reach"] - 1
        assert there <= set(core.unsafe_units(board.fen(), reach=reach))

    def example(self, told: str) -> None:
        self.waiting.append(lambda _: None)
        self.proof(told)

    def won_in_the_end(self, told: str) -> None:
        words = told.split()
        line = read_line(self.board, words)
        assert not words
        assert not self.verdicts[line.sans[0]]["holds"]
        assert self.survey["owed"] - change(line, self.own) == (self.survey["danger"] or [0])[-1]

    def loose(self, told: str) -> None:
        named = self.named(re.sub(r"(\w+) ([a-h][1-8])", r"\1 on \2", told))
        unsafe = {u["square"] for u in self.survey["units"] if u["status"].startswith("unsafe")}
        really = [
            square
            for square in chess.SquareSet(self.board.occupied_co[self.own])
            if self.board.piece_type_at(square) != KING
            and not self.board.attackers(self.own, square)
            and not self.board.attackers(not self.own, square)
            and chess.square_name(square) not in unsafe
        ]
        assert sorted(named) == sorted(really)

    def checked(self, king: str, checkers: str) -> None:
        assert self.named(king) == [self.board.king(self.own)]
        assert set(self.named(checkers)) == set(self.board.checkers())


def takers(line: Line) -> list[str]:
    """The captures and promotions of the side that gains by the line, as SAN."""
    gains = change(line, chess.WHITE) > 0
    return [
        san
        for board, move, san in zip(line.boards, line.moves, line.sans, strict=False)
        if move and board.turn == gains and (board.is_capture(move) or move.promotion)
    ]

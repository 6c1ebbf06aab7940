"""A position's claims as a rendering reads them: by kind, with the board and the language."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeVar

import chess

from fastness.language import Language
from fastness.survey.claim import (
    AtStake,
    Cause,
    Claim,
    Count,
    FallsDeeper,
    Holds,
    IfCarriedOut,
    IfCheckMet,
    IfOtherTaken,
    IfReplied,
    IfTaken,
    InCheck,
    InDanger,
    KeepsTheRest,
    LeastLost,
    Loss,
    Mated,
    MatesInstead,
    MoreIsLost,
    Reach,
    Retaken,
    TakesInVain,
    Taking,
    UnitAt,
    Unsafe,
)
from fastness.survey.lines import PASS, line_in_words, move_name, numbered, numbered_move
from fastness.survey.scene import play
from fastness.survey.words import side_name

C = TypeVar("C")
M = TypeVar("M", FallsDeeper, Holds, IfCheckMet, IfOtherTaken, IfTaken, KeepsTheRest, MatesInstead)


class Findings:
    """The claims of one survey in the order made, and the language to tell them in."""

    __slots__ = ("_claims", "board", "language", "position")

    def __init__(self, claims: Iterable[Claim], language: Language) -> None:
        self._claims = tuple(claims)
        self.language = language
        self.position = next(claim for claim in self._claims if isinstance(claim, Reach))
        self.board = chess.Board(self.position.fen)

    def of(self, kind: type[C]) -> list[C]:
        """The claims of one kind."""
        return [claim for claim in self._claims if isinstance(claim, kind)]

    def one(self, kind: type[C]) -> C | None:
        """The claim of a kind of which there is one at most."""
        return next(iter(self.of(kind)), None)

    @property
    def own(self) -> str:
        """The side to move by name."""
        return side_name(self.position.side, self.language)

    @property
    def other(self) -> str:
        """The opponent of the side to move by name."""
        return side_name("black" if self.position.side == "white" else "white", self.language)

    def endangered(self) -> list[str]:
        """The squares of what is not safe, and of the king in check or mated, once each."""
        squares = [one.unit.square for one in self.of(Unsafe)]
        squares += [check.king for check in self.of(InCheck)]
        squares += [mate.king for mate in self.of(Mated)]
        return list(dict.fromkeys(squares))

    def is_own(self, unit: UnitAt) -> bool:
        """Whether a unit belongs to the side to move."""
        return self.board.color_at(chess.parse_square(unit.square)) == self.board.turn

    def causes(self, unit: UnitAt) -> list[Cause]:
        """Why a unit falls."""
        return [cause for cause in self.of(Cause) if cause.unit == unit]

    def count(self, unit: UnitAt) -> Count | None:
        """The count on a unit's square."""
        return next((count for count in self.of(Count) if count.unit == unit), None)

    def retaken(self, unit: UnitAt) -> Retaken | None:
        """What taking back allows, where that does not help a unit."""
        return next((one for one in self.of(Retaken) if one.unit == unit), None)

    def tells_of_taking_back(self, fall: Unsafe | Taking) -> bool:
        """Whether it is claimed what answers taking back, in the line of a fall or at its end."""
        return bool(self.retaken(fall.unit) or self.in_vain(fall.line))

    def at_stake(self, line: Sequence[str]) -> AtStake | None:
        """What else is in danger after the quiet move that is the second of a line."""
        return next((one for one in self.of(AtStake) if one.line == tuple(line[:2])), None)

    def deeper(self, uci: str) -> FallsDeeper | None:
        """How a move falls one move deeper, where it holds here or falls by another amount."""
        return self._of_move(FallsDeeper, uci)

    def holding(self, uci: str) -> Holds | None:
        """That a move holds, if it does."""
        return self._of_move(Holds, uci)

    def if_taken(self, uci: str) -> IfTaken | None:
        """What is ready for taking the unit that moved."""
        return self._of_move(IfTaken, uci)

    def if_other_taken(self, uci: str) -> IfOtherTaken | None:
        """What is ready for taking something else than the unit that moved."""
        return self._of_move(IfOtherTaken, uci)

    def replies_met(self, uci: str) -> list[IfReplied]:
        """What is ready for what refutes other moves."""
        return [one for one in self.of(IfReplied) if one.move == uci]

    def mates_instead(self, uci: str) -> MatesInstead | None:
        """The mate that the line of a move which falls passes by."""
        return self._of_move(MatesInstead, uci)

    def if_carried_out(self, uci: str) -> IfCarriedOut | None:
        """What a move has ready for the threat, where that is to take or to check."""
        return next(iter(self.threats_met(uci)), None)

    def if_check_met(self, uci: str) -> IfCheckMet | None:
        """What is ready for an answer to a check."""
        return self._of_move(IfCheckMet, uci)

    def threats_met(self, uci: str, *, late: bool = False) -> list[IfCarriedOut]:
        """What a move has ready for each threat, at once or where its own line ends."""
        return [one for one in self.of(IfCarriedOut) if one.move == uci and one.late == late]

    def in_vain(self, line: Sequence[str]) -> TakesInVain | None:
        """The capture that seems to win something back in a line, or at its end, and its answer."""
        for one in self.of(TakesInVain):
            if one.line[: one.plies] == tuple(line[: one.plies]):
                return one
        return None

    def losing_least(self) -> list[str]:
        """The moves (UCI) that lose least, without those after which more is lost further on.

        All of them where that is so of each.
        """
        least, worse = self.one(LeastLost), [one.move for one in self.of(MoreIsLost)]
        moves = least.moves if least else ()
        return [uci for uci in moves if uci not in worse] or list(moves)

    def keeps_the_rest(self, uci: str) -> KeepsTheRest | None:
        """What keeps the rest after a move that loses least."""
        return self._of_move(KeepsTheRest, uci)

    def _of_move(self, kind: type[M], uci: str) -> M | None:
        return next((one for one in self.of(kind) if one.move == uci), None)

    def move(self, uci: str) -> str:
        """A move of the position in the language's notation."""
        return move_name(self.board, uci, self.language)

    def moves(self, ucis: Iterable[str]) -> list[str]:
        """Moves of the position in the language's notation."""
        return [self.move(uci) for uci in ucis]

    def threat(self, line: Sequence[str]) -> str:
        """The opponent's first move of a line that begins with a pass, with its number."""
        board = self.board.copy(stack=False)
        board.push_uci(line[0])
        return numbered_move(board, line[1], self.language)

    def last_of(self, line: Sequence[str]) -> str:
        """The last move of a line, with its number."""
        before = play(self.position.fen, line)[-1].before
        return numbered_move(before, line[-1], self.language)

    def last_name(self, line: Sequence[str]) -> str:
        """The last move of a line, without its number."""
        before = play(self.position.fen, line)[-1].before
        return move_name(before, line[-1], self.language)

    def line(self, line: Sequence[str]) -> str:
        """A line with its numbers, a pass at its head in words."""
        return line_in_words(self.position.fen, line, self.language)

    def line_after_pass(self, line: Sequence[str]) -> str:
        """A line with its numbers, a pass at its head left out."""
        if line[:1] != (PASS,):
            return self.numbered(line)
        board = self.board.copy(stack=False)
        board.push(chess.Move.null())
        return numbered(board.fen(), line[1:], self.language)

    def numbered(self, line: Sequence[str]) -> str:
        """A line with its numbers."""
        return numbered(self.position.fen, line, self.language)

    def needs_remedy(self) -> bool:
        """Whether the moves are to be told as remedies: there is danger, a check, or a debt."""
        return bool(self.one(InDanger) or self.one(InCheck) or self.of(Unsafe))


def worth_most(loses: Loss) -> int:
    """A loss as a number to sort by; mate is beyond any material."""
    return loses if isinstance(loses, int) else 1_000_000


def groups_together(found: Sequence[Unsafe] | Sequence[Taking]) -> list[list[Unsafe | Taking]]:
    """Those that are unsafe together, a group once, as they come."""
    groups: dict[frozenset[str], list[Unsafe | Taking]] = {}
    for one in found:
        if one.together:
            key = frozenset([one.unit.square, *one.together])
            groups.setdefault(key, []).append(one)
    return list(groups.values())

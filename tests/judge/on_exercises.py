"""Exercises judged: every answer that counts, right and wrong, by the plain reference.

Nothing of the survey is used but what the exercise asks and which answers it accepts. A verdict
must be the same at the reach of the exercise and one reach deeper.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import chess

from fastness.exercises.exercise import Exercise
from tests.judge.board import THRESHOLD, balance
from tests.judge.plain import Plain

BEYOND = 1000
"""Centipawns: more than a queen; a mate is more."""


@dataclass(frozen=True, slots=True)
class Judged:
    """One answer: whether the exercise accepts it, by what it was judged, and what is false.

    The route is "units", "moves", "replies" or, of a move that only the evaluation puts behind,
    "evaluation": that is an opinion, which the reference cannot judge.
    """

    answer: str
    accepted: bool
    route: str
    fault: str = ""


@dataclass(slots=True)
class Bench:
    """One position under judgement; what was asked is kept, since several exercises ask it."""

    fen: str
    plain: Plain
    board: chess.Board = field(init=False)
    kept: dict[tuple[str, int, int], bool] = field(init=False, default_factory=dict)
    units: dict[int, frozenset[str]] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.board = chess.Board(self.fen)

    def nets(self, uci: str, reach: int, least: int) -> bool:
        """Whether a move nets at least so many centipawns for its side."""
        asked = (uci, reach, least)
        if asked not in self.kept:
            other = not self.board.turn
            base = balance(self.board, other)
            lost = self.plain.attains(self.fen, [uci], 2 * reach - 1, other, base, 1 - least)
            self.kept[asked] = not lost
        return self.kept[asked]

    def holds(self, uci: str, reach: int) -> bool:
        """Whether the opponent wins less than half a pawn after a move."""
        return self.nets(uci, reach, 1 - THRESHOLD)

    def net(self, uci: str, reach: int) -> int:
        """What a move that holds nets by the classical table, whole pawns' worth, 1000 at most."""
        least, most = 0, BEYOND
        while least < most:
            middle = (least + most + 100) // 200 * 100
            if self.nets(uci, reach, middle):
                least = middle
            else:
                most = middle - 100
        return least

    def wins(self, asked: str, reply: str, reach: int) -> bool:
        """Whether a reply to a move wins something, counted from before that move."""
        own = self.board.turn
        base = balance(self.board, own)
        moves, plies = [asked, reply], 2 * reach - 1
        return not self.plain.attains(self.fen, moves, plies, own, base, 1 - THRESHOLD)

    def unsafe(self, reach: int) -> frozenset[str]:
        """The squares of the units that can be won, alone or together."""
        if reach not in self.units:
            self.units[reach] = frozenset(self.plain.unsafe(self.fen, reach))
        return self.units[reach]


def judge_exercise(exercise: Exercise, bench: Bench) -> Iterator[Judged]:
    """Every answer of an exercise that counts for or against a student."""
    if exercise.kind == "which unit":
        yield from _which_unit(exercise, bench)
    elif exercise.kind == "why it fails":
        yield _fails(exercise, bench)
        yield from _replies(exercise, bench)
    elif exercise.kind == "is it safe":
        yield from _yes_or_no(exercise, bench)
    elif exercise.kind == "every move":
        yield from _moves(exercise, bench)
    else:
        yield from _better_ways(exercise, bench)


def _reaches(exercise: Exercise) -> tuple[int, int]:
    reach = exercise.proved.survey["reach"]
    return reach, reach + 1


def _differs(answer: str, *, told: bool, found: dict[int, bool]) -> str:
    """What is false where the judge finds something else at a reach than the exercise tells."""
    wrong = [f"{found[reach]} at reach {reach}" for reach in found if found[reach] != told]
    return f"{answer}: told {told}, but {', '.join(wrong)}" if wrong else ""


def _which_unit(exercise: Exercise, bench: Bench) -> Iterator[Judged]:
    own = bench.board.occupied_co[bench.board.turn]
    for square in map(chess.square_name, chess.SquareSet(own)):
        if square not in exercise.not_judged:
            accepted = square in exercise.accepted
            found = {reach: square in bench.unsafe(reach) for reach in _reaches(exercise)}
            yield Judged(square, accepted, "units", _differs(square, told=accepted, found=found))


def _fails(exercise: Exercise, bench: Bench) -> Judged:
    asked = exercise.asked or ""
    found = {reach: bench.holds(asked, reach) for reach in _reaches(exercise)}
    return Judged(asked, False, "moves", _differs(asked, told=False, found=found))


def _replies(exercise: Exercise, bench: Bench) -> Iterator[Judged]:
    """A reply is the first of the opponent's moves that were searched: one reach fewer is left."""
    asked = exercise.asked or ""
    after = bench.board.copy(stack=False)
    after.push_uci(asked)
    for reply in [move.uci() for move in after.legal_moves]:
        if reply not in exercise.not_judged:
            accepted = reply in exercise.accepted
            nearer = [max(reach - 1, 1) for reach in _reaches(exercise)]
            found = {reach: bench.wins(asked, reply, reach) for reach in nearer}
            told = _differs(f"{asked} {reply}", told=accepted, found=found)
            yield Judged(reply, accepted, "replies", told)


def _yes_or_no(exercise: Exercise, bench: Bench) -> Iterator[Judged]:
    asked = exercise.asked or ""
    found = {reach: bench.holds(asked, reach) for reach in _reaches(exercise)}
    safe = "yes" in exercise.accepted
    for answer in ("yes", "no"):
        fault = _differs(asked, told=safe, found=found)
        yield Judged(answer, answer in exercise.accepted, "moves", fault)


def _moves(exercise: Exercise, bench: Bench) -> Iterator[Judged]:
    for uci in [move.uci() for move in bench.board.legal_moves]:
        if uci not in exercise.not_judged:
            accepted = uci in exercise.accepted
            found = {reach: bench.holds(uci, reach) for reach in _reaches(exercise)}
            yield Judged(uci, accepted, "moves", _differs(uci, told=accepted, found=found))


def _better_ways(exercise: Exercise, bench: Bench) -> Iterator[Judged]:
    """What is accepted holds; what is rejected falls, or is behind in material at both reaches,
    or holds as well and is behind by the evaluation alone, which is an opinion."""
    for uci in [move.uci() for move in bench.board.legal_moves]:
        if uci in exercise.not_judged:
            continue
        accepted = uci in exercise.accepted
        found = {reach: bench.holds(uci, reach) for reach in _reaches(exercise)}
        if accepted:
            yield Judged(uci, accepted, "moves", _differs(uci, told=True, found=found))
        elif not any(found.values()):
            yield Judged(uci, accepted, "moves")
        else:
            yield _behind(uci, exercise, bench)


def _behind(uci: str, exercise: Exercise, bench: Bench) -> Judged:
    """A move that holds, or holds at one reach, and yet is not among the better ways."""
    for reach in _reaches(exercise):
        net = bench.net(uci, reach)
        if any(bench.net(better, reach) - net < THRESHOLD for better in exercise.accepted):
            return Judged(uci, False, "evaluation")
    return Judged(uci, False, "moves")

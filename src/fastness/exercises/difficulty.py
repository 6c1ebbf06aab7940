"""How hard an exercise is likely to be, before anybody has tried it: a sum of named terms.

Every weight in this file is common practice among teachers, no source: a guess that stands until
the attempts of students say better (`rasch`). The unit is the logit of Rasch 1960: one logit more
takes a student from 50 right answers in a hundred to 27.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import chess

from fastness.core.shapes import Line, MoveVerdict, Survey, Unit
from fastness.exercises.exercise import Kind, Level

START = -1.0
"""Logits of an exercise with nothing hard in it: looking one move ahead, a short line forward."""
A_REACH = 1.0
"""For each move that must be looked ahead beyond the first."""
A_PLY = 0.15
"""For each ply of the proof line beyond the first, `LONGEST_LINE` at the most."""
LONGEST_LINE = 6
BACKWARD = 0.5
"""The attack begins with a move back towards its own side of the board, which is seldom looked
for."""
QUIET = 0.6
"""The attack begins with a move that neither captures, checks nor promotes."""
PINNED_GUARD = 0.5
"""A guard seems to stand there and does not guard."""
ONLY_MOVE = 1.0
"""Looking for one of the moves that hold: for an only move; half with two, a third with three."""
TO_FIND = 0.2
"""Looking for all that hold: for each beyond the first, `MOST_TO_FIND` at the most."""
MOST_TO_FIND = 6
FORCING_REMEDY = 0.2
"""What holds is captures and checks alone: a quiet move was easy to think of, and fails."""
QUIET_REMEDY = 0.3
"""Nothing that holds captures, checks or goes away: it must be guarded, blocked or hit back."""
A_UNIT = 0.03
"""For each unit on the board beyond `FEW_UNITS`."""
FEW_UNITS = 12
NOTHING_UNSAFE = 0.5
"""Nothing is unsafe: all must be looked at, and a doubt stays."""
FALSE_ALARM = 0.5
"""Besides, something seems to hang and is safe by tactics or won back."""
KINDS: dict[Kind, float] = {
    "which unit": 0.0,
    "every move": 1.0,
    "better way": 0.3,
    "why it fails": 0.3,
    "is it safe": -0.5,
}
"""For the kind of question; "is it safe" can be guessed one time in two."""

PLAIN_TO = -0.25
STRETCH_FROM = 1.25
"""Logits: the cut points of the three levels."""


@dataclass(frozen=True, slots=True)
class Term:
    """A reason why an exercise is harder or easier, in logits."""

    name: str
    logits: float


@dataclass(frozen=True, slots=True)
class Attack:
    """What must be seen: how many moves ahead, and the opponent's line.

    The line begins with a pass, or with the move asked about.
    """

    reach: int
    line: Line
    pinned_guard: bool


def estimate(survey: Survey, kind: Kind, asked: str | None = None) -> float:
    """How hard a question about a position is likely to be, in logits; 0 is the middling one."""
    return sum(term.logits for term in terms(survey, kind, asked))


def level_of(logits: float) -> Level:
    """The level that people see."""
    if logits < PLAIN_TO:
        return "plain"
    return "club" if logits < STRETCH_FROM else "stretch"


def terms(survey: Survey, kind: Kind, asked: str | None = None) -> list[Term]:
    """The terms that the estimate sums; those of 0 are left out.

    `asked` is the move that the question is about (UCI), if it is about one. Raises KeyError
    where that is not a legal move.
    """
    board = chess.Board(survey["fen"])
    attack = attack_to_see(survey, kind, asked)
    found = [Term("start", START), Term(f"question: {kind}", KINDS[kind])]
    if attack is None:
        found.append(Term("nothing is unsafe", NOTHING_UNSAFE))
        found.append(Term("seems to hang", FALSE_ALARM * _false_alarm(survey)))
    else:
        found += _attack_terms(board, attack)
    if kind in ("every move", "better way"):
        found += _remedy_terms(board, survey, kind)
    units = max(0, chess.popcount(board.occupied) - FEW_UNITS)
    found.append(Term("units on the board", A_UNIT * units))
    return [term for term in found if term.logits]


def attack_to_see(survey: Survey, kind: Kind, asked: str | None) -> Attack | None:
    """The attack that an answer turns on; None where there is none, or in check none to look for.

    Of several units that are not safe the easiest seen tells "which unit" least, so the one
    furthest ahead counts there, and for the other questions the most valuable loss.
    """
    if asked is not None and kind in ("why it fails", "is it safe"):
        verdict = next((move for move in survey["moves"] if move["uci"] == asked), None)
        if verdict is None:
            raise KeyError(asked)
        return _refutation(verdict)
    unsafe = [unit for unit in survey["units"] if unit["line"] and is_unsafe(unit)]
    if not unsafe:
        return None
    unit = max(unsafe, key=_reach) if kind == "which unit" else max(unsafe, key=_loss)
    return Attack(_reach(unit), unit["line"] or [], "pinned guard" in unit["mechanisms"])


def is_unsafe(unit: Unit) -> bool:
    """Whether the unit falls, alone or together with others."""
    return unit["status"] in ("unsafe", "unsafe together")


def _refutation(move: MoveVerdict) -> Attack | None:
    if move["holds"] or not move["line"]:
        return None
    return Attack(move["falls_at"] or 1, move["line"], move["reason"] == "guard pinned")


def _reach(unit: Unit) -> int:
    return unit["reach"] or 1


def _loss(unit: Unit) -> float:
    return math.inf if unit["loses"] == "mate" else float(unit["loses"] or 0)


def _attack_terms(board: chess.Board, attack: Attack) -> list[Term]:
    found = [Term("moves ahead", A_REACH * (attack.reach - 1))]
    longer = min(len(attack.line) - 2, LONGEST_LINE)
    found.append(Term("length of the line", A_PLY * max(0, longer)))
    if len(attack.line) > 1:
        after = board.copy(stack=False)
        after.push(chess.Move.from_uci(attack.line[0]))
        first = chess.Move.from_uci(attack.line[1])
        found.append(Term("backward first move", BACKWARD * _goes_back(after, first)))
        found.append(Term("quiet first move", QUIET * (not _forcing(after, first))))
    found.append(Term("pinned guard", PINNED_GUARD * attack.pinned_guard))
    return found


def _remedy_terms(board: chess.Board, survey: Survey, kind: Kind) -> list[Term]:
    holding = [move for move in survey["moves"] if move["holds"]]
    if not holding or len(holding) == len(survey["moves"]):
        return []
    if kind == "every move":
        further = min(len(holding) - 1, MOST_TO_FIND)
        found = [Term("moves to find", TO_FIND * further)]
    else:
        found = [Term("few moves hold", ONLY_MOVE / len(holding))]
    if all(_forcing(board, chess.Move.from_uci(move["uci"])) for move in holding):
        found.append(Term("only captures and checks hold", FORCING_REMEDY))
    elif not any(_comes_to_mind(board, move) for move in holding):
        found.append(Term("only quiet moves of other units hold", QUIET_REMEDY))
    return found


def _comes_to_mind(board: chess.Board, move: MoveVerdict) -> bool:
    return "move" in move["ways"] or _forcing(board, chess.Move.from_uci(move["uci"]))


def _forcing(board: chess.Board, move: chess.Move) -> bool:
    """Whether a move captures, checks or promotes."""
    return board.is_capture(move) or move.promotion is not None or board.gives_check(move)


def _goes_back(board: chess.Board, move: chess.Move) -> bool:
    rise = chess.square_rank(move.to_square) - chess.square_rank(move.from_square)
    return rise < 0 if board.turn == chess.WHITE else rise > 0


def _false_alarm(survey: Survey) -> bool:
    return any(unit["status"] in ("safe by tactics", "won back") for unit in survey["units"])

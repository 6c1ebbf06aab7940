"""Natural tries: the moves a club player would think of that do not keep the material.

Found by plain geometry, so that they can be told apart from moves that have nothing to do with
what is in danger. A try is named by what it sets out to do, not by what it achieves.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import chess
from chess import KING

from fastness.core.shapes import Deeper, MoveVerdict, Survey, Unit
from fastness.survey.lines import PASS

KINDS = ("capture", "move", "block", "guard", "counterattack", "other")
"""What a try sets out to do, in the order in which the page tells them."""

_AIMS = {
    "the blocker falls": "block",
    "less valuable attacker": "guard",
    "outnumbered still": "guard",
    "threat too small": "counterattack",
    "answered with a bigger threat": "counterattack",
}

GIVEN_AWAY = 200
"""Centipawns beyond the danger from which a move is a gift rather than a try."""
_MATE = 1_000_000


@dataclass(frozen=True, slots=True)
class Try:
    """A move that falls, and what it sets out to do (one of `KINDS`)."""

    kind: str
    move: MoveVerdict


@dataclass(frozen=True, slots=True)
class _Danger:
    """Squares: of the units in danger, of what attacks them, where it must land, and between."""

    units: frozenset[int]
    carriers: frozenset[int]
    targets: frozenset[int]
    between: frozenset[int]


def in_danger(survey: Survey) -> list[Unit]:
    """The units of the side to move that are unsafe, alone or together, or in check."""
    statuses = ("unsafe", "unsafe together", "in check")
    return [unit for unit in survey["units"] if unit["status"] in statuses]


def _proof_lines(survey: Survey) -> Iterable[list[str]]:
    for unit in in_danger(survey):
        if unit["line"] and unit["line"][0] == PASS:
            yield unit["line"][1:]


def _danger(survey: Survey, board: chess.Board) -> _Danger:
    units: set[int] = set()
    carriers: set[int] = set()
    targets: set[int] = set()
    between: set[int] = set()
    for unit in in_danger(survey):
        square = chess.parse_square(unit["square"])
        units.add(square)
        targets.add(square)
        carriers.update(chess.parse_square(name) for name in unit["attackers"])
        if unit["status"] == "in check":
            carriers.update(board.checkers())
    for line in _proof_lines(survey):
        if line:
            first = chess.Move.from_uci(line[0])
            carriers.add(first.from_square)
            targets.add(first.to_square)
    for name, line in zip(survey["promotions"], survey["promotion_lines"], strict=True):
        targets.add(chess.parse_square(name))
        carriers.update(
            chess.parse_square(uci[:2]) for uci in line if len(uci) == 5 and uci[2:4] == name
        )
    for carrier in carriers:
        for target in targets:
            if _slides(board.piece_type_at(carrier), carrier, target):
                between.update(chess.SquareSet.between(carrier, target))
    between -= targets | carriers
    return _Danger(frozenset(units), frozenset(carriers), frozenset(targets), frozenset(between))


def _slides(kind: int | None, start: int, target: int) -> bool:
    straight = chess.square_file(start) == chess.square_file(target) or (
        chess.square_rank(start) == chess.square_rank(target)
    )
    kinds = (chess.ROOK, chess.QUEEN) if straight else (chess.BISHOP, chess.QUEEN)
    return kind in kinds


def _adds_guard(board: chess.Board, after: chess.Board, move: chess.Move, target: int) -> bool:
    if target in (move.to_square, move.from_square):
        return False
    before = set(board.attackers(board.turn, target)) - {move.from_square}
    now = set(after.attackers(board.turn, target))
    if move.from_square in board.attackers(board.turn, target):
        now.discard(move.to_square)
    return bool(now - before)


def _kind(board: chess.Board, move: chess.Move, danger: _Danger, owed: int) -> str | None:
    capture = board.is_capture(move)
    if capture and (owed > 0 or taken_on(board, move) in danger.carriers):
        return "capture"
    if move.from_square in danger.units:
        return "move"
    if not capture and move.to_square in danger.between:
        return "block"
    after = board.copy(stack=False)
    after.push(move)
    if any(_adds_guard(board, after, move, target) for target in danger.targets):
        return "guard"
    return "counterattack" if _threatens(board, after, move, danger.units) else None


def _by_reason(board: chess.Board, verdict: MoveVerdict) -> str:
    """What a natural try that the geometry above does not place sets out to do, by its reason."""
    reason = verdict.get("reason") or ""
    if reason == "the blocker falls":
        squares = next(one["squares"] for one in verdict["reasons"] if one["reason"] == reason)
        shielded = chess.parse_square(squares[2]) if len(squares) > 2 else None
        if shielded is None or board.color_at(shielded) != board.turn:
            return "other"
    return _AIMS.get(reason, "other")


def _threatens(
    board: chess.Board, after: chess.Board, move: chess.Move, units: frozenset[int]
) -> bool:
    """A check, or a new attack by the unit moved on something worth as much as what is in danger.

    Only what is worth more than the unit moved, or is unguarded, counts as attacked.
    """
    if after.is_check():
        return True
    kinds = [board.piece_type_at(square) or KING for square in units]
    if not kinds or KING in kinds:
        return False
    least, own = max(map(rank_of, kinds)), rank_of(after.piece_type_at(move.to_square) or KING)
    news = after.attacks(move.to_square) - board.attacks(move.from_square)
    for square in news & after.occupied_co[after.turn]:
        rank = rank_of(after.piece_type_at(square) or KING)
        if rank >= least and (rank > own or not after.attackers(after.turn, square)):
            return True
    return False


def rank_of(kind: chess.PieceType) -> int:
    """1 for a pawn to 4 for a queen, 5 for a king; a knight and a bishop count as equal."""
    return kind if kind == chess.PAWN else kind - 1 if kind > chess.KNIGHT else 2


def taken_on(board: chess.Board, move: chess.Move) -> int:
    """Where the unit stands that a capture takes, en passant included."""
    if board.is_en_passant(move):
        return chess.square(chess.square_file(move.to_square), chess.square_rank(move.from_square))
    return move.to_square


def is_quiet(board: chess.Board, uci: str) -> bool:
    """Whether a move neither takes, promotes nor checks."""
    move = chess.Move.from_uci(uci)
    return not (board.is_capture(move) or move.promotion or board.gives_check(move))


def loss(move: MoveVerdict | Deeper) -> int:
    """What a move loses, in centipawns; a mate suffered is beyond any material."""
    net = move["net"]
    if isinstance(net, int):
        return -net
    return _MATE if net == "mated" else -_MATE


def underpromotes(move: MoveVerdict) -> bool:
    """Whether a move promotes to less than a queen."""
    return move["uci"][4:] in ("n", "b", "r")


def _most(survey: Survey) -> int:
    """The most that a natural try loses, captures apart: little more than is in danger anyway."""
    danger = (survey["danger"] or ["mate"])[-1]
    return danger + GIVEN_AWAY if isinstance(danger, int) else _MATE


FEWEST = 4
"""Tries that a page shows where there are so many."""
MOVING = 3
"""Of them those by what is in danger, though it may be taken where it goes."""


def _forces(board: chess.Board, verdict: MoveVerdict) -> bool:
    """Whether a move takes or checks without promoting to less than a queen."""
    move = chess.Move.from_uci(verdict["uci"])
    return not underpromotes(verdict) and (board.is_capture(move) or board.gives_check(move))


def _joins(board: chess.Board, verdict: MoveVerdict, danger: int, units: frozenset[int]) -> bool:
    if _moves_away(verdict, units):
        pushed = board.piece_type_at(chess.parse_square(verdict["uci"][:2])) == chess.PAWN
        return loss(verdict) < danger + (pushed or "x" in verdict["san"])
    if _forces(board, verdict):
        return loss(verdict) <= danger + GIVEN_AWAY
    return not underpromotes(verdict) and loss(verdict) < danger


def _moves_away(verdict: MoveVerdict, units: frozenset[int]) -> bool:
    """Whether what is in danger moves, be it to where it is taken all the same."""
    start, blocks = chess.Move.from_uci(verdict["uci"]).from_square, "the blocker falls"
    return start in units and not underpromotes(verdict) and verdict.get("reason") != blocks


def _kind_of_joining(board: chess.Board, verdict: MoveVerdict, units: frozenset[int]) -> str:
    if _moves_away(verdict, units):
        return "move"
    if not _forces(board, verdict):
        return _by_reason(board, verdict)
    return "capture" if "x" in verdict["san"] else "counterattack"


def _naturalness(one: Try) -> tuple[int, bool, int, str]:
    san = one.move["san"]
    return KINDS.index(one.kind), san.startswith("K"), loss(one.move), san


def natural_kind(survey: Survey, verdict: MoveVerdict) -> str | None:
    """What a move that falls sets out to do, if a club player would think of it; else None.

    Which are natural the survey says itself, if it does (`natural`).
    """
    board = chess.Board(survey["fen"])
    return _natural_kind(survey, board, _danger(survey, board), verdict)


def _natural_kind(
    survey: Survey, board: chess.Board, danger: _Danger, verdict: MoveVerdict
) -> str | None:
    kind = _kind(board, chess.Move.from_uci(verdict["uci"]), danger, survey["owed"])
    seemly = kind == "capture" or loss(verdict) <= _most(survey)
    natural = bool(kind) and seemly and not underpromotes(verdict)
    if not verdict.get("natural", natural):
        return None
    return kind or _by_reason(board, verdict)


def _least(survey: Survey) -> int | None:
    """What is lost least where nothing holds; the moves that do so are told apart from tries."""
    if any(move["holds"] for move in survey["moves"]):
        return None
    return min(map(loss, survey["moves"]), default=None)


def natural_tries(survey: Survey) -> tuple[list[Try], list[MoveVerdict]]:
    """The moves that fall, parted into natural tries and the rest, underpromotions included.

    Tries come in the order of `KINDS`; within a kind those of the king last, then the smallest
    loss first.
    """
    board = chess.Board(survey["fen"])
    danger, most = _danger(survey, board), _most(survey)
    tries, rest = [], []
    for verdict in survey["moves"]:
        if verdict["holds"]:
            continue
        kind = _natural_kind(survey, board, danger, verdict)
        if kind:
            tries.append(Try(kind, verdict))
        else:
            rest.append(verdict)
    pressed = bool(tries or in_danger(survey))
    least = _least(survey)
    enough = FEWEST + sum(loss(one.move) == least for one in tries)
    # A few tries show too little: the forcing moves that lose least join them, and what loses less
    # than a move that does nothing.
    for verdict in sorted(rest, key=lambda verdict: (loss(verdict), verdict["san"])):
        moving = sum(one.kind == "move" for one in tries)
        wanted = len(tries) < enough or (moving < MOVING and _moves_away(verdict, danger.units))
        if (
            pressed
            and wanted
            and loss(verdict) != least
            and _joins(board, verdict, most - GIVEN_AWAY, danger.units)
        ):
            rest.remove(verdict)
            tries.append(Try(_kind_of_joining(board, verdict, danger.units), verdict))
    tries.sort(key=_naturalness)
    rest.sort(key=lambda verdict: (loss(verdict), verdict["san"]))
    return tries, rest

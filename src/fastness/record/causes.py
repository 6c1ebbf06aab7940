"""The causes of an episode: why the unit was in danger, and the habits seen in the move played.

A cause is a name. Mechanisms keep the names of `docs/mechanisms.md`; the others are defined here.
"""

import chess

from fastness.language import marked
from fastness.record.geometry import (
    adds_guard,
    attacked_by_less,
    attacked_by_pawn,
    first_loss,
    hits_back,
    squares_of,
    worth,
)
from fastness.sift import Occasion

BY_A_PAWN = marked("attacked by a pawn")
FAR = marked("two moves ahead")
"""It takes looking two moves ahead to see the danger."""
FURTHER = marked("three moves ahead or more")
"""It takes looking still further."""
GUARDS = marked("guards what a guard cannot save")
"""A guard is added to a unit in danger, and it falls though another move would have held."""
GUARDS_LESS = marked("guards against a less valuable attacker")
"""The same, where something worth less attacks the unit."""
HITS_BACK = marked("counterattacks before a plain remedy")
"""A counterattack is played where a plain remedy was at least as good."""
HURRIED = marked("hurried")
"""Little time was left."""
OWN_CAUSES = (BY_A_PAWN, FAR, FURTHER, GUARDS, GUARDS_LESS, HITS_BACK, HURRIED)
PLAIN_WAYS = ("capture", "move", "block", "guard")
"""The ways of a plain remedy."""
HABITS = (GUARDS, GUARDS_LESS, HITS_BACK, HURRIED)


def causes_of(occasion: Occasion, board: chess.Board, *, hurried: bool) -> tuple[str, ...]:
    """The causes of the episode that begins with this occasion, mechanisms first.

    `board` is the position before the move. Where the move played made the danger, the mechanism
    is read off the first capture of its refutation: less valuable attacker, or unguarded.
    """
    found = list(occasion["mechanisms"])
    squares = squares_of(occasion)
    if occasion["outcome"] == "exposed" or not found:
        found += [name for name in _by_line(board, occasion["line"]) if name not in found]
    if BY_A_PAWN not in found and attacked_by_pawn(board, board.turn, squares):
        found.append(BY_A_PAWN)
    reach = occasion["reach"] or 1
    if reach >= 2:
        found.append(FAR if reach == 2 else FURTHER)
    found += _habits(occasion, board, squares)
    if hurried:
        found.append(HURRIED)
    return tuple(found)


def _by_line(board: chess.Board, line: list[str] | None) -> list[str]:
    taken = first_loss(board, line or [])
    if taken is None:
        return []
    before, capture = taken
    found = []
    lost = worth(before, capture.to_square)
    if not before.is_attacked_by(board.turn, capture.to_square):
        found.append("unguarded")
    if worth(before, capture.from_square) < lost:
        found.append("less valuable attacker")
        if before.piece_type_at(capture.from_square) == chess.PAWN:
            found.append(BY_A_PAWN)
    return found


def _habits(occasion: Occasion, board: chess.Board, squares: list[int]) -> list[str]:
    """The habits that the move played shows; only where a move that holds was there."""
    move = chess.Move.from_uci(occasion["played"]["uci"])
    if not occasion["holding"] or occasion["outcome"] == "exposed" or board.is_check():
        return []
    found = []
    fell = occasion["outcome"] != "held"
    guarded = [square for square in squares if adds_guard(board, move, square)]
    if fell and guarded:
        found.append(GUARDS)
        if any(attacked_by_less(board, board.turn, square) for square in guarded):
            found.append(GUARDS_LESS)
    if _counterattacks(occasion, board, move, squares) and _plain_is_as_good(occasion):
        found.append(HITS_BACK)
    return found


def _counterattacks(
    occasion: Occasion, board: chess.Board, move: chess.Move, squares: list[int]
) -> bool:
    """Whether the move played is a counterattack, or was meant as one and falls."""
    if occasion["outcome"] == "held":
        return occasion["way"] == "counterattack"
    tried = occasion["tried"]
    # What gives away more than was in danger is no natural try, and may be one all the same.
    unplaced = tried is None or tried == "other"
    return tried == "counterattack" or (unplaced and hits_back(board, move, squares))


def _plain_is_as_good(occasion: Occasion) -> bool:
    """Whether a plain remedy nets at least as much as the move played.

    `holding` has the best net first, so what stands before the move played nets as much or more.
    """
    holding, played = occasion["holding"], occasion["played"]["san"]
    better = holding.index(played) if played in holding else len(holding)
    return any(way in PLAIN_WAYS for way in occasion["holding_ways"][:better])

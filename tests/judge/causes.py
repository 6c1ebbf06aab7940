"""Whether a named mechanism can apply to a unit that falls, and whether its squares take part."""

from collections.abc import Callable, Iterator, Sequence

import chess

from tests.judge import mechanisms, tactics
from tests.judge.case import Case, case

MECHANISMS: dict[str, Callable[[Case], Iterator[set[int]]]] = {
    "unguarded": mechanisms.unguarded,
    "less valuable attacker": mechanisms.less_valuable_attacker,
    "outnumbered": mechanisms.outnumbered,
    "pinned guard": mechanisms.pinned_guard,
    "overloaded guard": mechanisms.overloaded_guard,
    "removal of the guard": mechanisms.removal_of_the_guard,
    "fork": tactics.fork,
    "pin": mechanisms.pin,
    "skewer": mechanisms.skewer,
    "discovered attack": tactics.discovered_attack,
    "discovered check": tactics.discovered_check,
    "double check": tactics.double_check,
    "trapped": tactics.trapped,
    "back rank": tactics.back_rank,
    "mate threat": tactics.mate_threat,
    "promotion": tactics.promotion,
    "interference": mechanisms.interference,
    "in-between move": tactics.in_between_move,
    "desperado": mechanisms.desperado,
}


def falls_because(
    fen: str, line: Sequence[str], unit: str, name: str, squares: Sequence[str] = ()
) -> list[str]:
    """What is false in naming why the unit on a square falls in `line`; empty if nothing is.

    Of the `squares` named, all must take part in one and the same case of the mechanism.
    """
    if name not in MECHANISMS:
        return [f"nobody judges the mechanism {name}"]
    one = case(fen, line, chess.parse_square(unit))
    told = {chess.parse_square(square) for square in squares}
    parts = list(MECHANISMS[name](one))
    if not parts:
        return [f"{unit}: no {name}"]
    if not any(told <= part for part in parts):
        return [f"{unit}: {name}, but not of {', '.join(squares)}"]
    return []

"""Proved positions for the tests, from the survey alone."""

from __future__ import annotations

from functools import cache

from fastness.core import survey
from fastness.exercises.exercise import Exercise, Kind, Proved, Source

BISHOP = "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1"
"""The bishop e5 falls: two attack it, and its guard may be taken."""
BISHOP_AND_ROOK = "8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1"
"""The king forks both when it is its turn."""
BY_TACTICS = "3r2k1/5ppp/8/8/8/b7/5PPP/R5K1 b - - 0 1"
"""The bishop seems to hang; who takes it is mated."""


@cache
def proved(fen: str, game: str = "") -> Proved:
    """A position as proved: each move that falls with the first move of its refutation."""
    found = survey(fen, reach=3, firm=True, rank_nodes=2000)
    replies: dict[str, tuple[str, ...]] = {
        move["uci"]: (move["line"][1],)
        for move in found["moves"]
        if not move["holds"] and move["line"] and len(move["line"]) > 1
    }
    return Proved(found, True, replies, Source("game", game, 12) if game else Source("composed"))


def exercise(
    fen: str, kind: Kind = "every move", asked: str | None = None, game: str = ""
) -> Exercise:
    """A question about a position with the answers that the survey gives."""
    one = proved(fen, game)
    moves = one.survey["moves"]
    if kind == "which unit":
        units = one.survey["units"]
        right = tuple(unit["square"] for unit in units if unit["status"] == "unsafe")
    elif kind == "every move":
        right = tuple(move["uci"] for move in moves if move["holds"])
    elif kind == "better way":
        right = tuple(move["uci"] for move in moves if move["advised"])
    elif kind == "is it safe":
        right = ("yes" if one.verdict(asked or "")["holds"] else "no",)
    else:
        right = one.replies[asked or ""]
    return Exercise(kind, one, right, asked=asked)

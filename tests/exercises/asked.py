"""Exercises of every kind on positions of historic games, as the core answers them."""

from __future__ import annotations

from functools import cache

from fastness.core import survey
from fastness.exercises.exercise import Exercise, Kind, Proved, Source

BISHOP = "rnbqkbnr/ppp2ppp/4p3/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R b KQkq - 1 3"
"""The queen on d8 is attacked: every kind can be asked."""
KNIGHT = "r1bq1rk1/ppp2ppp/2np4/6N1/2BbP1n1/2N4P/PP3PP1/R1BQ1RK1 b - - 0 10"
QUIET = "2kr3r/1p1n2p1/pbp2q1p/4p3/PP6/1QPP1B2/5PPP/R1B2RK1 b - - 0 16"
"""Nothing is in danger."""
TACTICS = "3r2k1/5ppp/8/8/8/b7/5PPP/R5K1 b - - 0 1"
"""The bishop can be taken, and whoever takes it is mated."""
FENS = (BISHOP, KNIGHT)


@cache
def proved(fen: str) -> Proved:
    """The position with firm verdicts; the rank is shallow, which is enough to have one."""
    found = survey(fen, reach=3, firm=True, rank_nodes=2_000)
    replies: dict[str, tuple[str, ...]] = {
        move["uci"]: (move["line"][1],)
        for move in found["moves"]
        if not move["holds"] and move["line"] and len(move["line"]) > 1
    }
    source = Source("game", "Millrace Chess Club, game 4", 2 * int(fen.split()[-1]))
    return Proved(found, firm_units=True, replies=replies, source=source)


def asked(kind: Kind, fen: str = KNIGHT) -> Exercise:
    """The question of a kind on a position; of moves that fall, on the first natural one."""
    one = proved(fen)
    moves = one.survey["moves"]
    aside = tuple(move["uci"] for move in moves if not move["firm"])
    holding = tuple(move["uci"] for move in moves if move["holds"] and move["firm"])
    better = tuple(move["uci"] for move in moves if move["advised"] and move["firm"])
    if kind == "which unit":
        units = one.survey["units"]
        unsafe = [unit["square"] for unit in units if unit["status"].startswith("unsafe")]
        return Exercise(kind, one, tuple(unsafe))
    if kind == "every move":
        return Exercise(kind, one, holding, aside)
    if kind == "better way":
        return Exercise(kind, one, better, aside)
    fails = next(move["uci"] for move in moves if move["natural"] and move["uci"] in one.replies)
    if kind == "why it fails":
        return Exercise(kind, one, one.replies[fails], asked=fails)
    return Exercise(kind, one, ("no",), asked=fails)


def safe_move(fen: str = KNIGHT) -> Exercise:
    """Whether a move is safe that is."""
    return Exercise("is it safe", proved(fen), ("yes",), asked=asked("every move", fen).accepted[0])

"""Positions and sessions for the tests of the class board."""

from __future__ import annotations

from functools import cache

from fastness.classroom import commands, preparing
from fastness.classroom.session import ClassSession, Try
from fastness.classroom.surveyed import Surveyed, look_at

PINNED = "rnbqkb1r/pppp1ppp/8/4N3/4n3/8/PPPPQPPP/RNB1KB1R b KQkq - 0 1"
"""The knight on e4 is not safe, and no move keeps everything."""
GUARDED = "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"
"""A pawn attacks the knight on e5; three better ways, and one move that is not firm."""
FEW = "8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1"
"""Bishop and rook are forked by the king."""
QUIET = "8/8/3Kp3/8/4Pk2/8/8/8 w - - 0 1"
"""Nothing but the pawns can be taken."""
TRADE = "rnbqkbnr/1ppp1ppp/p7/1B2p3/4P3/5N2/PPPP1PPP/RNBQK2R b KQkq - 0 3"


def session(*fens: str) -> ClassSession:
    return preparing.begin(7, "Monday", [preparing.given(fen) for fen in fens or (GUARDED,)])


@cache
def looked(fen: str, moves: str = "") -> Surveyed:
    return look_at(preparing.given(fen, moves))


def tried(session: ClassSession, *moves: str) -> ClassSession:
    """The session after tries in its position."""
    for move in moves:
        uci = preparing.read_move(session.at.fen, move)
        session = commands.enter_try(session, looked(session.at.fen), uci)
    return session


def try_on(session: ClassSession, move: str) -> Try:
    uci = preparing.read_move(session.at.fen, move)
    return next(one for one in session.at.tries if one.move == uci)

"""For each theme of a lesson the small position that shows it, and what is claimed of it.

The positions are made by hand to show one thing, but for one from a game of the 19th century; the
texts about them are rules of thumb: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from fastness.core.shapes import Mechanism
from fastness.record.causes import (
    BY_A_PAWN,
    FAR,
    FURTHER,
    GUARDS,
    GUARDS_LESS,
    HITS_BACK,
    HURRIED,
)
from fastness.survey.words import WAYS

_FORK = "r3k3/8/8/3N4/8/8/8/4K3 b - - 0 1"
_HANGS = "4k3/8/8/3n4/8/8/8/3RK3 b - - 0 1"
_COUNTER = "6k1/2p2ppp/8/4n3/3N1P2/8/6PP/6K1 b - - 0 1"
_QUEEN = "3q4/3k4/8/8/6p1/8/8/R5K1 b - - 0 1"
_IN_BETWEEN = "5r1k/2p3pp/p1Pr3q/1p2pp2/8/Q3R2P/P4PP1/3R2K1 w - - 0 27"


@dataclass(frozen=True, slots=True)
class Shown:
    """A position that shows a theme, and claims about it in the grammar of lesson files."""

    fen: str
    claims: tuple[str, ...]


SHOWN: dict[str, Shown] = {
    "unguarded": Shown(_HANGS, ("unsafe: d5", "mechanism: d5 unguarded", "holds: Nb4, Nf6")),
    "less valuable attacker": Shown(
        "4k3/8/2p5/3n4/4P3/8/8/4K3 b - - 0 1",
        ("unsafe: d5", "mechanism: d5 less valuable attacker", "holds: Nb4, Nb6"),
    ),
    "outnumbered": Shown(
        "4k3/8/4p3/3n4/8/5B2/8/3RK3 b - - 0 1",
        ("unsafe: d5", "mechanism: d5 outnumbered", "holds: Nb4, Nf6"),
    ),
    "pinned guard": Shown(
        "rn1q1rk1/pp3pp1/2pb1n1p/3p4/3P2bB/2NB1N1P/PPP2PP1/R2Q1RK1 b - - 0 10",
        ("unsafe: g4", "mechanism: g4 pinned guard", "falls: Qd7 because hxg4", "holds: Bxf3, Be6"),
    ),
    "overloaded guard": Shown(
        "3r2k1/5ppp/8/8/3n4/8/5PPP/3RR1K1 b - - 0 1",
        (
            "unsafe: d4",
            "mechanism: d4 overloaded guard",
            "falls: Nb3 because Rxd8",
            "holds: f6, g6",
        ),
    ),
    "removal of the guard": Shown(
        "4k3/3n4/8/1B2p3/8/5N2/8/4K3 b - - 0 1",
        ("unsafe: e5", "mechanism: e5 removal of the guard"),
    ),
    "fork": Shown(_FORK, ("unsafe: a8", "mechanism: a8 fork", "falls: Ra6 because Nc7")),
    "pin": Shown(
        "4k3/p4ppp/4b3/8/3P1P2/8/5P1P/4R1K1 b - - 0 1",
        ("unsafe: e6", "mechanism: e6 pin", "falls: f6 because f5"),
    ),
    "skewer": Shown(_QUEEN, ("unsafe: d8", "mechanism: d8 skewer", "holds: Ke7, Kc7")),
    "discovered attack": Shown(
        "3q2k1/5ppp/8/8/8/3B4/5PPP/3R2K1 b - - 0 1",
        ("unsafe: d8", "mechanism: d8 discovered attack", "falls: Qd5 because Bxh7"),
    ),
    "discovered check": Shown(
        "4k3/8/8/1q6/4N3/8/8/4R1K1 b - - 0 1",
        ("unsafe: b5", "mechanism: b5 discovered check", "falls: Qa4 because Nc3"),
    ),
    "double check": Shown(
        "3rkb2/3p1p2/8/6B1/4N3/8/8/4R1K1 b - - 0 1",
        ("danger: mate", "mechanism: e8 double check", "falls: d6 because Nf6"),
    ),
    "trapped": Shown(
        "7k/8/p7/1pp5/8/1B6/P1P5/6K1 w - - 0 1",
        ("unsafe: b3", "mechanism: b3 trapped", "holds: a3, a4"),
    ),
    "back rank": Shown(
        "6k1/5ppp/8/8/8/8/5PPP/3R2K1 b - - 0 1",
        ("danger: mate", "mechanism: g8 back rank", "falls: Kh8 because Rd8", "holds: g6, f6"),
    ),
    "mate threat": Shown(
        "r5k1/5ppp/8/8/1n6/2Q5/1B6/6K1 b - - 0 1",
        ("danger: mate", "mechanism: g8 mate threat", "falls: Kh8 because Qxg7"),
    ),
    "promotion": Shown(
        "3r2k1/P7/8/8/8/8/8/R5K1 b - - 0 1",
        ("unsafe: d8", "mechanism: d8 promotion", "only: Ra8"),
    ),
    "interference": Shown(
        "8/1qk5/8/8/1NP1n3/7P/5PPK/4R3 b - - 0 1",
        ("unsafe: e4", "mechanism: e4 interference", "holds: Qxb4, Kd6"),
    ),
    "in-between move": Shown(_IN_BETWEEN, ("unsafe: a6", "mechanism: a6 in-between move")),
    "desperado": Shown(_QUEEN, ("unsafe: d8", "mechanism: d8 desperado", "holds: Kc6, Ke6")),
    "capture": Shown(
        "6k1/5ppp/8/8/1b6/P7/5PPP/4R1K1 w - - 0 1",
        ("unsafe: e1", "falls: Rd1 because Bxa3", "holds: axb4"),
    ),
    "move": Shown(
        "6k1/1p3ppp/p1p5/8/1b6/8/1P3PPP/4R1K1 w - - 0 1",
        ("unsafe: e1", "falls: Kf1 because Bxe1", "holds: Re3, Rd1, Re2"),
    ),
    "block": Shown(
        "3qk1nr/2p2ppp/3p4/6B1/7P/8/5PP1/4K2R b - - 0 1",
        ("unsafe: d8", "falls: Qxg5 because hxg5", "holds: f6, Ne7, Nf6"),
    ),
    "guard": Shown(
        "6k1/2p2ppp/8/3n4/8/8/5PPP/3R2K1 b - - 0 1",
        ("unsafe: d5", "falls: Nb6 because Rd8", "only: c6"),
    ),
    "counterattack": Shown(_COUNTER, ("unsafe: e5", "falls: f6 because fxe5", "holds: c5, Nd7")),
    BY_A_PAWN: Shown(
        "r1bqkb1r/pppp1ppp/2n2n2/3P4/4P3/8/PPP2PPP/RNBQKBNR b KQkq - 0 4",
        ("unsafe: c6", "mechanism: c6 less valuable attacker", "holds: Nb8, Ne5"),
    ),
    FAR: Shown(_FORK, ("unsafe: a8", "mechanism: a8 fork", "falls: Ra6 because Nc7")),
    GUARDS: Shown(
        "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12",
        ("unsafe: e5", "falls: Qe7 because fxe5", "falls: Re8 because fxe5", "holds: Nc6, Ng4"),
    ),
    HITS_BACK: Shown(_COUNTER, ("unsafe: e5", "falls: f6 because fxe5", "holds: Nd7, Nc4")),
    HURRIED: Shown(_HANGS, ("unsafe: d5", "mechanism: d5 unguarded", "holds: Nb4, Nf6")),
}
"""By the name of a mechanism, of a way that is neglected, or of a cause of the record."""
_SAME = {FURTHER: FAR, GUARDS_LESS: GUARDS}
"""Causes that are taught as another one."""
THEMES: tuple[str, ...] = (*get_args(Mechanism), *(way for way in WAYS if way != "other"))
"""The themes that can be asked for by name: the mechanisms and the ways."""


def theme_taught(cause: str) -> str:
    """The theme by which a cause of the record is taught."""
    return _SAME.get(cause, cause)

"""The judge itself is judged: one altered fact of every kind must be called false."""

from dataclasses import replace
from typing import Any

import pytest

from fastness import core
from fastness.survey import claim as kinds
from fastness.survey.claims import claims
from tests.judge.causes import MECHANISMS, falls_because
from tests.judge.judge import KINDS, judge
from tests.judge.plain import Plain
from tests.judge.prices import PRICES
from tests.judge.reasons import REASONS, fails_because
from tests.judge.ways import WAYS, works_by
from tests.judge.worth import Position

# 1.d4 d5 2.Nf3 e6 3.Bg5: the queen is attacked by a bishop.
PIN = "rnbqkbnr/ppp2ppp/4p3/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R b KQkq - 1 3"
CENTRE = "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - 0 2"  # 1.e4 d5
KEPT = "3r2k1/5ppp/8/8/8/b7/5PPP/R5K1 b - - 0 1"  # Rxa3 is mated on d1
FORK = "8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1"  # Ke2 attacks bishop and rook
CHECK = "4k3/8/8/8/8/8/5PPP/r5K1 w - - 0 1"  # mate on the back rank
CHECKED = "4k3/8/8/8/8/8/5PP1/r5K1 w - - 0 1"  # Kh2 alone gets out
QUEENS = "5k2/P7/8/8/8/8/6K1/8 b - - 0 1"  # a8=Q cannot be stopped
ALONE = "8/1p6/1K4k1/RPP5/8/pr6/8/8 b - - 5 53"  # only Rc3 stops the pawns
SQUEEZE = "8/8/8/3Kp3/4Pk2/8/8/8 w - - 0 1"  # White would rather pass
RETAKEN = "3q4/5pk1/3r1n1p/1Q4p1/2p5/8/1P3PPP/3RR1K1 w - - 0 33"  # Rxd1, and Rxd1 Qxd1#
TAKEN = "3q1b1k/p4R2/2p3QP/2Pp2n1/3P4/1P4P1/P5K1/8 w - - 7 44"  # Rg7, and Bxg7 Qxg7#
STALEMATED = "8/1R6/8/4r3/5P2/8/2p2K2/2k5 b - - 0 69"  # Re1, and Kxe1 is stalemate
TRADED = "r1bqk2r/1pp1bppp/p1p5/4P3/3Qn3/5N2/PPP2PPP/RNB2RK1 b kq - 0 9"  # Qxd4 10.Nxd4, even
GUARDED = "6k1/5ppp/8/8/4n3/8/5PPP/4R1K1 b - - 0 1"  # f5, and Rxe4 fxe4
FOUR = "r1bqkb1r/pppp1ppp/2n2n2/1B2p3/4P3/3P1N2/PPP2PPP/RNBQK2R b KQkq - 0 4"  # d6, Bxc6, Nxe5
TRADE = ("d7d6", "b5c6", "b7c6")
CHECKS = "5b1k/p1p5/3n1RQP/3p4/3P4/1PP1q1P1/P5K1/8 b - - 2 37"  # Qe2+, Kh3, and then Qe7
BOTH = "r1b1k1nr/pppp1ppp/8/P3q3/1bB1P3/8/5PPP/RNBQ1RK1 w kq - 0 13"  # Qa4, and Qxe4
STAKED = "Qn4r1/p3qk1p/2p1b1pb/8/8/2N1pP2/PPP3PP/3RKB1R w - - 0 1"  # Qc7, and a2 is lost
VAIN = "r1bqr3/ppp2k1p/6p1/n2p4/3pP3/3Q1P2/PPP3PP/RNB1K2R b KQ - 2 13"  # Qe7 14.Qxd4 dxe4 15.Qd5+
LATER = "1k1Q4/2r5/8/6p1/pp6/P1P5/KP6/8 b - - 0 50"  # Kb7 axb4, and no move keeps the rest
REST = "r6k/8/6Pp/8/4R3/2qB4/p1P2RPP/6K1 w - - 1 34"  # Ra4 Rxa4, and Rf8+ keeps the rest
PASSED_BY = "r3k1nr/p1pb1ppp/2pp1q2/2b5/B3P3/2N5/PPP2PPP/R1BQK2R w KQkq - 2 9"  # Ke2, and Qf2#
LEAST = "8/8/1pk5/p4R2/PrP5/8/6K1/8 w - - 1 66"  # Rf6+ or c5, and c4 is lost
FORKED = "5k2/pp3p2/5R2/2b5/6n1/2P5/P5BP/7K w - - 1 32"  # Rf5, and Nf2+ that refutes Rf1
BACK = "r5k1/8/2n5/8/B7/8/8/4K3 w - - 0 1"  # Bxc6 wins a knight

Case = tuple[type, str, dict[str, Any], dict[str, Any]]
"""A kind of claim, a position, which of its claims (facts it has), and what is altered."""
C5 = kinds.UnitAt("pawn", "c5")
ALTERED: list[Case] = [
    (kinds.Reach, PIN, {}, {"fen": CENTRE}),
    (kinds.Reach, PIN, {}, {"side": "white"}),
    (kinds.Reach, PIN, {}, {"reach": 4}),
    (kinds.Mated, CHECK, {}, {"king": "h1"}),
    (kinds.InCheck, CHECKED, {}, {"checkers": ("a2",)}),
    (kinds.InCheck, CHECKED, {}, {"king": "f1"}),
    (kinds.InDanger, PIN, {}, {"by_reach": (500,)}),
    (kinds.NothingUnsafe, SQUEEZE, {}, {"by_reach": (100,)}),
    (kinds.Unsafe, PIN, {}, {"loses": 700}),
    (kinds.Unsafe, PIN, {}, {"loses": "mate"}),
    (kinds.Unsafe, PIN, {}, {"line": ("0000", "f3e5")}),
    (kinds.Unsafe, PIN, {}, {"line": ("0000",)}),
    (kinds.Unsafe, PIN, {}, {"unit": kinds.UnitAt("rook", "d8")}),
    (kinds.Unsafe, PIN, {}, {"unit": C5}),
    (kinds.Unsafe, PIN, {}, {"together": ("h8",)}),
    (kinds.Unsafe, PIN, {}, {"after": True}),
    (kinds.Unsafe, FORK, {}, {"together": ()}),
    (kinds.Taking, BACK, {}, {"loses": 500}),
    (kinds.Taking, BACK, {}, {"line": ("a4b5",)}),
    (kinds.Retaken, RETAKEN, {}, {"loses": 500}),
    (kinds.Retaken, RETAKEN, {}, {"line": ("0000", "d6d1", "e1d1", "g7h7")}),
    (kinds.Retaken, RETAKEN, {}, {"line": ("0000", "d6d1", "b5b6")}),
    (kinds.SafeByTactics, KEPT, {}, {"line": ("0000", "a1a3")}),
    (kinds.SafeByTactics, KEPT, {}, {"unit": kinds.UnitAt("pawn", "f7")}),
    (kinds.Cause, PIN, {}, {"mechanism": "unguarded"}),
    (kinds.Cause, PIN, {"mechanism": "less valuable attacker"}, {"squares": ("g5", "e8")}),
    (kinds.Count, PIN, {}, {"attackers": ("g4",)}),
    (kinds.Count, PIN, {}, {"guards": ("e8", "f8")}),
    (kinds.Count, PIN, {}, {"behind": ("c1",)}),
    (kinds.Promotes, QUEENS, {}, {"square": "b8"}),
    (kinds.Promotes, QUEENS, {}, {"line": ("0000", "g2g3")}),
    (kinds.Loose, PIN, {}, {"units": (C5,)}),
    (kinds.Holds, CENTRE, {"move": "b1c3"}, {"net": 100}),
    (kinds.Holds, CENTRE, {"move": "b1c3"}, {"move": "d1g4"}),
    (kinds.Holds, CENTRE, {"move": "b1c3"}, {"ways": ("block",)}),
    (kinds.Holds, CENTRE, {"move": "e4e5"}, {"ways": ("other",)}),
    (kinds.Holds, CENTRE, {"move": "b1c3"}, {"ways": ("guard", "other")}),
    (kinds.Holds, CENTRE, {"move": "b1c3"}, {"line": ("d2d3", "d5e4", "d3e4")}),
    (kinds.Holds, PIN, {"move": "f8e7"}, {"blocks": ("g5", "c1")}),
    (kinds.Holds, PIN, {"move": "f8e7"}, {"answer": ("f8e7", "g5e7")}),
    (kinds.Holds, PIN, {"move": "f8e7"}, {"answer": ("f8e7", "f3g1", "d8d7")}),
    (kinds.Holds, PIN, {"move": "f8e7"}, {"likely": ("d8d7", "a2a3")}),
    (kinds.Holds, PIN, {"move": "f8e7"}, {"aims": (kinds.Aim("guard", ("f7",)),)}),
    (kinds.Holds, PIN, {"move": "f8e7"}, {"aims": (kinds.Aim("guard", ("d8",), "e8"),)}),
    (kinds.Holds, PIN, {"move": "f8e7"}, {"aims": (kinds.Aim("capture", ("g5",)),)}),
    (kinds.Holds, PIN, {"move": "f8e7"}, {"aims": (kinds.Aim("counterattack", ("g5",)),)}),
    (kinds.Holds, PIN, {"move": "d8d6"}, {"guarded_by": ("c7",)}),
    (kinds.AllHolding, PIN, {}, {"legal": 29}),
    (kinds.AllHolding, PIN, {}, {"moves": ("f8e7",)}),
    (kinds.OnlyMove, ALONE, {}, {"move": "b3b1"}),
    (kinds.LeastLost, QUEENS, {}, {"loses": 500}),
    (kinds.LeastLost, QUEENS, {}, {"moves": ("f8e8",)}),
    (kinds.MoreIsLost, LATER, {"move": "b8b7"}, {"move": "c7c8"}),
    (kinds.MoreIsLost, LATER, {"move": "b8b7"}, {"line": ("b8b7", "d8d5")}),
    (kinds.KeepsTheRest, REST, {"move": "e4a4"}, {"line": ("e4a4", "a8a4", "g1f1")}),
    (kinds.KeepsTheRest, REST, {"move": "e4a4"}, {"plies": 1}),
    (kinds.Falls, CENTRE, {"move": "d1g4"}, {"loses": 100}),
    (kinds.Falls, CENTRE, {"move": "d1g4"}, {"line": ("d1g4",)}),
    (kinds.Falls, CENTRE, {"move": "d1g4"}, {"move": "b1c3"}),
    (kinds.Falls, CENTRE, {"move": "d1g4"}, {"tries": "capture"}),
    (kinds.Falls, CENTRE, {"move": "d1g4"}, {"reason": "guard pinned"}),
    (kinds.Falls, CENTRE, {"move": "d1g4"}, {"drops": ("h1",)}),
    (kinds.Falls, CENTRE, {"move": "d1g4"}, {"saves": ("h1",)}),
    (kinds.Falls, CENTRE, {"move": "d1g4"}, {"reason": "a pawn promotes", "squares": ("g2", "g8")}),
    (kinds.Better, PIN, {}, {"moves": ("d8d7",), "ranks": (1,)}),
    (kinds.IfCarriedOut, GUARDED, {"move": "f7f5"}, {"line": ("f7f5", "e1e4", "g8f7")}),
    (kinds.IfCarriedOut, GUARDED, {"move": "f7f5"}, {"line": ("f7f5", "e1d1", "e4f2")}),
    (kinds.IfCarriedOut, GUARDED, {"move": "f7f5"}, {"move": "g7g6"}),
    (kinds.IfCarriedOut, FOUR, {"move": "d7d6"}, {"plies": 2}),
    (kinds.IfCarriedOut, FOUR, {"move": "d7d6"}, {"line": (*TRADE, "a2a3", "c6c5")}),
    (kinds.IfCarriedOut, FOUR, {"move": "d7d6"}, {"line": (*TRADE, "f3e5", "c6c5")}),
    (kinds.IfOtherTaken, BOTH, {"move": "d1a4"}, {"line": ("d1a4", "e5e4", "g1h1")}),
    (kinds.IfOtherTaken, BOTH, {"move": "d1a4"}, {"line": ("d1a4", "e8d8", "a4b4")}),
    (kinds.IfOtherTaken, BOTH, {"move": "d1a4"}, {"line": ("d1a4", "e5e4")}),
    (kinds.IfReplied, FORKED, {"move": "f6f5"}, {"line": ("f6f5", "g4e3", "h1g1")}),
    (kinds.IfReplied, FORKED, {"move": "f6f5"}, {"line": ("f6f5", "g4f2")}),
    (kinds.IfReplied, FORKED, {"move": "f6f5"}, {"move": "f6f3"}),
    (kinds.MatesInstead, PASSED_BY, {"move": "e1e2"}, {"move": "e1d2"}),
    (kinds.MatesInstead, PASSED_BY, {"move": "e1e2"}, {"line": ("e1e2", "f6f2", "e2d3", "f2g2")}),
    (kinds.MatesInstead, PASSED_BY, {"move": "e1e2"}, {"line": ("e1e2", "f6f2")}),
    (kinds.LeastLost, LEAST, {}, {"others": (("f5c5",),)}),
    (kinds.IfTaken, STALEMATED, {"move": "e5e1"}, {"move": "e5e2"}),
    (kinds.IfTaken, TAKEN, {}, {"line": ("f7g7", "f8g7", "a2a3")}),
    (kinds.IfTaken, TAKEN, {}, {"line": ("f7g7", "f8c5", "g7h7", "g5h7", "g6g7")}),
    (kinds.TakesInVain, VAIN, {"move": "d8e7"}, {"plies": 1}),
    (kinds.TakesInVain, VAIN, {"move": "d8e7"}, {"move": "f7g8"}),
    (kinds.TakesInVain, VAIN, {"move": "d8e7"}, {"line": ("d8e7", "d3d4", "d5e4", "d4e4")}),
    (kinds.TakesInVain, VAIN, {"move": "d8e7"}, {"line": ("d8e7", "d3d4", "e7b4", "d4b4")}),
    (kinds.TakesInVain, VAIN, {"move": "d8e7"}, {"line": ("d8e7", "d3d4", "d5e4")}),
    (kinds.AtAPrice, PIN, {}, {"moves": ()}),
    (kinds.Price, PIN, {}, {"name": "gives up the bishop pair", "kind": "cost"}),
    (kinds.FallsDeeper, ALONE, {"move": "b3c3"}, {"loses": 200}),
    (kinds.FallsDeeper, ALONE, {"move": "b3c3"}, {"reach": 3}),
    (kinds.FallsDeeper, ALONE, {"move": "b3c3"}, {"line": ("b3c3", "a5a7")}),
    (kinds.FallsDeeper, ALONE, {"move": "b3c3"}, {"move": "b3b4"}),
    (kinds.TakingMove, BACK, {}, {"net": 500}),
]  # fmt: skip
MADE: list[tuple[str, kinds.Claim]] = [
    (PIN, kinds.Stalemated()),
    (PIN, kinds.Mated("e8")),
    (PIN, kinds.Owed(300)),
    (PIN, kinds.NothingUnsafe((600,))),
    (BACK, kinds.InDanger((0,))),
    (PIN, kinds.WonBack(kinds.UnitAt("queen", "d8"), 1, ("0000", "g5d8", "e8d8"))),
    (CHECKS, kinds.IfCheckMet("e3e2", ("e3e2", "g2h3", "a7a6"))),
    (CHECKS, kinds.IfCheckMet("e3e7", ("e3e7", "f6f8", "e7f8"))),
    (STAKED, kinds.AtStake(("0000", "e7c7"), ("h1",), 2)),
    (STAKED, kinds.AtStake(("0000", "e7c7"), ("a8", "a2"), 2)),
    (STAKED, kinds.AtStake(("0000", "e6a2"), ("a8",), 2)),
    (STAKED, kinds.AtStake(("0000", "e7d7"), ("a8",), 2)),
    (PIN, kinds.NoUnit(None)),
    (PIN, kinds.NoUnit(("f8e7",))),
    (PIN, kinds.Zugzwang()),
    (SQUEEZE, kinds.PerhapsATrade()),
    (SQUEEZE, kinds.ValuesMatter(("classical", "kaufman"))),
    (PIN, kinds.OnlyMove("f8e7")),
    (PIN, kinds.LeastLost(("d8g5",), 600, ("d8g5", "f3g5"), 1)),
    (PIN, kinds.BestMove("d8d7")),
    (REST, kinds.MoreIsLost("e4a4", ("e4a4", "a8a4"))),
    (TRADED, kinds.IfTaken("d8d4", ("d8d4", "f3d4"))),
    (CENTRE, kinds.CheckedDeeper(3)),
    (CENTRE, kinds.NotFirm(2, ("b1c3",), ())),
]
"""Claims that no survey makes of these positions."""


def position(fen: str, plain: Plain) -> Position:
    reach = {
        FORK: 2,
        KEPT: 2,
        VAIN: 2,
        BOTH: 2,
        CHECKS: 2,
        STALEMATED: 2,
        TAKEN: 3,
        FORKED: 3,
        PASSED_BY: 3,
        LEAST: 3,
    }.get(fen, 1)
    found = Position(core.survey(fen, reach=reach, firm=True, rank_nodes=200), plain, 0)
    found.base = found.bare(not found.own)
    return found


@pytest.mark.parametrize("case", ALTERED, ids=lambda case: f"{case[0].__name__} {case[3]}")
def test_an_altered_claim_is_called_false(case: Case, plain: Plain) -> None:
    kind, fen, which, facts = case
    one = position(fen, plain)
    told: Any = next(
        claim
        for claim in claims(one.survey)
        if isinstance(claim, kind)
        and all(getattr(claim, name) == value for name, value in which.items())
    )
    assert not judge(told, one)
    assert judge(replace(told, **facts), one)


@pytest.mark.parametrize("case", MADE, ids=lambda case: str(case[1]))
def test_a_made_claim_is_called_false(case: tuple[str, kinds.Claim], plain: Plain) -> None:
    fen, told = case
    assert judge(told, position(fen, plain))


def test_a_false_claim_of_every_kind_is_planted() -> None:
    assert {case[0] for case in ALTERED} | {type(told) for _, told in MADE} == set(KINDS)


@pytest.mark.parametrize("name", MECHANISMS)
def test_a_wrong_mechanism_is_called_false(name: str) -> None:
    # A pawn that nothing guards, taken by a pawn; a queen with a guard, taken by a bishop.
    pawn, queen = ["0000", "d5e4"], ["0000", "g5d8", "e8d8"]
    if name in ("unguarded", "discovered attack"):
        assert falls_because(PIN, queen, "d8", name)
    else:
        assert falls_because(CENTRE, pawn, "e4", name)


@pytest.mark.parametrize(
    ("way", "uci"),
    [
        ("capture", "b1c3"),
        ("move", "b1c3"),
        ("block", "e4d5"),
        ("guard", "e4e5"),
        ("counterattack", "d2d3"),
    ],
)
def test_a_wrong_way_is_called_false(way: str, uci: str, plain: Plain) -> None:
    assert way in WAYS
    assert works_by(position(CENTRE, plain), uci, way)


@pytest.mark.parametrize("reason", REASONS)
def test_a_wrong_reason_is_called_false(reason: str, plain: Plain) -> None:
    # 2.Bd3 guards the pawn and holds: with no refutation, no reason can be right.
    assert fails_because(position(CENTRE, plain), ["f1d3"], reason)


@pytest.mark.parametrize(("kind", "name"), PRICES)
def test_a_wrong_price_is_called_false(kind: Any, name: str, plain: Plain) -> None:
    # Of 1.e4 d5: a move by which nothing of the kind happens.
    uci = "f2f3" if name in ("makes room", "develops", "gains time on a piece") else "b1c3"
    assert judge(kinds.Price(uci, kind, name, None, ()), position(CENTRE, plain))

"""Two units of which one is taken at once and the other after taking back, and what was unclear.

The positions are of the historic games (tests/data/historic-positions.fen); readers who did not
know the program found the sentences that these replace wrong or unclear.
"""

from __future__ import annotations

import pytest

from fastness import core
from fastness.survey import for_student, page

IN_TURN = "r1b3kr/ppB3p1/1np2np1/3p1P2/3P4/1BN3p1/PPP3PP/4RRK1 w - - 0 18"
BEHIND = "r3r1k1/2bn2pp/2p5/1p1q1p2/3PpP2/P3P1P1/1BQN3P/R1R3K1 b - - 3 23"
THROUGH = "r1b5/ppp1qk1p/6p1/nQ6/3p4/4r1P1/PPPN1K1P/R1B4R b - - 5 18"
LEAVES = "r2q1rk1/p1p1bppp/2bp1n2/2p5/4PP2/2N4P/PPP1N1P1/R1BQ1RK1 w - - 1 12"
UNCOVERS = "8/p1Rn1rkp/2p2rp1/3p4/8/1P6/P1PNR1KP/8 b - - 5 26"
TRADED = "2r2bqk/1pN4p/p1bp2r1/4pN2/4P2R/7P/PPP1QRP1/6K1 w - - 1 26"
RANKED = 5_000


def read(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize(
    ("fen", "told", "never"),
    [
        (
            IN_TURN,
            "are unsafe together: Black takes the pawn on h2, and after 19.Bxh2 the pawn on f5.",
            "can be saved",
        ),
        (BEHIND, "behind the queen on c2 stands the rook on c1.", "behind it"),
        (BEHIND, "to move away 23...c5 24.dxc5", "Every other move (40)"),
        (
            THROUGH,
            "Re5 guards the knight on a5 through the queen on b5 and attacks the queen on b5",
            "a square that the threat needs",
        ),
        (
            TRADED,
            "26.Nd5 Bxd5 27.exd5 Qxd5 This costs the knight on c7 and the pawn on e4 for the bishop"
            " on c6.",
            "put in between",
        ),
        (BEHIND, "if 24.Qxc6, then 24...Rxc6 25.Rxc6 Qxc6", "likely then: 23...Ra6"),
        (LEAVES, "Qd3 guards the pawn on e4 if 12...Bxe4, then 13.Nxe4", "if 12...Be4"),
        (
            UNCOVERS,
            "Nc5 lets the rook on f7 guard the pawn on a7 if 27.Rxa7, then 27...Rxa7",
            "a square that the threat needs",
        ),
        (TRADED, "The least is lost by Nd5 and Nxa6, looking 3 moves ahead: a pawn's", "Nxa6: a"),
    ],
)
def test_the_page_says(fen: str, told: str, never: str) -> None:
    said = read(page(core.survey(fen, rank_nodes=RANKED)))
    assert told in said
    assert never not in said


@pytest.mark.parametrize(
    ("fen", "told"),
    [
        (
            IN_TURN,
            "If you wait, Black takes your pawn on h2. If you take back with Bxh2, Black takes your"
            " pawn on f5.",
        ),
        (BEHIND, "The rook on c1 behind the queen on c2 counts too."),
        (THROUGH, "Re5 loses nothing: then you can take back on a5."),
    ],
)
def test_a_student_is_told(fen: str, told: str) -> None:
    assert told in read(for_student(core.survey(fen, rank_nodes=RANKED)))

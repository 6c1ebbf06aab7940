"""By what a move is ready for a threat, and what it has ready for the replies a reader fears.

The positions are those of historic games on which readers who play chess were stuck.
"""

import pytest

from fastness import core
from fastness.survey import for_student, page
from tests.survey.claims import flat

RANKED = core.RANK_NODES
LEAVES = "r2qk2r/p2p1ppp/bp2p3/3nP3/2PP4/3QB2N/P4PPP/R4RK1 w kq - 1 14"
NO_CHECK = "8/1pp5/1p6/6k1/P2rp1Pn/1P2R2P/1P5K/8 w - - 1 38"
OPENS = "5rk1/qpp2pp1/6p1/r2PRn2/3P4/bB3QP1/1B3P1P/R5K1 w - - 0 22"
ATTACKS = "r1bq1rk1/1p1pnppp/pbnN4/4p3/2B1P3/1N4B1/PPP2PPP/R2QK2R b KQ - 1 11"
GOES_ON = "5n2/p1p1qpk1/1p5r/1P1pPQp1/2nP3p/2P2R1P/P5P1/1B1R2K1 b - - 4 29"
EN_PASSANT = "r1b2r2/1ppp1pk1/p4q2/4n3/4PPpp/1BP1R3/P1QN2PP/5RK1 b - f3 0 19"
FORKED = "5k2/pp3p2/5R2/2b5/6n1/2P5/P5BP/7K w - - 1 32"
PASSED_BY = "r3k1nr/p1pb1ppp/2pp1q2/2b5/B3P3/2N5/PPP2PPP/R1BQK2R w KQkq - 2 9"
LEAST = "5rk1/2p3pp/p1pb4/3b1p1q/4N3/2PQ3P/PP1B1PK1/R3R3 w - - 0 23"
SAVED = "r4rk1/1p3p2/1p1p3p/pP2p1p1/P3P3/2PP1n1q/3BQPRn/3B2RK w - - 0 22"
BACK_RANK = "4rk2/ppp3pp/5n2/2N5/3p4/1B3P2/PPPp2qP/1K1R1R2 b - - 0 23"
BATTERY = "r2qk1nr/pppb1ppp/1b6/3PN3/2Q5/8/P4PPP/RNB2RK1 b kq - 0 13"
PROMOTES = "8/1R6/8/8/4rP2/5K2/2p5/2k5 b - - 2 70"
STOPS = "rn1qkbnr/ppp2p1p/8/3B4/3PPpb1/5p2/PPP3PP/RNBQ1RK1 w kq - 1 8"
TAKEN_AGAIN = "8/ppK5/2p5/2P3N1/PP4pp/3b4/7k/8 b - - 1 49"
PUSHED = "7r/1Pk5/3pBR2/4pP2/3bP3/p7/2r3PP/5R1K w - - 3 43"


def told(fen: str, *, firm: bool = False) -> str:
    return flat(page(core.survey(fen, rank_nodes=RANKED, firm=firm)).split("\n"))


@pytest.mark.parametrize(
    ("fen", "says"),
    [
        (LEAVES, "Bd2 leaves e3, so that 16...Nxe3 takes nothing"),
        (NO_CHECK, "Kg1 takes the check out of 38...Rd2+"),
        (OPENS, "d6 lets the bishop on b3 attack the pawn on f7"),
        (ATTACKS, "Bc7 attacks the knight on d6 if 12.Qh5, then 12...Bxd6"),
        (GOES_ON, "Ne6 is ready to guard the pawn on f7 from d8"),
        (GOES_ON, "Ng6 is ready to step in between on f4"),
        (EN_PASSANT, "gxf3 takes the pawn on f4 en passant"),
        (STOPS, "Rf2 makes 8...f2+ impossible; wins a pawn's worth"),
        (PROMOTES, "Kd1 threatens to promote on c1; a pawn's worth less than Rc4"),
        (FORKED, "Rf5 moves away; gains time on the bishop on c5 if 32...Nf2+, then 33.Kg1"),
        (LEAVES, "Later in the line, the bishop on a6 pins the pawn on c4 to the rook on f1."),
    ],
)
def test_the_page_says_by_what_a_move_is_ready(fen: str, says: str) -> None:
    assert says in told(fen)


@pytest.mark.parametrize(
    ("fen", "says", "never"),
    [
        (LEAVES, "it leaves e3, so that Nxe3 takes nothing. If Rc8, you have Rac1.", "Qxg7"),
        (GOES_ON, "Ne6 loses nothing: it can go on to d8 and guard your pawn on f7.", "ready for"),
        (EN_PASSANT, "it takes the pawn on f4 en passant.", "it takes the pawn on f4."),
        (BACK_RANK, "play Qxf1. If Rxf1, then Re1+ leads to mate.", "You can take"),
    ],
)
def test_the_student_is_told_by_what_a_move_is_ready(fen: str, says: str, never: str) -> None:
    text = " ".join(for_student(core.survey(fen, rank_nodes=RANKED)).split())
    assert says in text
    assert never not in text


def test_a_quiet_threat_that_makes_ready_to_uncover_a_check_is_told_as_that() -> None:
    says = "After 14.Re1 the knight on e5 can uncover a check by the rook on e1. After 14.Re1"
    assert says in told(BATTERY)


def test_a_line_shows_all_that_is_won_where_no_unit_falls_in_one() -> None:
    says = "The same is won after a move that does nothing about it: 23.Rab1 fxe4 24.Qe3 Bf4"
    assert says in told(LEAST)


def test_a_mate_that_a_line_of_captures_passes_by_is_told() -> None:
    text = told(PASSED_BY)
    assert "12.Ke1 Bxd1" in text
    assert "or even 12...Qf2#" in text


def test_a_pawn_that_steps_on_to_the_last_rank_becomes_a_queen() -> None:
    text = told(PUSHED)
    assert "43.b8=Q+ Kxb8" in text
    assert "b8=N" not in text


def test_the_other_moves_that_lose_least_are_shown_with_their_lines() -> None:
    assert "or 23.Kg1 Bxe4 or 23.Qf1 Bxe4+" in told(LEAST, firm=True)


def test_the_student_is_told_what_the_least_loss_saves() -> None:
    text = " ".join(for_student(core.survey(SAVED, firm=True)).split())
    assert "You lose least with Rg3. That saves your king on h1." in text


def test_the_student_is_told_what_is_taken_again_after_a_try_that_fails() -> None:
    survey = core.survey(TAKEN_AGAIN, rank_nodes=RANKED, firm=True)
    assert "White answers cxb6, and after axb6 Kxb6." in " ".join(for_student(survey).split())

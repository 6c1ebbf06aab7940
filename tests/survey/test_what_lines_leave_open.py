"""What a reader asks where a line ends: what it leaves hanging, and what becomes of the rest.

The positions are those of historic games on which readers who play chess were stuck.
"""

import pytest

from fastness import core
from fastness.survey import for_student, page
from tests.survey.claims import flat

RANKED = 5_000
VAIN = "r1bqr3/ppp2k1p/6p1/n2p4/3pP3/3Q1P2/PPP3PP/RNB1K2R b KQ - 2 13"
HANGING = "r6r/pp1Q2pp/1bn1B1kn/4P1q1/8/B1P5/P4PPP/RN3RK1 w - - 1 19"
LATER = "7r/1k6/3p1R2/4pP2/3bP3/8/Bp4PP/7K w - - 0 47"
PINNED_KNIGHT = "rnbqk2r/pppp2pp/4pn2/5pB1/1bPP4/1QN5/PP2PPPP/R3KBNR b KQkq - 5 5"
ENDING = "8/8/1pk5/p4R2/PrP5/8/6K1/8 w - - 1 66"
STORM = "r1bqkr2/pp2npQp/3p4/8/2B3n1/B1P2N2/P2N2PP/4RK2 b q - 0 16"
BACK_RANK = "r1br3k/1p3RpB/8/p5N1/8/2n5/P1P2PPP/1R4K1 w - - 1 23"
GIVEN_UP = "r2qk1nr/pppb1ppp/1b6/3PN3/2Q5/8/P4PPP/RNB2RK1 b kq - 0 13"
READY = "r2qr3/p4p1k/1p1p1pbp/n1pP4/4PPPN/2QB3P/PP6/4RRK1 b - - 0 22"
BETWEEN = "rn1k3r/ppp2ppp/3bbn2/4N3/8/2N5/PPP2PPP/R1B1KB1R w KQ - 3 9"
STILL_GUARDS = "r4nk1/ppq5/2p2p2/3p1BrQ/3P3P/2N1P3/PPP5/R5RK b - - 0 26"
MORE = "rn1k2r1/pp3p1p/2pb4/3P4/4NpbP/8/PPPB2P1/2KR1B1R b - - 0 15"
TRADED_ROOKS = "1r6/5pk1/B3b1pp/1R1pP3/p2P4/4K3/1P4PP/8 b - - 2 32"
STEPS_IN = "3r3k/p1pn1p2/1p1qp3/7P/2PP2r1/2PBBR2/P1Q5/4RK2 b - - 1 27"
QUEEN_BEHIND = "r1b1k2r/ppp1qpp1/1bnp1n1p/4p3/2BPP3/2P2N1P/PP3PP1/RNBQR1K1 w kq - 0 9"
QUEEN_BEARS = "r2qk2r/pb1p1ppp/1p2pn2/8/3PP3/2PQB2N/P4PPP/R4RK1 w kq - 1 12"
LESS_TAKES = "r4rk1/pppnqpp1/2n1b2p/1P1pP3/3P4/2PB4/P5PP/RNBQR1K1 b - - 0 13"
TAKES_BACK = "r1bqr1k1/ppp2pp1/1bPp1n1p/4P3/2B5/2N2N1P/PP3PP1/R2Q1RK1 b - - 0 13"
TRADES = "7k/4q3/4P1Q1/2p3P1/3b4/6P1/1p2RPK1/1B1r4 w - - 5 50"
DRIVEN = "r1bqk2r/pppp1ppp/2n2n2/8/1bBPP3/5N2/P4PPP/RNBQ1RK1 w kq - 1 9"
PINNED_PAWN = "r1bq1rk1/1p1pnppp/pbnN4/4p3/2B1P3/1N4B1/PPP2PPP/R2QK2R b KQ - 1 11"
HITS_QUEEN = "r1b1n2k/1p1p1r2/p1nBpPpq/7p/4Q3/5NPB/PPP2P1P/R5RK w - - 1 25"
DRAWN_OFF = "r6r/1kpq3p/p1np1p2/Pp1Q4/4P3/R7/1P3PPP/1NR3K1 b - - 2 22"
RETREAT = "r4bqk/1pp4p/p1bp2r1/1N2pN2/4P2R/7P/PPP1QRP1/6K1 w - - 0 25"
TRADED_QUEENS = "r1bqk2r/1pp1bppp/p1p5/4P3/3Qn3/5N2/PPP2PPP/RNB2RK1 b kq - 0 9"
CHECKS = "r1bqr3/ppp3pp/8/3B4/1k6/2pQ4/P1P2PPP/4R1K1 w - - 0 19"
PROMOTES = "3r2k1/p1R2p1r/1pQ2P2/7p/1P4pP/2N1KpP1/P1q5/R7 w - - 2 29"
OPENS = "5rk1/2pP1pp1/1p4p1/b2B1n2/3P4/6P1/1B3P1P/2R3K1 b - - 0 27"
SKEWERED = "6rk/p5np/8/3q2B1/BP6/3p1r1P/P2Q1PR1/7K b - - 0 44"
FORKED = "2r3k1/1p3pp1/p7/5P1p/P1BrR3/6P1/1bP2P1P/1R4K1 w - - 1 26"
DRIVEN_OFF = "r2n1k2/ppp1b1rp/8/q2B3Q/1P2pP2/2P1B3/P1P3PP/5RK1 b - - 0 23"
UNCOVERED = "3r2k1/p5pp/1p1N1p2/4p3/3B4/8/PP3PPP/3R2K1 w - - 0 1"
UNCOVERS = "3r2k1/p5pp/1p1N1p2/4p3/3B3b/8/PP3PPP/3R3K w - - 0 1"
DEFLECTS = "r2qk2r/p1pb1ppp/2p5/2bpP3/4n3/3B4/PPP2PPP/RNBQK2R w KQkq - 2 10"
BACK_RANK_HOLDS = "5r1k/2p3pp/p1Pr3q/1p2pp2/8/Q3R2P/P4PP1/3R2K1 w - - 0 27"
STALEMATE = "7k/6R1/8/8/8/8/5q2/7K w - - 0 1"
SEVENTH = "r1br4/ppp3kp/2p2p2/7Q/3P4/8/P4PPP/bN2R1K1 b - - 1 20"
TAKES_FIRST = "3q1rk1/5p2/4P1r1/p2p2p1/1b1P1p2/3Q1NP1/6b1/2B2RK1 w - - 0 26"


def told(fen: str, *, firm: bool = False) -> str:
    return flat(page(core.survey(fen, rank_nodes=RANKED, firm=firm)).split("\n"))


@pytest.mark.parametrize(
    ("fen", "says", "never"),
    [
        (VAIN, "13...Qe7 14.Qxd4 (loses a pawn's worth: it attacks", "what seems"),
        (VAIN, "if 14...dxe4, then 15.Qd5+ Be6 16.Qxa5", "what seems"),
        (HANGING, "if 22.Bxg5, then 22...Nfxe5+ 23.Ke1 Nxd7", "if 19...Qxe5, then 20.Bxe5"),
        (LATER, "But looking 3 moves ahead, 47.Rxd6 loses a pawn's worth.", "47.Bc4 b1=Q+"),
        (
            PINNED_KNIGHT,
            "also: Ng8 (6.Bxd8), Nh5 (6.Bxd8)",
            "a5 guards the bishop on b4; breaks up",
        ),
        (GIVEN_UP, "in the line it is given up for the pawn on f2", "the line shows how it is won"),
        (READY, "Kg7 is ready for the threat if 23.f5, then 23...Bh7", "guards h7 against"),
        (BETWEEN, "f4 guards the knight on e5", "stands between the bishop on d6"),
        (BACK_RANK, "Ra1 moves away if 23...Nxa2, then 24.Re7", "guards the pawn on a2"),
        (STILL_GUARDS, "29.Rxg7+ Kxg7 (loses 4 pawns' worth: the queen on c7", "guards g8"),
        (
            TRADED_ROOKS,
            "34.bxa3 (loses a pawn's worth: the pawn on a4 is taken",
            "takes the rook on b5",
        ),
        (STEPS_IN, "if 28.dxe5, then 28...Qxd3+ 29.Qxd3 Rxd3", "if 28.dxe5, then 28...Nx"),
        (QUEEN_BEHIND, "10.cxd4 Nxe4. If 11.Rxe4, then 11...Qxe4", "11.Rxe4 Nx"),
        (QUEEN_BEARS, "12...Qc8 puts the queen on d3 in danger too", "the knight on g5"),
        (LESS_TAKES, "15.Bxf8 Qxf8 This costs the rook on f8 for the bishop on c1.", "in the way"),
        (TAKES_BACK, "if 14...fxe6, then 15.cxb7 Rb8 16.exf6 Qxf6", "if 14...Rxe6"),
        (TRADES, "the trades on h7 lose more than they win", "takes the queen on h7"),
        (DRIVEN, "Qb3 wins it back", "lets the knight on c6 drive the queen off"),
        (DRAWN_OFF, "if 24...Qxc6, then 25.Rxb4+ Ka7 26.Qxc6", "24...Qxb4"),
        (SEVENTH, "The king on g7 is not safe: Black can be mated", "White mates by force"),
        (
            DEFLECTS,
            "10...Nxf2 forks the queen on d1 and the rook on h1.",
            "The bishop on c1 is not safe",
        ),
        (
            DEFLECTS,
            "guards the queen on d1 and the pawn on f2",
            "the rook on h1 and the pawn on f2",
        ),
        (BACK_RANK_HOLDS, "if 27...Rxd2, then 28.Qxf8#", "to safety"),
        (RETREAT, "Nc3 moves away and guards the pawn on a2", "guards b5"),
        (
            UNCOVERS,
            "Be3 moves away, guards the pawn on f2 and lets the rook on d1 guard the knight on d6",
            "guards the knight on d6",
        ),
        (OPENS, "b5 lets the bishop on a5 guard the pawn on c7", "b5 guards"),
        (FORKED, "Bd3 moves away and guards the rook on e4 and the pawn on c2", "by nothing"),
        (CHECKS, "Qc4+ gives check, moves away and guards the bishop on d5", "Qc4+ moves away"),
    ],
)
def test_the_page_says(fen: str, says: str, never: str) -> None:
    text = told(fen)
    assert says in text
    assert never not in text


@pytest.mark.parametrize(
    ("fen", "on_the_page", "to_a_student"),
    [
        (
            RETREAT,
            "Nxc7 moves away and takes the pawn on c7 if 25...Rc8, then 26.Nd5 Bxd5",
            "Nxc7 loses nothing: it takes the pawn on c7.",
        ),
        (
            STALEMATE,
            "if 1...Kxg8, it is stalemate",
            "Rg8+ loses nothing: it gives check first. If Kxg8, it is stalemate.",
        ),
    ],
)
def test_what_comes_of_a_unit_that_moved_away(
    fen: str, on_the_page: str, to_a_student: str
) -> None:
    survey = core.survey(fen, rank_nodes=core.RANK_NODES)
    assert on_the_page in flat(page(survey).split("\n"))
    assert to_a_student in flat(for_student(survey).split("\n"))


def test_the_page_tells_what_becomes_of_the_rest() -> None:
    assert "After that no more is lost: 68.Rf5 Rxa4 69.Rxc5 or 66.c5 bxc5 Checked" in told(
        ENDING, firm=True
    )


def test_moves_that_lose_least_are_headed_so_unless_all_are_mated() -> None:
    assert "Moves that lose least None of the" in told(STORM)
    assert "Moves that lose least" not in told("k7/8/8/8/8/1r6/r7/6K1 w - - 0 1")


def test_an_even_trade_by_another_table_seems_no_loss() -> None:
    fen = "r2q2k1/ppp2ppp/2n2n2/8/3Q4/2N2N2/PPP2PPP/3R2K1 w - - 0 1"
    for values in core.values_names():
        survey = core.survey(fen, rank_nodes=RANKED, values=values)
        assert "if 1...Nxd8" not in flat(page(survey).split("\n"))


def test_the_page_tells_after_what_more_is_lost() -> None:
    text = told(STORM, firm=True)
    assert "The least is lost by Be6 and f5, looking 4 moves ahead: 2 pawns' worth." in text
    assert "Looking further on, more is lost after f5." in text
    assert "16...Bf5" in text
    assert "looking 4 moves ahead it loses" in text[text.index("16...Bf5") :]


@pytest.mark.parametrize(
    ("fen", "says", "never"),
    [
        (LATER, "Black can play Rc8, threaten mate and then win it.", "Black threatens Rc8."),
        (BACK_RANK, "Ra1 and Re1 lose nothing: they move to safety.", "guards your pawn on a2"),
        (READY, "they are ready for the threat. If f5, you have Bh7.", "adds a guard"),
        (
            MORE,
            "You can take the rook on d1 with Bxd1 and come out a pawn's worth ahead.",
            "win the",
        ),
        (MORE, "Your bishop on d6 is in danger, but this wins more.", "You can win"),
        (QUEEN_BEHIND, "Black threatens exd4, and after cxd4 Nxe4.", "before taking back"),
        (
            PINNED_PAWN,
            "Your pawn on f7 is in danger. White threatens Qf3 and then Bxf7+.",
            "It is pinned",
        ),
        (HITS_QUEEN, "Bf4 loses nothing: it attacks the queen on h6.", "it moves away"),
        (SEVENTH, "White threatens mate, starting with Re7+.", "and then"),
        (
            TAKES_FIRST,
            "You can win 4 pawns' worth with exf7+. If Kxf7, you have Ne5+.",
            "something",
        ),
        (PROMOTES, "Black gets a pawn to the last rank. Black threatens Qd2+.", "can play f1=Q"),
        (UNCOVERED, "then your rook on d1 guards your knight on d6", "they move away and guard"),
        (OPENS, "then your bishop on a5 guards your pawn on c7", "b5 loses nothing: it guards"),
        (OPENS, "c6 looks natural, but it fails. The rook on c1 takes your pawn on c6.", "dxc5. "),
        (
            SKEWERED,
            "White threatens Bb3. Then the bishop on b3 attacks your queen on d5, and your rook on"
            " g8 stands behind.",
            "skewer",
        ),
        (FORKED, "It saves your bishop on c4, but your rook on e4 is taken.", "bishop on e2"),
        (TRADED_QUEENS, "Qxd4 loses nothing: it takes the queen on d4.", "you have Ra7"),
        (CHECKS, "Qc4+ loses nothing: it gives check first.", "Qc4+ loses nothing: it moves away"),
    ],
)
def test_a_student_reads(fen: str, says: str, never: str) -> None:
    text = " ".join(for_student(core.survey(fen, rank_nodes=RANKED)).split())
    assert says in text
    assert never not in text


def test_a_student_hears_nothing_of_a_move_after_which_more_is_lost() -> None:
    text = " ".join(for_student(core.survey(STORM, rank_nodes=RANKED, firm=True)).split())
    assert "You lose least with Be6." in text
    text = " ".join(for_student(core.survey(DRIVEN_OFF, rank_nodes=RANKED, firm=True)).split())
    assert "You lose least with Qa6. White answers Bxe4. That costs you a pawn's worth." in text
    text = " ".join(for_student(core.survey(SEVENTH, rank_nodes=RANKED, firm=True)).split())
    assert "You lose least with Rd7. That saves your king on g7 and your pawn on c7." in text
    assert "That costs you 2 pawns' worth or more." in text

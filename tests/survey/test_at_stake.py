"""A quiet threat says what else it puts in danger, and a remedy what it does about it."""

from __future__ import annotations

import pytest

from fastness import core
from fastness.survey import for_student, page

TRAPPED_QUEEN = "Qn4r1/p3qk1p/2p1b1pb/8/8/2N1pP2/PPP3PP/3RKB1R w - - 0 1"
"""Found by a reader: the pawn on a2 is all that is lost, since the queen has to be saved."""
LASKER = "2r2rk1/p4ppp/1pbR1n2/2p5/4P3/1BP2N2/1P3PPP/4R1K1 b - - 0 1"
"""Lasker 1915, chapter II, diagram 6: two pieces for a rook and a pawn."""
RANKED = 5_000


def read(text: str) -> str:
    return " ".join(text.split())


def test_the_queen_is_told_where_a_pawn_is_lost_for_her() -> None:
    survey = core.survey(TRAPPED_QUEEN)
    told = read(page(survey))
    assert "After 1...Qc7 the queen on a8 and the rook on d1 are in danger as well." in told
    assert (
        "1...Qc7 puts the queen on a8 and the knight on c3 in danger too, and the rook on a1 is"
        " taken in the end"
    ) in told
    student = read(for_student(survey))
    assert "Black threatens Qc7. Then your queen on a8 and your rook on d1 are" in student


@pytest.mark.parametrize(
    ("fen", "move", "told"),
    [
        # The queen comes opposite the king, and the pawn between them may not take.
        (
            "rnbqkb1r/ppp2ppp/3p1n2/4P3/3Q4/5N2/PPP2PPP/RNB1KB1R b KQkq - 0 5",
            "Qe7",
            "pins the pawn on e5 to its king",
        ),
        (
            "r1bqkr2/pp1pn2p/2p3p1/3BQ3/3p4/8/PPPN1PPP/R3R1K1 w q - 0 16",
            "Nc4",
            "threatens mate",
        ),
        (
            "7r/p6r/1pb1kp1B/2p1n1P1/4P3/4K3/PPPRB3/3R4 b - - 2 37",
            "Rd7",
            "guards d6 against 38.Rd6+",
        ),
        (TRAPPED_QUEEN, "Rd4", "is ready for the threat"),
        (
            "rnbqkb1r/ppp2ppp/3p1n2/4P3/3Q4/5N2/PPP2PPP/RNB1KB1R b KQkq - 0 5",
            "Ng8",
            "but goes back to its own back rank",
        ),
    ],
)
def test_a_remedy_says_what_it_does(fen: str, move: str, told: str) -> None:
    rows = page(core.survey(fen, rank_nodes=RANKED)).split("\n")
    start = next(at for at, row in enumerate(rows) if row.strip().startswith(f"{move} "))
    assert told in read(" ".join(rows[start : start + 2]))


def test_a_mate_is_told_with_the_move_that_mates() -> None:
    survey = core.survey("3r3k/1pp2qpp/8/p5N1/Pn3nR1/5P2/1Q5P/R6K b - - 1 25")
    told = read(for_student(survey))
    assert told.startswith("Be careful: White threatens mate with Nxf7+ and then Qxg7.")


def test_the_moves_that_depend_on_the_values_are_named() -> None:
    survey = core.survey(LASKER, rank_nodes=RANKED)
    assert survey["values_matter"]
    told = read(page(survey))
    assert (
        "How much a piece is worth matters here: Bxe4 and Nxe4 keep the material by the table"
        " classical, but not by kaufman." in told
    )

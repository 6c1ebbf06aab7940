"""What a changed position may look like: pawns, promoted units, locked bishops, material."""

import chess
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fastness.exercises.natural import oddities, pawn_captures, promoted, unnatural

START = chess.STARTING_FEN

ODD = [
    # Four pawns on two files: two captures at least, and no unit is missing.
    ("rnbqkbnr/pppppppp/8/8/8/P2P4/P2P1PPP/RNBQKBNR w - - 0 1", {"white pawns"}),
    # The pawns on a2 and b2 have not moved: those on a3 and b3 can only come from c2, one of them.
    ("4k3/pppp4/8/8/8/PP6/PP6/4K3 w - - 0 1", {"white pawns"}),
    ("4k3/8/8/8/8/1P6/PP6/4K3 w - - 0 1", set()),
    # From a2 the pawn on a3 needs b2, where one still stands.
    ("4k3/8/8/8/8/P7/PP6/4K3 w - - 0 1", {"white pawns"}),
    # Three white pawns on the a-file: a2, a3 (from b2), a4 (from c2), three captures.
    ("4k3/8/8/8/P7/P7/P7/4K3 w - - 0 1", set()),
    ("1nbqkbnr/pppppppp/8/8/P7/P7/P7/4K3 w - - 0 1", {"white pawns", "material"}),
    # Four on the a-file from a2, b2, c2 and d2, on a5 and so three ranks on.
    ("4k3/8/8/P7/P7/P7/P7/4K3 w - - 0 1", set()),
    # A second queen with all eight pawns.
    ("rnbqkbnr/pppppppp/8/8/8/4Q3/PPPPPPPP/RNBQKB1R w - - 0 1", {"white promoted"}),
    # A bishop cannot pass its own unmoved pawns.
    (
        "rnbqkb1r/pppppppp/5n2/8/8/4B3/PPPPPPPP/RN1QKBNR w KQkq - 0 1",
        {"white bishop of c1"},
    ),
    ("rn1qkbnr/pppppppp/4b3/8/8/5N2/PPPPPPPP/RNBQKB1R w KQkq - 0 1", {"black bishop of c8"}),
    # It may be gone: taken at home by a knight.
    ("rnbqkbnr/pppp1ppp/8/4p3/8/8/PPPPPPPP/RN1QKBNR w KQkq - 0 1", set()),
    # A rook on b2 cannot have come from a1, where pawn and knight shut it in.
    ("rnb2knr/pp1p1Bpp/5q2/2b5/4P3/2PN4/PR3PPP/1NBQK2R b K - 2 9", {"white rook"}),
    ("rnb2knr/pp1p1Bpp/5q2/2b5/4P3/2PN4/PR3PPP/2BQK2R b K - 2 9", set()),
    # It may be gone: taken at home by a bishop.
    ("rnb2knr/pp1p1Bpp/5q2/2b5/4P3/2PN4/P4PPP/1NBQK2R b K - 2 9", set()),
    (START, set()),
    ("4k3/8/8/8/8/8/8/Q2QK3 w - - 0 1", {"material"}),
]


@pytest.mark.parametrize(("fen", "odd"), ODD)
def test_what_is_odd(fen: str, odd: set[str]) -> None:
    assert set(oddities(chess.Board(fen))) == odd


def _captures_by_trying(board: chess.Board, colour: chess.Color) -> int | None:
    """The plain way: each pawn tries each file, one after the other."""
    pawns = sorted(board.pieces(chess.PAWN, colour))

    def fewest(rest: list[int], free: frozenset[int]) -> int | None:
        if not rest:
            return 0
        file, rank = chess.square_file(rest[0]), chess.square_rank(rest[0])
        gone = rank - 1 if colour else 6 - rank
        tries = []
        for origin in free:
            if abs(origin - file) <= gone:
                further = fewest(rest[1:], free - {origin})
                if further is not None:
                    tries.append(further + abs(origin - file))
        return min(tries, default=None)

    return fewest(pawns, frozenset(range(8)))


@settings(deadline=None, derandomize=True, max_examples=60)
@given(
    squares=st.sets(st.integers(chess.A2, chess.H7), max_size=6),
    colour=st.sampled_from([True, False]),
)
def test_pawn_captures_agree_with_trying_every_file(squares: set[int], colour: bool) -> None:
    board = chess.Board(None)
    for square in squares:
        board.set_piece_at(square, chess.Piece(chess.PAWN, colour))
    pawns = int(board.pieces(chess.PAWN, colour))
    assert pawn_captures(pawns, colour) == _captures_by_trying(board, colour)


def test_bishops_on_squares_of_one_colour_are_promoted() -> None:
    assert promoted(chess.Board("4k3/8/8/8/8/8/8/B1B1K3 w - - 0 1"), chess.WHITE) == 1
    assert promoted(chess.Board("4k3/8/8/8/8/8/8/BB2K3 w - - 0 1"), chess.WHITE) == 0


UNNATURAL = [
    ("a pawn on the first rank", "4k3/8/8/8/8/4P3/8/P3K3 w - - 0 1"),
    ("two kings", "4k3/8/8/8/8/4P3/8/K3K3 w - - 0 1"),
    ("the side not to move in check", "4k3/8/8/8/8/8/4R3/4K3 w - - 0 1"),
    ("a check that was not there", "4k3/4r3/8/8/8/8/3P4/4K3 w - - 0 1"),
    ("the other side to move", "4k3/8/8/8/8/4P3/8/4K3 b - - 0 1"),
    ("castling without the rook", "4k3/8/8/8/8/4P3/8/4K3 w K - 0 1"),
]


@pytest.mark.parametrize(("why", "fen"), UNNATURAL, ids=[row[0] for row in UNNATURAL])
def test_what_no_change_may_lead_to(why: str, fen: str) -> None:
    before = chess.Board("4k3/8/8/8/8/4P3/8/4K3 w - - 0 1")
    assert not unnatural(before, before.copy())
    assert unnatural(before, chess.Board(fen)), why


def test_what_is_odd_already_may_stay() -> None:
    before = chess.Board("4k3/p7/8/8/8/8/8/Q2QK3 w - - 0 1")
    after = chess.Board("4k3/8/p7/8/8/8/8/Q2QK3 w - - 0 1")
    assert not unnatural(before, after)

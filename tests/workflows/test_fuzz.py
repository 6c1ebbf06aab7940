"""A position and moves as anyone may type them: read, or refused in a sentence."""

import chess
from hypothesis import given
from hypothesis import strategies as st

from fastness.errors import MoveError, PositionError
from fastness.workflows.surveying import board_of, read_moves, read_position
from tests.fuzzing import TRIES, spoilt

FENS = [
    chess.STARTING_FEN,
    "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1",
    "rnbqkbnr/ppp1pppp/8/8/3pP3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 3",
    "r3k2r/8/8/8/8/8/8/R3K2R w KQkq -",
    '4k3/P7/8/8/8/8/8/4K3 w - - bm a8=Q; hmvc 3; fmvn 20; id "x";',
]
PIECES = [
    "/", "8", "9", "0", "1", "K", "k", "P", "p", "Q", " w ", " b ", " - ", "KQkq", "HAha", "e3",
    "e6", "i9", "99999999999999999999", "-1", ";", '"', "bm ", "hmvc ", "~", "[Qq]", "\u00a0",
    "\u0661", "\x00", "\ufeff", "\n", "\t",
]  # fmt: skip
WORDS = ["e4", "e7e5", "Nf3", "O-O", "a8=Q", "a7a8q", "0000", "--", "Z0", "N@e3", "1.", "2...",
         "1-0", "*", "!?", "e4!", "@@@@", "None", "\u2212", "Ra1xa8#"]  # fmt: skip


@TRIES
@given(spoilt(FENS, PIECES), st.lists(st.sampled_from(WORDS), max_size=5).map(" ".join))
def test_any_text_is_a_position_or_is_refused(text: str, moves: str) -> None:
    try:
        fen = read_position(text)
        board = board_of(fen)
        played = read_moves(fen, moves)
    except (PositionError, MoveError):
        return
    for move in played:
        board.push(board.parse_uci(move))
    assert board.king(chess.WHITE) is not None

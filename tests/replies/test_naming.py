import chess
import pytest

from fastness.replies.asking import KINDS, examples, kind_of, language_of
from fastness.replies.forbidden import why_not_legal
from fastness.replies.naming import read_sentence

FEN = "rnbqkb1r/pppp1ppp/8/4N3/4n3/8/PPPPQPPP/RNB1KB1R b KQkq - 0 1"


@pytest.mark.parametrize(
    ("told", "move"),
    [
        ("Nf6", "e4f6"),
        ("nf6", "e4f6"),
        ("Sf6", "e4f6"),
        ("1...Nf6!?", "e4f6"),
        ("e4-f6", "e4f6"),
        ("from e4 to f6", "e4f6"),
        ("the knight to f6", "e4f6"),
        ("the knight on e4 goes back to f6", "e4f6"),
        ("mit dem Springer nach f6", "e4f6"),
        ("knight takes the pawn on f2", "e4f2"),
        ("take on f2 with the knight", "e4f2"),
        ("mit dem Springer auf f2 schlagen", "e4f2"),
        ("den Bauern auf f2 schlagen", "e4f2"),
        ("d6", "d7d6"),
        ("the d-pawn to d5", "d7d5"),
        ("De7", "d8e7"),
    ],
)
def test_a_move_is_found_however_it_is_told(told: str, move: str) -> None:
    board = chess.Board(FEN)
    named = read_sentence(f"Why not {told}?", board).moves
    assert [one.legal(board) for one in named] == [[move]]


def test_a_piece_is_no_move() -> None:
    found = read_sentence("Is my knight on e4 safe?", chess.Board(FEN))
    assert not found.moves
    assert [(one.kind, one.square) for one in found.pieces] == [(chess.KNIGHT, chess.E4)]


@pytest.mark.parametrize(
    ("fen", "told", "reason"),
    [
        (FEN, "castle short", "castle yet: the bishop on f8"),
        (FEN, "Nd5", "No move of yours goes to d5 like that."),
        (FEN, "Bxa3", "Nothing stands on a3"),
        (FEN, "Nd2 with the rook: Rd8", "stands there already"),
        (FEN, "Qh8", "stands there already"),
        (FEN, "Nxf7", "would be a move of White's, and Black is to move"),
        ("4k3/4n3/8/8/8/8/8/4R1K1 b - - 0 1", "Nc6", "is pinned"),
        ("4k3/8/8/8/8/8/8/3RK3 b - - 0 1", "Kd7", "may not go to d7"),
        ("4k3/n7/8/8/8/8/8/4R1K1 b - - 0 1", "Nb5", "would leave it in check"),
        ("r3k3/8/8/8/8/8/8/3RK3 b q - 0 1", "O-O-O", "would cross d8"),
        ("r3k3/8/8/8/8/8/8/3RK3 b - - 0 1", "O-O-O", "has moved before"),
        ("r3k3/8/8/8/8/8/8/4RK2 b q - 0 1", "O-O-O", "out of check"),
        ("r2k4/p7/8/8/8/8/8/4RK2 b - - 0 1", "Ra5", "your pawn on a7 stands in between"),
    ],
)
def test_why_a_move_is_not_legal(fen: str, told: str, reason: str) -> None:
    board = chess.Board(fen)
    named = read_sentence(told, board).moves[-1]
    assert not named.legal(board)
    assert reason in why_not_legal(board, named)


def test_the_examples_ask_one_kind_each_in_both_languages() -> None:
    from fastness.language import language

    for code in ("en", "de"):
        told = examples(language(code))
        assert {kind_of(one) for one in told} == set(KINDS)
        assert {language_of(one) for one in told} == {code}

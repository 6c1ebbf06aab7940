import chess
import pytest

from fastness.survey.diagram import CORNERS, RING, diagram
from tests.survey.samples import CENTRE, PIN


def unit_rows(text: str) -> dict[str, str]:
    return {row[1]: row[4:44] for row in text.splitlines() if row[1:2].isdigit()}


@pytest.mark.parametrize("flip", [False, True])
def test_every_square_shows_its_unit_and_its_colour(flip: bool) -> None:
    board = chess.Board(PIN)
    rows = unit_rows(diagram(PIN, flip=flip))
    for square in chess.SQUARES:
        file, rank = chess.square_file(square), chess.square_rank(square)
        column = 7 - file if flip else file
        cell = rows[str(rank + 1)][5 * column : 5 * column + 5]
        piece = board.piece_at(square)
        dark = bool(chess.BB_SQUARES[square] & chess.BB_DARK_SQUARES)
        assert ("/" in cell) == dark
        assert cell.strip(" /") == (piece.symbol() if piece else "")


def test_white_is_at_the_bottom_unless_flipped() -> None:
    assert list(unit_rows(diagram(CENTRE))) == list("87654321")
    assert list(unit_rows(diagram(CENTRE, flip=True))) == list("12345678")
    assert diagram(CENTRE).splitlines()[-1].split() == list("abcdefgh")
    assert diagram(CENTRE, flip=True).splitlines()[-1].split() == list("hgfedcba")


def test_marks_stand_around_a_unit() -> None:
    text = diagram(CENTRE, {"e4": RING, "d5": CORNERS, "a6": RING})
    assert "(P)" in text
    assert "<p>" in text
    assert "( )" in text

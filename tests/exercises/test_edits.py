"""Changes of one detail: each is one, legal, and no kind is missing."""

import chess
import pytest

from fastness.exercises.edits import Change, Edit, edits
from fastness.exercises.natural import oddities

OPEN_GAME = "r1bqk2r/pppp1ppp/2n2n2/2b5/2BPP3/5N2/PP3PPP/RNBQK2R b KQkq - 0 6"
CASTLED = "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"

CHANGES: list[tuple[str, Change, str]] = [
    (OPEN_GAME, "step", "a7 a6"),
    (OPEN_GAME, "step", "d4 d3"),
    (OPEN_GAME, "shift", "c6 b6"),
    (OPEN_GAME, "line", "c4 e2"),
    (OPEN_GAME, "castling", "e1 g1"),
    (OPEN_GAME, "castling", "e8 g8"),
    (OPEN_GAME, "tempo", "f3 g5"),
    (OPEN_GAME, "removed", "f6 -"),
    (OPEN_GAME, "added", "- c2"),
    (CASTLED, "castling", "g1 e1"),
    (CASTLED, "tempo", "e4 c5"),
]


def named(edit: Edit) -> str:
    return f"{edit.units[0].before or '-'} {edit.units[0].now or '-'}"


@pytest.mark.parametrize(("fen", "change", "units"), CHANGES)
def test_the_change_is_there(fen: str, change: Change, units: str) -> None:
    assert (change, units) in {(edit.change, named(edit)) for edit in edits(fen)}


def differing(before: chess.Board, after: chess.Board) -> set[str]:
    return {
        chess.square_name(square)
        for square in chess.SQUARES
        if before.piece_at(square) != after.piece_at(square)
    }


@pytest.mark.parametrize("fen", [OPEN_GAME, CASTLED])
def test_each_changes_what_it_says_and_nothing_else(fen: str) -> None:
    before = chess.Board(fen)
    found = edits(fen)
    assert len({edit.fen for edit in found}) == len(found) > 50
    for edit in found:
        after = chess.Board(edit.fen)
        said = {at for unit in edit.units for at in (unit.before, unit.now) if at}
        assert differing(before, after) == said, edit
        assert after.is_valid()
        assert after.turn == before.turn
        assert after.is_check() == before.is_check()
        assert not set(oddities(after)), edit


def test_the_smallest_come_first() -> None:
    found = edits(OPEN_GAME)
    assert [edit.size for edit in found] == sorted(edit.size for edit in found)
    assert found[0].change == "step"
    assert found[-1].change in ("added", "removed")


def test_a_king_that_has_not_castled_may() -> None:
    (back,) = [edit for edit in edits(CASTLED) if named(edit) == "g1 e1"]
    assert chess.Board(back.fen).has_kingside_castling_rights(chess.WHITE)
    (away,) = [
        edit for edit in edits(OPEN_GAME) if edit.change == "castling" and named(edit) == "e1 g1"
    ]
    assert not chess.Board(away.fen).has_castling_rights(chess.WHITE)
    assert chess.Board(away.fen).has_castling_rights(chess.BLACK)


def test_a_rook_moved_takes_its_castling_with_it() -> None:
    (moved,) = [edit for edit in edits(OPEN_GAME) if named(edit) == "h8 g8"]
    assert not chess.Board(moved.fen).has_kingside_castling_rights(chess.BLACK)
    assert chess.Board(moved.fen).has_queenside_castling_rights(chess.BLACK)


def test_in_check_there_is_no_extra_move() -> None:
    checked = "rnbqk1nr/pppp1ppp/8/4p3/1b6/3P1N2/PPP1PPPP/RNBQKB1R w KQkq - 2 3"
    assert chess.Board(checked).is_check()
    found = edits(checked)
    assert found
    assert not [edit for edit in found if edit.change == "tempo"]
    # What stands in the way of the check is no change of one detail that keeps the question.
    assert "- c3" not in {named(edit) for edit in found}


def test_no_change_makes_two_bishops_of_one_colour() -> None:
    # From c5 to b5 the bishop would stand on light squares like the one on c8.
    assert "c5 b5" not in {named(edit) for edit in edits(OPEN_GAME)}

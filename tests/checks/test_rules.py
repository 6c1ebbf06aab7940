"""The survey's legal moves and their SAN are those of PyPI chess; it refuses what cannot stand."""

import chess
import pytest

from fastness import core
from fastness.errors import MoveError, OptionError, PositionError
from tests.checks.archive import perft_fens
from tests.checks.positions import historic, random_play
from tests.checks.questions import Row, label, table

PARTS = 8


def assert_same_moves(fens: list[str]) -> None:
    answers = core.survey_many([(fen, ()) for fen in fens], reach=1)
    for fen, survey in zip(fens, answers, strict=True):
        assert isinstance(survey, dict), fen
        board = chess.Board(fen)
        expected = {move.uci(): board.san(move) for move in board.legal_moves}
        assert {move["uci"]: move["san"] for move in survey["moves"]} == expected, fen
        assert len(survey["moves"]) == len(expected), fen
        assert survey["in_check"] == board.is_check(), fen
        assert survey["fen"] == board.fen(), fen


@pytest.mark.slow
@pytest.mark.parametrize("part", range(PARTS))
def test_legal_moves_of_the_random_perft_list(part: int) -> None:
    fens = perft_fens("random.perft")
    assert len(fens) == 6838, "random.perft is not the one of chess 1.11.2"
    assert_same_moves(list(dict.fromkeys(fens))[part::PARTS])


def test_legal_moves_of_games() -> None:
    assert_same_moves(historic()[::3] + random_play(20, seed=21))


def test_legal_moves_of_the_tricky_perft_list() -> None:
    """The rows that stand in standard chess: the others have rights or checks none can have."""
    fens = perft_fens("tricky.perft")
    read = [fen for fen in fens if chess.Board(fen).is_valid()]
    assert len(read) >= 7
    assert_same_moves(read)


BAD = table("bad-positions.csv")


@pytest.mark.parametrize("row", BAD, ids=label)
def test_a_position_that_cannot_stand_is_refused(row: Row) -> None:
    with pytest.raises(PositionError) as refused:
        core.survey(row["position"], reach=1)
    assert refused.value.code == row["expected"], f"{row['reason']} ({row['source']})"
    assert str(refused.value).endswith(".")
    # Among good rows it costs nothing.
    good = (chess.STARTING_FEN, ())
    first, bad, last = core.survey_many([good, (row["position"], ()), good], reach=1)
    assert isinstance(bad, PositionError)
    assert bad.code == row["expected"]
    assert first == last == core.survey(chess.STARTING_FEN, reach=1)


@pytest.mark.parametrize("uci", ["e2e5", "e7e5", "e1g1", "e2e4q", "0000", "Nf3", "", "xx"])
def test_an_illegal_move_is_refused(uci: str) -> None:
    with pytest.raises(MoveError, match=r"^move 1, "):
        core.survey(chess.STARTING_FEN, moves=[uci], reach=1)


def test_reach_and_values_that_do_not_exist_are_refused() -> None:
    for reach in (0, 6, 9):
        with pytest.raises(OptionError):
            core.survey(chess.STARTING_FEN, reach=reach)
    with pytest.raises(OptionError):
        core.survey(chess.STARTING_FEN, reach=1, values="modern")
    assert core.values_names()[0] == "classical"

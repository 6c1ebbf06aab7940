"""Mates and their distances against tables: EPD rows with `dm`, and Gaviota's for three men."""

from collections.abc import Iterator
from functools import lru_cache

import chess
import chess.gaviota
import pytest

from fastness import core
from fastness.core.shapes import Survey
from tests.checks.archive import archive, epd_rows
from tests.checks.positions import few_men
from tests.checks.replay import mated, replay

DEEPEST = 5
FILES = {"data/endgame-dm-4.epd": 8, "data/endgame-dm-5.epd": 4}
MATES = [(part, index) for part, count in FILES.items() for index in range(count)]


@lru_cache(maxsize=len(FILES))
def within_reach(part: str) -> list[tuple[str, int]]:
    return [row for row in epd_rows(part) if 1 <= row[1] <= DEEPEST]


def best_net(survey: Survey) -> int | str:
    """The best net, `mates` above every number and `mated` below."""
    nets = {move["net"] for move in survey["moves"]}
    if "mates" in nets:
        return "mates"
    return max((net for net in nets if isinstance(net, int)), default="mated")


@pytest.mark.parametrize("part", FILES)
def test_rows_within_reach_are_as_many_as_counted(part: str) -> None:
    assert len(within_reach(part)) == FILES[part]


@pytest.mark.slow
@pytest.mark.parametrize(("part", "index"), MATES)
def test_a_listed_mate_is_found_at_its_reach_and_not_before(part: str, index: int) -> None:
    fen, distance = within_reach(part)[index]
    survey = core.survey(fen, reach=distance)
    assert best_net(survey) == "mates"
    assert survey["takings"] or survey["in_check"]
    if distance == 1:
        return
    earlier = core.survey(fen, reach=distance - 1)
    # Quiescence plays on with captures and promotions, so such a mate is seen one move earlier.
    assert best_net(earlier) != "mates" or mates_by_force_at_last(chess.Board(fen), distance)


def mates_by_force_at_last(board: chess.Board, moves: int) -> bool:
    """Whether the side to move can mate in so many moves, the last a capture or a promotion."""
    for move in list(board.legal_moves):
        forcing = board.is_capture(move) or move.promotion is not None
        board.push(move)
        if moves == 1:
            found = forcing and board.is_checkmate()
        else:
            found = not board.is_game_over() and all(
                mates_by_force_at_last(after(board, reply), moves - 1)
                for reply in board.legal_moves
            )
        board.pop()
        if found:
            return True
    return False


def after(board: chess.Board, move: chess.Move) -> chess.Board:
    board = board.copy(stack=False)
    board.push(move)
    return board


@pytest.fixture(scope="module")
def distances() -> Iterator[chess.gaviota.PythonTablebase]:
    """Plies to mate under best play, negative for the side that is mated, 0 for a draw."""
    with chess.gaviota.PythonTablebase() as table:
        table.add_directory(str(archive("data/gaviota")))
        yield table


@pytest.mark.slow
@pytest.mark.parametrize("reach", [1, 2, 3])
@pytest.mark.parametrize("men", ["KRk", "KQk", "KPk"])
def test_mates_with_three_men_are_claimed_exactly_when_in_reach(
    men: str, reach: int, distances: chess.gaviota.PythonTablebase
) -> None:
    """A mate in n own moves takes 2n-1 plies and is seen from reach n on; being mated after n
    own moves takes 2n plies. Quiescence may add a mating promotion, one own move later."""
    fens = few_men(men, 240, seed=31, claims=True)
    seen = {"mates": 0, "mated": 0, "neither": 0, "by promotion": 0}
    for fen, survey in zip(
        fens, core.survey_many([(f, ()) for f in fens], reach=reach), strict=True
    ):
        board = chess.Board(fen)
        if board.is_game_over():
            continue
        assert isinstance(survey, dict)
        best, plies = best_net(survey), distances.probe_dtm(board)
        if 0 < plies <= 2 * reach - 1:
            assert best == "mates", (fen, plies)
            seen["mates"] += 1
        elif -2 * reach <= plies < 0:
            assert best == "mated", (fen, plies)
            seen["mated"] += 1
        elif best in ("mates", "mated"):
            assert abs(plies) in (2 * reach + 1, 2 * reach + 2), (fen, plies)
            assert (plies > 0) == (best == "mates"), (fen, plies)
            assert mates_by_promotion(survey, best), (fen, plies)
            seen["by promotion"] += 1
        else:
            seen["neither"] += 1
    print(f"{men}, reach {reach}: {seen}")
    assert seen["neither"] > 100
    assert men == "KPk" or (seen["mates"] > 0 and seen["mated"] > 0)


def mates_by_promotion(survey: Survey, best: str) -> bool:
    lines = [move["line"] for move in survey["moves"] if move["net"] == best]
    for line in filter(None, lines):
        if len(line[-1]) != 5:
            return False
        end = replay(survey["fen"], line, len(line)).end
        assert mated(end, end.turn)
    return any(lines)

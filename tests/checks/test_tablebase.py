"""Claims with three and four men against the Syzygy tables."""

from collections import Counter
from collections.abc import Iterator
from functools import lru_cache

import chess
import chess.syzygy
import pytest

from fastness import core
from fastness.core.shapes import Survey
from tests.checks.archive import archive
from tests.checks.positions import few_men, passed
from tests.checks.replay import THRESHOLD, gain, replay

# Chosen for what can happen with them: mates, promotions, forks, pins, traps in the corner.
MEN = [
    *("KQk", "KRk", "KPk", "KQkr", "KQkp", "KRkp", "KPkp", "KRkb", "KRkn", "KBNk", "KBBk"),
    *("KPPk", "KNkp", "KBkp", "KRPk", "KQPk", "KQkq", "KRkr", "KNPk", "KBPk"),
]
EACH = 40


@lru_cache(maxsize=1)
def tables() -> chess.syzygy.Tablebase:
    return chess.syzygy.open_tablebase(str(archive("data/syzygy/regular")))


def outcome(board: chess.Board, side: chess.Color) -> int:
    """2 if `side` wins by the tables, 0 for a draw, -2 if it loses; 1 and -1 only by the
    fifty-move rule."""
    if board.is_checkmate():
        return -2 if board.turn == side else 2
    if board.is_stalemate():
        return 0
    found = tables().probe_wdl(board)
    return found if board.turn == side else -found


def after(fen: str, uci: str) -> chess.Board:
    board = chess.Board(fen)
    board.push_uci(uci)
    return board


def mate_claims(survey: Survey) -> list[tuple[chess.Board, chess.Color]]:
    """A position after which a side is said to mate, and that side."""
    mover = survey["side"] == "white"
    fen = survey["fen"]
    claims = []
    for move in survey["moves"]:
        if move["net"] == "mates":
            claims.append((after(fen, move["uci"]), mover))
        if move["net"] == "mated":
            claims.append((after(fen, move["uci"]), not mover))
    if survey["danger"] and survey["danger"][-1] in ("mate", "mated"):
        winner = mover if survey["danger"][-1] == "mated" else not mover
        claims.append((passed(fen), winner))
    king = next(unit for unit in survey["units"] if unit["unit"] == "king")
    if king["loses"] == "mate":
        claims.append((passed(fen), not mover))
    if any(unit["loses"] == "mate" for unit in survey["takings"]):
        claims.append((chess.Board(fen), mover))
    return claims


def promotion_claims(survey: Survey) -> list[tuple[chess.Board, chess.Color]]:
    """Where a line wins material by a promotion: the position in which its claim is made, and
    the side that promotes. Each line is replayed to its gain."""
    claims = []
    for board, line, side, least in winning_lines(survey):
        played = replay(survey["fen"], line, len(line))
        if any(colour == side for _, colour in played.promotes):
            assert gain(played, side, survey["values"]) >= least, (survey["fen"], line)
            claims.append((board, side))
    return claims


def winning_lines(
    survey: Survey,
) -> Iterator[tuple[chess.Board, list[str], chess.Color, int]]:
    """Lines that win material: where, the line, who wins, and at least how much."""
    mover = survey["side"] == "white"
    fen = survey["fen"]
    for unit in survey["units"]:
        if unit["line"] and isinstance(unit["loses"], int) and unit["loses"] >= THRESHOLD:
            yield passed(fen), unit["line"], not mover, unit["loses"]
    for unit in survey["takings"]:
        if unit["line"] and isinstance(unit["loses"], int):
            yield chess.Board(fen), unit["line"], mover, unit["loses"]
    for move in survey["moves"]:
        if move["line"] and not move["holds"] and isinstance(move["net"], int):
            yield after(fen, move["uci"]), move["line"], not mover, -move["net"]


@lru_cache(maxsize=len(MEN))
def surveys(men: str) -> list[Survey]:
    fens = few_men(men, EACH, seed=41, claims=len(men) == 3)
    fens = [fen for fen in fens if not chess.Board(fen).is_game_over()]
    answers = core.survey_many([(fen, ()) for fen in fens], reach=3)
    return [survey for survey in answers if isinstance(survey, dict)]


def test_at_least_400_positions_are_tried() -> None:
    assert sum(len(surveys(men)) for men in MEN) >= 400


@pytest.mark.slow
@pytest.mark.parametrize("men", MEN)
def test_a_claimed_mate_is_a_win_by_the_tables(men: str) -> None:
    for survey in surveys(men):
        for board, side in mate_claims(survey):
            assert outcome(board, side) == 2, (survey["fen"], board.fen())


@pytest.mark.slow
def test_mates_are_claimed_at_all() -> None:
    claims = sum(len(mate_claims(survey)) for men in MEN for survey in surveys(men))
    print(f"{claims} mates claimed, all wins by the tables")
    assert claims > 100


@pytest.mark.slow
def test_claimed_promotions_replay_and_some_are_draws() -> None:
    """A promotion that wins material need not win the game; how many do is printed."""
    found: Counter[int] = Counter()
    for men in MEN:
        for survey in surveys(men):
            found.update(outcome(*claim) for claim in promotion_claims(survey))
    total = sum(found.values())
    won, drawn = found[2] + found[1], found[0]
    print(
        f"{total} promotions claimed: {won} won, {drawn} drawn ({drawn / total:.1%}), "
        f"{total - won - drawn} lost by the tables"
    )
    assert total > 100
    assert won > drawn

from pathlib import Path

import chess
import pytest

from fastness import core
from fastness.survey.claim import (
    AllHolding,
    AtAPrice,
    BestMove,
    Better,
    Cause,
    CheckedDeeper,
    Count,
    Falls,
    FallsDeeper,
    Holds,
    InDanger,
    LeastLost,
    Mated,
    NotFirm,
    NothingUnsafe,
    OnlyMove,
    PerhapsATrade,
    Price,
    Reach,
    Stalemated,
    UnitAt,
    Unsafe,
    ValuesMatter,
    Zugzwang,
)
from fastness.survey.claims import claims
from tests.survey.ranked import explained, ranked
from tests.survey.samples import PIN, START, centre, pinned_down, survey

POSITIONS = (Path(__file__).parents[1] / "data" / "historic-positions.fen").read_text("ascii")
QUEEN = UnitAt("queen", "d8")


def test_the_position_stands_first() -> None:
    assert claims(pinned_down())[0] == Reach(PIN, "black", 3, "classical")


def test_what_falls_is_claimed_with_its_line_causes_and_count() -> None:
    made = claims(explained())
    assert InDanger((600, 600, 600)) in made
    assert Unsafe(QUEEN, 1, 600, ("0000", "g5d8", "e8d8"), (), after=False) in made
    assert Cause(QUEEN, "less valuable attacker", ("g5", "d8")) in made
    assert Count(QUEEN, ("g5",), ("e8",), (), ()) in made


def test_mechanisms_without_causes_are_claimed_without_squares() -> None:
    assert Cause(QUEEN, "less valuable attacker", ()) in claims(pinned_down())


def test_every_legal_move_holds_or_falls_once() -> None:
    for given in (pinned_down(), centre(), ranked(), explained(), survey(START)):
        made = claims(given)
        held = [one.move for one in made if isinstance(one, Holds)]
        fallen = [one.move for one in made if isinstance(one, Falls)]
        legal = [move.uci() for move in chess.Board(given["fen"]).legal_moves]
        assert sorted(held + fallen) == sorted(legal)
        everything = next(one for one in made if isinstance(one, AllHolding))
        assert everything.moves == tuple(held)
        assert everything.legal == len(legal)


def test_a_move_that_falls_has_its_reason_with_the_squares_of_that_reason() -> None:
    falls = {one.move: one for one in claims(explained()) if isinstance(one, Falls)}
    assert falls["d8g5"].reason == "walks into a capture"
    assert falls["d8g5"].squares == ("f3", "g5")
    assert falls["d8g5"].tries == "capture"
    assert falls["b8c6"].tries == "guard"
    assert falls["d8e7"].tries is None  # the survey says itself that it is not natural


def test_natural_tries_that_the_geometry_does_not_place_go_by_their_reason() -> None:
    given = explained()
    for move in given["moves"]:
        if move["san"] == "h6":
            move["natural"], move["reason"] = True, "threat too small"
    falls = {one.move: one for one in claims(given) if isinstance(one, Falls)}
    assert falls["h7h6"].tries == "counterattack"
    assert falls["c8d7"].tries == "other"


def test_ranks_part_the_better_ways_from_those_at_a_price() -> None:
    made = claims(ranked())
    better = next(one for one in made if isinstance(one, Better))
    assert better.moves == ("g8f6", "f8e7", "g8e7")  # of one rank, in the order of the ways
    assert better.ranks == (1, 1, 3)
    assert next(one for one in made if isinstance(one, AtAPrice)).moves == (
        "d8d7",
        "d8d6",
        "f8b4",
        "f7f6",
    )
    assert Price("f7f6", "cost", "weakens the king's shelter", 40, ("f6", "e8")) in made
    assert Price("f8e7", "gain", "develops", None, ("e7",)) in made
    assert ValuesMatter(("classical", "kaufman")) in made
    assert not [one for one in made if isinstance(one, BestMove)]


def test_a_best_move_is_claimed_where_the_survey_has_one() -> None:
    given = ranked()
    given["best"] = "f8e7"
    assert BestMove("f8e7") in claims(given)


def test_without_ranks_no_move_is_better() -> None:
    kinds = {type(one) for one in claims(pinned_down())}
    assert kinds.isdisjoint({Better, AtAPrice, BestMove, Price, ValuesMatter})


def test_older_surveys_without_the_keys_of_ranks_and_reasons_are_read() -> None:
    given = pinned_down()
    bare: dict[str, object] = {**given}
    for key in ("ranked", "best", "values_matter"):
        del bare[key]
    moves = [{**move} for move in given["moves"]]
    for move in moves:
        for key in ("evaluation", "rank", "advised", "price"):
            del move[key]
    bare["moves"] = moves
    assert claims(bare) == claims(given)  # type: ignore[arg-type]


def test_one_holding_move_alone() -> None:
    assert OnlyMove("d2d4") in claims(survey(START, holds={"d4": ()}))
    assert not [one for one in claims(pinned_down()) if isinstance(one, OnlyMove)]


def test_nothing_holds() -> None:
    made = claims(survey(START, danger=(100, 100, 100), holds={}, nets={"d4": -50}))
    assert LeastLost(("d2d4",), 50, ("d2d4",), 3) in made
    assert Zugzwang() not in made
    quiet = claims(survey(START, holds={}))
    assert Zugzwang() in quiet
    assert NothingUnsafe((0, 0, 0)) in quiet


def test_firm_verdicts() -> None:
    assert CheckedDeeper(4) in claims(survey(START, firm={}))
    turned = claims(survey(START, holds={"d4": (), "e4": ()}, firm={"d4": False, "a3": False}))
    assert NotFirm(4, ("d2d4",), ("a2a3",)) in turned
    assert [one for one in turned if isinstance(one, FallsDeeper)] == [
        FallsDeeper("d2d4", 4, 100, ("d2d4",))
    ]
    assert not [one for one in claims(survey(START)) if isinstance(one, CheckedDeeper | NotFirm)]


def test_the_game_is_over() -> None:
    mated = "rnb1kbnr/pppp1ppp/8/4p3/6Pq/5P2/PPPPP2P/RNBQKBNR w KQkq - 1 3"
    assert claims(core.survey(mated))[1:] == [Mated("e1")]
    assert claims(core.survey("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1"))[1:] == [Stalemated()]


def test_moves_before_end_the_doubt_about_a_trade() -> None:
    given = core.survey("4k3/8/8/3n4/4P3/8/8/4K3 w - - 0 1")
    assert PerhapsATrade() in claims(given)
    assert PerhapsATrade() not in claims(given, moves_given=True)


@pytest.mark.parametrize("part", range(4))
def test_claims_on_real_positions_are_plain_facts(part: int) -> None:
    """Squares are squares, lines replay, and a claim can be kept in a set: nothing is mutable."""
    rows = [(fen, ()) for fen in POSITIONS.split("\n")[part::100] if fen]
    for answer in core.survey_many(rows, reach=2):
        assert isinstance(answer, dict), answer
        made = claims(answer)
        assert len(set(made)) == len(made)
        for one in made:
            for line in (getattr(one, name, None) for name in ("line",)):
                board = chess.Board(answer["fen"])
                for uci in line or ():
                    board.push_uci(uci)
            for name in ("squares", "attackers", "guards", "behind", "together", "drops"):
                assert set(getattr(one, name, ())) <= set(chess.SQUARE_NAMES)

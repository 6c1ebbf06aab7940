"""Composing positions: what is asked for is there, firm and natural, and the time is kept to."""

from itertools import islice

import chess
import pytest

from fastness import core
from fastness.errors import OptionError
from fastness.exercises.composing import Composed, Start, Tally, compose
from fastness.exercises.difficulty import estimate, is_unsafe, level_of
from fastness.exercises.exercise import Source
from fastness.exercises.natural import oddities
from fastness.exercises.playout import generated_games, starts_in
from fastness.exercises.request import Request, check_request, unmet
from fastness.workflows.composing import generated

NODES = 500
FORK = "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"


def some(request: Request, count: int = 2) -> list[Composed]:
    found = compose(generated(3, request), request, Tally(), seconds=90, rank_nodes=NODES)
    return list(islice(found, count))


REQUESTS = [
    Request(unit="knight", mechanism="less valuable attacker"),
    Request(unit="rook", reach=1, most=3),
    Request(ways=frozenset({"guard", "move"}), most=6),
    Request(side="black", least=2, most=4),
    Request(level="plain"),
]


@pytest.mark.parametrize("request_", REQUESTS, ids=range(len(REQUESTS)))
def test_what_is_asked_for_is_there(request_: Request) -> None:
    found = some(request_)
    assert len(found) == 2
    for one in found:
        survey = core.survey(one.proved.fen)
        unsafe = [unit for unit in survey["units"] if is_unsafe(unit)]
        assert any(
            request_.unit in (None, unit["unit"])
            and (request_.mechanism is None or request_.mechanism in unit["mechanisms"])
            and request_.reach in (None, unit["reach"])
            for unit in unsafe
        )
        holding = [move for move in survey["moves"] if move["holds"]]
        assert request_.least <= len(holding) <= request_.most
        assert request_.ways <= {move["ways"][0] for move in holding}
        assert request_.side in (None, survey["side"])
        levels = {level_of(estimate(survey, e.kind, e.asked)) for e in one.exercises}
        assert request_.level is None or levels == {request_.level}


def test_positions_are_legal_and_could_have_come_about() -> None:
    for one in some(Request(), 4):
        board = chess.Board(one.proved.fen)
        assert board.is_valid()
        assert not board.is_check()
        assert not list(oddities(board))


def test_a_changed_position_says_what_it_was_made_from() -> None:
    found = some(Request(unit="king", most=2), 2)
    for one in found:
        source = one.proved.source
        assert source.made == "composed"
        assert (one.edit is None) == (source.of == "")
        if one.edit:
            assert chess.Board(source.of).is_valid()
            assert one.edit.fen == one.proved.fen


def test_the_same_seed_gives_the_same_positions() -> None:
    request = Request(unit="bishop")
    assert [a.proved.fen for a in some(request)] == [b.proved.fen for b in some(request)]


def test_a_near_duplicate_is_left_out() -> None:
    starts = [Start(FORK, Source("composed"), game) for game in range(3)]
    found = list(compose(starts, Request(unit="knight"), Tally(), rank_nodes=NODES))
    assert len(found) == 1


def test_the_time_is_kept_to_and_what_was_missing_is_counted() -> None:
    ticks = iter(range(100))
    tally = Tally()
    request = Request(mechanism="double check", unit="king", reach=1, most=1)
    found = compose(
        generated(1, request), request, tally, seconds=5, clock=lambda: float(next(ticks))
    )
    assert list(found) == []
    assert not tally.ended
    assert 0 < tally.looked < 1000


def test_all_looked_at_is_told_apart_from_time_up() -> None:
    tally = Tally()
    start = Start(FORK, Source("composed"))
    assert list(compose([start], Request(unit="queen", most=1), tally, rank_nodes=NODES)) == []
    assert tally.ended
    assert tally.looked >= 1


@pytest.mark.parametrize(
    ("request_", "told"),
    [
        (Request(least=0), "ask for 1 or more"),
        (Request(least=3, most=2), "at least 3 and at most 2"),
        (Request(reach=4), "1 to 3 moves ahead"),
        (Request(unit="king", mechanism="unguarded"), "A king cannot fall by unguarded"),
        (Request(unit="pawn", mechanism="trapped"), "A pawn cannot fall by trapped"),
        (Request(ways=frozenset({"move", "guard"}), most=1), "2 ways need as many moves"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_no_position_can_meet_is_refused(request_: Request, told: str) -> None:
    with pytest.raises(OptionError, match=told):
        check_request(request_)


def test_what_a_position_lacks_is_named() -> None:
    survey = core.survey(FORK)
    assert unmet(Request(unit="knight", mechanism="less valuable attacker"), survey) == ()
    assert unmet(Request(unit="queen"), survey) == ("unit",)
    assert unmet(Request(side="white", reach=3), survey) == ("side", "reach")
    assert unmet(Request(most=2), survey) == ("holding",)


def test_generated_games_are_legal_and_repeat_by_their_seed() -> None:
    first = list(islice(generated_games(7), 2))
    assert first == list(islice(generated_games(7), 2))
    assert first[0] != first[1]
    for moves in first:
        board = chess.Board()
        fens = dict(starts_in(moves))
        for ply, uci in enumerate(moves, 1):
            assert fens.get(ply, board.fen()) == board.fen()
            assert chess.Move.from_uci(uci) in board.legal_moves
            board.push_uci(uci)

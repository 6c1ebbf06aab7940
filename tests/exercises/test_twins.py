"""Twins: each is legal, differs in one detail, is proved again, and wants another move."""

import itertools
from functools import cache
from pathlib import Path

import chess
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fastness import core
from fastness.core.shapes import Survey
from fastness.errors import TwinError
from fastness.exercises.change_words import change_in_words, twin_in_words
from fastness.exercises.edits import Edit, Moved, edits
from fastness.exercises.natural import oddities
from fastness.exercises.remedy import remedy_of, wants_answer
from fastness.exercises.twin import Twin, proved_twin, twin_again
from fastness.exercises.twins import REACH, Search, find_twins

DATA = Path(__file__).parents[1] / "data"
FENS = (DATA / "historic-positions.fen").read_text(encoding="utf-8").splitlines()

PINNED_KNIGHT = "r1bqk2r/pppp1ppp/2n2n2/2b5/2BPP3/5N2/PP3PPP/RNBQK2R b KQkq - 0 6"
QUIET = "rnbqkb1r/ppp2ppp/4pn2/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R w KQkq - 1 3"
LONG = 600.0
"""Seconds that are never used up, so that what is found does not depend on the machine."""


@cache
def ranked(fen: str) -> Survey:
    return core.survey(fen, reach=REACH, firm=True, rank_nodes=core.RANK_NODES)


@cache
def twins_of(fen: str, count: int = 1) -> Search:
    return find_twins(ranked(fen), count=count, seconds=LONG)


def check(twin: Twin) -> None:
    """Everything that a twin claims, by the rules library and surveys of its own."""
    before, after = chess.Board(twin.of), chess.Board(twin.fen)
    assert after.is_valid()
    assert set(oddities(after)) <= set(oddities(before))
    assert after.turn == before.turn
    differing = {at for at in chess.SQUARES if before.piece_at(at) != after.piece_at(at)}
    said = {at for unit in twin.edit.units for at in (unit.before, unit.now) if at}
    assert {chess.square_name(at) for at in differing} == said
    assert len(twin.edit.units) == (2 if twin.edit.change == "castling" else 1)

    # Surveys without ranks, threads or the deeper look, one at each reach: another route than
    # that of the search, which asks for all of it at once.
    for reach in (REACH, REACH + 1):
        holds = {move["uci"]: move["holds"] for move in core.survey(twin.fen, reach=reach)["moves"]}
        assert holds[twin.lead] != twin.falls
        assert all(holds[uci] for uci in twin.better)

    first = ranked(twin.of)
    leading = {move["uci"] for move in first["moves"] if move["rank"] == 1}
    assert twin.lead in leading
    assert twin.better
    assert not leading & set(twin.better)
    assert not leading & {move["uci"] for move in twin.survey["moves"] if move["advised"]}


def check_words(twin: Twin) -> None:
    """The sentence names what is changed and the moves, and the line in it replays."""
    told, after = twin_in_words(twin), chess.Board(twin.fen)
    assert told.startswith(change_in_words(twin.edit))
    assert after.san(chess.Move.from_uci(twin.lead)) in told
    assert after.san(chess.Move.from_uci(twin.better[0])) in told
    assert ("no longer keeps" in told) == twin.falls
    if twin.falls:
        line = twin.verdict(twin.lead)["line"]
        assert line
        assert line[0] == twin.lead
        for uci in line:
            after.push_uci(uci)


def to_answer(fen: str) -> bool:
    return wants_answer(core.survey(fen, reach=REACH))


@pytest.mark.slow
@settings(max_examples=6, deadline=None, derandomize=True)
@given(fen=st.sampled_from(FENS).filter(to_answer))
def test_every_twin_of_a_real_position_is_one(fen: str) -> None:
    try:
        search = twins_of(fen)
    except TwinError as error:
        assert "does not hold one move deeper" in str(error)  # noqa: PT017
        return
    assert search.ended
    for twin in search.twins:
        check(twin)
        check_words(twin)


def test_three_twins_of_one_position() -> None:
    search = twins_of(PINNED_KNIGHT, 3)
    assert len(search.twins) == 3
    for twin in search.twins:
        check(twin)
        check_words(twin)
    changed = {(twin.edit.units[0].unit, twin.edit.units[0].before) for twin in search.twins}
    assert len(changed) == 3


def test_the_pawn_on_a3_takes_away_the_check() -> None:
    (first, *_) = twins_of(PINNED_KNIGHT, 3).twins
    assert first.edit.units == (Moved("P", "a2", "a3"),)
    assert twin_in_words(first) == (
        "With the pawn on a3 instead of on a2, Bb4+ no longer keeps the material: the pawn on a3"
        " takes the bishop on b4 (6...Bb4+ 7.axb4 Nxb4). Better now: Bb6 (move)."
    )


def test_a_change_that_turns_nothing_is_no_twin() -> None:
    remedy = remedy_of(ranked(PINNED_KNIGHT))
    (idle,) = [edit for edit in edits(PINNED_KNIGHT) if edit.units == (Moved("p", "h7", "h6"),)]
    assert proved_twin(remedy, idle, ranked(idle.fen)) is None


def test_what_is_not_firm_is_no_twin() -> None:
    remedy = remedy_of(ranked(PINNED_KNIGHT))
    twin = twins_of(PINNED_KNIGHT, 3).twins[0]
    for uci in (twin.lead, twin.better[0]):
        shaken = dict(twin.survey)
        shaken["moves"] = [
            {**move, "firm": False} if move["uci"] == uci else move for move in twin.survey["moves"]
        ]
        assert proved_twin(remedy, twin.edit, shaken) is None  # type: ignore[arg-type]
    assert proved_twin(remedy, twin.edit, twin.survey) == twin
    assert twin_again(ranked(PINNED_KNIGHT), twin.survey) == twin
    assert twin_again(ranked(PINNED_KNIGHT), ranked(PINNED_KNIGHT)) is None


def test_without_a_remedy_there_is_nothing_to_turn() -> None:
    with pytest.raises(TwinError, match="Nothing is in danger here"):
        remedy_of(ranked(QUIET))


def test_in_the_middle_of_a_trade_there_are_no_twins() -> None:
    start = "r1bqkbnr/1ppp1ppp/p1n5/1B2p3/4P3/5N2/PPPP1PPP/RNBQK2R w KQkq - 0 4"
    traded = core.survey(start, moves=["b5c6"], reach=REACH, firm=True, rank_nodes=core.RANK_NODES)
    assert traded["owed"] == 300
    with pytest.raises(TwinError, match="in the middle of a trade"):
        remedy_of(traded)


def test_when_the_time_is_up_it_says_so() -> None:
    ticks = itertools.count(0.0, 10.0)
    search = find_twins(ranked(PINNED_KNIGHT), seconds=15, clock=lambda: next(ticks))
    assert not search.ended
    assert not search.twins
    assert search.screened < search.changes


WORDS = [
    ("step", (Moved("p", "h7", "h6"),), "With the pawn on h6 instead of on h7"),
    ("removed", (Moved("N", "f3", None),), "Without the knight on f3"),
    ("added", (Moved("P", None, "c2"),), "With the pawn on c2 added"),
    (
        "castling",
        (Moved("k", "e8", "g8"), Moved("r", "h8", "f8")),
        "With the king on g8 and the rook on f8 instead of on e8 and h8",
    ),
]


@pytest.mark.parametrize(("change", "units", "words"), WORDS)
def test_what_is_changed_in_words(change, units, words) -> None:  # type: ignore[no-untyped-def]
    assert change_in_words(Edit(change, units, "", 0)) == words

"""Every answer of an exercise is borne out by the plain reference, and a false one is told.

`scripts/prove_shelf.py` does the same to a whole shelf, which takes an hour and more.
"""

import dataclasses

import pytest

from fastness.exercises.admission import exercises_of
from fastness.exercises.exercise import KINDS, Exercise, Kind
from fastness.exercises.proving import prove
from tests.judge.on_exercises import Bench, judge_exercise
from tests.judge.plain import Plain

FENS = (
    "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1",
    "8/8/1r1k4/N7/8/4b3/8/4K3 b - - 0 1",
    "3k4/R7/3b3p/1K1Pn1p1/P7/1p3PP1/1P5P/8 w - - 2 44",
    "8/p3k3/4b3/2pBP3/2p5/P1K3p1/8/8 w - - 3 50",
)
"""Few units, so that the plain reference is quick one move deeper."""


@pytest.fixture(scope="module", name="exercises")
def admitted() -> list[Exercise]:
    return [one for fen in FENS for one in exercises_of(prove(fen, rank_nodes=2_000))]


def test_every_answer_is_borne_out(exercises: list[Exercise], plain: Plain) -> None:
    assert {one.kind for one in exercises} == set(KINDS)
    for fen in FENS:
        bench = Bench(fen, plain)
        for one in exercises:
            if one.fen == fen:
                judged = list(judge_exercise(one, bench))
                assert judged
                assert not [answer.fault for answer in judged if answer.fault]


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "better way"])
def test_an_answer_left_out_is_told(kind: Kind, exercises: list[Exercise], plain: Plain) -> None:
    one = next(one for one in exercises if one.kind == kind and one.accepted)
    less = one.accepted[1:] if kind != "is it safe" else ("yes", "no")[one.accepted == ("yes",) :]
    false = dataclasses.replace(one, accepted=tuple(less))
    told = [answer.fault for answer in judge_exercise(false, Bench(one.fen, plain)) if answer.fault]
    assert told
    if kind != "is it safe":
        assert one.accepted[0] in told[0]


def test_a_move_that_falls_is_no_better_way(exercises: list[Exercise], plain: Plain) -> None:
    one = next(one for one in exercises if one.kind == "better way")
    falls = next(move["uci"] for move in one.proved.survey["moves"] if not move["holds"])
    false = dataclasses.replace(one, accepted=(falls,))
    told = [answer for answer in judge_exercise(false, Bench(one.fen, plain)) if answer.fault]
    assert [answer.answer for answer in told] == [falls]

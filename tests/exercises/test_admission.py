"""Which questions a position is admitted for, and that only firm answers count."""

import dataclasses

import pytest

from fastness import core
from fastness.exercises.admission import exercises_of
from fastness.exercises.exercise import Exercise, Proved
from fastness.exercises.proving import natural_failures, prove, unsafe_squares
from fastness.publish.answers import ringed
from fastness.survey.words import THRESHOLD
from tests.exercises.asked import BISHOP, KNIGHT, QUIET


@pytest.fixture(scope="module")
def proofs() -> dict[str, Proved]:
    return {fen: prove(fen, rank_nodes=2_000) for fen in (BISHOP, KNIGHT, QUIET)}


def of_kind(proved: Proved, kind: str) -> list[Exercise]:
    return [one for one in exercises_of(proved) if one.kind == kind]


def test_the_unsafe_unit_is_the_answer_and_none_where_nothing_is(proofs: dict[str, Proved]) -> None:
    assert [one.accepted for one in of_kind(proofs[BISHOP], "which unit")] == [("d8",)]
    assert [one.accepted for one in of_kind(proofs[QUIET], "which unit")] == [()]
    assert not of_kind(proofs[QUIET], "every move")


GIVEN_UP = "r1bq1b1r/ppp3pp/4k3/3np3/1nB5/2N2Q2/PPPP1PPP/R1B2RK1 b - - 5 9"
"""After a3 Black may push the pawn b7 to b5, where it is taken instead of a knight."""


def test_a_pawn_that_its_own_side_pushes_into_danger_is_no_answer() -> None:
    (one,) = of_kind(prove(GIVEN_UP, rank_nodes=2_000), "which unit")
    assert one.accepted == ("b4", "d5")
    assert "b7" in one.not_judged
    assert "b7" not in ringed(one)


def test_every_accepted_move_holds_one_move_deeper_and_no_rejected_one_does(
    proofs: dict[str, Proved],
) -> None:
    checked = 0
    for proved in proofs.values():
        for one in exercises_of(proved):
            if one.kind not in ("every move", "better way"):
                continue
            deeper = core.survey(proved.fen, reach=4)
            holds = {move["uci"]: move["holds"] for move in deeper["moves"]}
            assert all(holds[move] for move in one.accepted)
            if one.kind == "every move":
                rejected = set(holds) - set(one.accepted) - set(one.not_judged)
                assert not any(holds[move] for move in rejected)
            checked += 1
    assert checked


def test_a_move_that_turns_is_not_judged(proofs: dict[str, Proved]) -> None:
    survey = proofs[KNIGHT].survey
    turned = survey["moves"][0]["uci"]
    moves = [{**move, "firm": move["uci"] != turned} for move in survey["moves"]]
    changed = {**survey, "moves": moves}
    proved = dataclasses.replace(proofs[KNIGHT], survey=changed)  # type: ignore[arg-type]
    for one in exercises_of(proved):
        assert turned not in one.accepted or one.kind in ("which unit", "why it fails")
        if one.kind in ("every move", "better way"):
            assert turned in one.not_judged


def test_nothing_is_admitted_where_much_is_not_firm(proofs: dict[str, Proved]) -> None:
    survey = proofs[KNIGHT].survey
    moves = [{**move, "firm": place % 3 > 0} for place, move in enumerate(survey["moves"])]
    changed = {**survey, "moves": moves}
    proved = dataclasses.replace(proofs[KNIGHT], survey=changed)  # type: ignore[arg-type]
    assert exercises_of(proved) == []


def test_units_that_change_one_move_deeper_are_no_question(proofs: dict[str, Proved]) -> None:
    assert not of_kind(dataclasses.replace(proofs[BISHOP], firm_units=False), "which unit")


def test_replies_win_what_they_are_said_to_win(proofs: dict[str, Proved]) -> None:
    proved = proofs[BISHOP]
    assert proved.replies
    assert set(proved.replies) <= {move["uci"] for move in natural_failures(proved.survey)}
    for asked, replies in proved.replies.items():
        after = core.survey(proved.fen, moves=[asked], reach=3)
        nets = {move["uci"]: move["net"] for move in after["moves"]}
        for reply in replies:
            net = nets[reply]
            assert net == "mates" or (isinstance(net, int) and net >= THRESHOLD)


def test_the_unsafe_units_alone_are_those_of_the_survey() -> None:
    for fen in (BISHOP, KNIGHT, QUIET):
        assert set(core.unsafe_units(fen, reach=3)) == unsafe_squares(core.survey(fen))

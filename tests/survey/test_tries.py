from collections import defaultdict

import pytest

from fastness.core.shapes import Survey
from fastness.survey.tries import loss, natural_tries
from tests.survey.samples import centre, natural, pinned_down, survey, unit


def by_kind(given: Survey) -> dict[str, set[str]]:
    found: dict[str, set[str]] = defaultdict(set)
    for move in given["moves"]:
        move["natural"] = False
    for move in natural(given):
        move["natural"] = True
    tries, _ = natural_tries(given)
    for one in tries:
        found[one.kind].add(one.move["san"])
    return dict(found)


def test_tries_are_named_by_what_they_set_out_to_do() -> None:
    assert by_kind(pinned_down()) == {
        "capture": {"Qxg5"},
        "move": {"Qe7", "Qf6"},
        "guard": {"Nc6"},
    }


def test_a_move_that_only_keeps_its_own_guard_is_no_try() -> None:
    given = centre()
    assert by_kind(given) == {}  # Qg4 guards too, but gives away the queen for a pawn in danger
    for move in given["moves"]:
        if move["san"] == "Qg4":
            move["net"] = -100
    assert by_kind(given) == {"guard": {"Qg4"}}


def test_guarding_the_square_where_a_pawn_promotes_is_a_try() -> None:
    fen = "6k1/P4ppp/8/8/2r5/8/5PPP/6K1 b - - 0 1"
    given = survey(
        fen,
        danger=(800, 800, 800),
        promotions={"a8": "pass a8=Q+"},
        holds={"Kf8": ()},
        falls={"Rd4": (-800, "a8=Q+")},
    )
    assert by_kind(given)["guard"] == {"Rc8"}


def test_every_falling_move_is_told_once() -> None:
    for given in (pinned_down(), centre()):
        tries, rest = natural_tries(given)
        told = [one.move["san"] for one in tries] + [move["san"] for move in rest]
        falling = [move["san"] for move in given["moves"] if not move["holds"]]
        assert sorted(told) == sorted(falling)


def test_en_passant_takes_the_attacker() -> None:
    fen = "4k3/8/8/8/3pP3/2B5/8/4K3 b - e3 0 1"
    given = survey(fen, units=[unit(fen, "d4", "unsafe")], holds={})
    assert "dxe3" not in by_kind(given).get("capture", set())  # the pawn e4 attacks nothing there
    fen = "4k3/8/8/2b5/3Pp3/8/8/4K3 b - d3 0 1"
    given = survey(fen, units=[unit(fen, "c5", "unsafe")], holds={})
    assert by_kind(given)["capture"] == {"exd3", "Bxd4"}


@pytest.mark.parametrize(("attacker", "blocks"), [("r", {"c4"}), ("b", set()), ("n", set())])
def test_only_what_slides_along_the_line_is_blocked(attacker: str, blocks: set[str]) -> None:
    fen = f"4k3/8/8/8/{attacker}2Q4/8/2P5/4K3 w - - 0 1"
    queen = unit(fen, "d4", "unsafe", attackers=["a4"])
    assert by_kind(survey(fen, units=[queen], holds={})).get("block", set()) == blocks


def test_a_mate_suffered_is_the_greatest_loss() -> None:
    moves = survey(
        "7k/8/8/8/8/8/8/K7 w - - 0 1", nets={"Ka2": "mated", "Kb1": -900, "Kb2": "mates"}
    )
    assert [move["san"] for move in sorted(moves["moves"], key=loss)] == ["Kb2", "Kb1", "Ka2"]


def test_a_promotion_to_a_lesser_piece_is_no_natural_try() -> None:
    fen = "1r5k/P7/8/8/8/8/8/K7 w - - 0 1"
    given = survey(fen, units=[unit(fen, "a7", "unsafe")], holds={})
    assert by_kind(given)["move"] == {"a8=Q", "axb8=Q+"}

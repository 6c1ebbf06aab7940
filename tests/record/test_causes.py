"""The causes of an episode and the habits seen in it, on small positions made by hand."""

from typing import Any

import pytest

from fastness.record import episodes_of
from fastness.record.causes import BY_A_PAWN, FAR, FURTHER, GUARDS, GUARDS_LESS, HITS_BACK
from tests.record.made import KNIGHT, occasion, student_game

RC8 = {"uci": "a8c8", "san": "Rc8"}  # guards the knight
RA3 = {"uci": "a8a3", "san": "Ra3"}  # hits the knight d3, which nothing guards
CHECK = {"uci": "a8a1", "san": "Ra1+"}
ROOK_ATTACKS = "r5k1/8/2n5/8/2R5/3N4/8/6K1 b - - 0 20"  # a rook, worth more, attacks c6


def causes(**changes: Any) -> set[str]:
    (one,) = episodes_of(student_game([occasion(**changes)]))
    return set(one.causes)


@pytest.mark.parametrize(
    ("changes", "there", "not_there"),
    [
        ({}, {BY_A_PAWN, "less valuable attacker"}, {FAR, GUARDS, HITS_BACK}),
        ({"fen": ROOK_ATTACKS}, set(), {BY_A_PAWN}),
        ({"units": ["a8"]}, set(), {BY_A_PAWN}),
        ({"reach": 2}, {FAR}, {FURTHER}),
        ({"reach": 3}, {FURTHER}, {FAR}),
        ({"outcome": "let fall"}, set(), {GUARDS, HITS_BACK}),
        ({"outcome": "let fall", "played": RC8}, {GUARDS, GUARDS_LESS}, {HITS_BACK}),
        ({"outcome": "lessened", "played": RC8, "fen": ROOK_ATTACKS}, {GUARDS}, {GUARDS_LESS}),
        ({"played": RC8, "way": "guard", "fen": ROOK_ATTACKS}, set(), {GUARDS, GUARDS_LESS}),
        ({"outcome": "let fall", "played": RC8, "holding": []}, set(), {GUARDS, GUARDS_LESS}),
        ({"outcome": "let fall", "played": RA3}, {HITS_BACK}, {GUARDS}),
        ({"outcome": "let fall", "played": CHECK}, {HITS_BACK}, {GUARDS}),
        ({"outcome": "let fall", "played": RA3, "holding": ["Ra1+"]}, set(), {HITS_BACK}),
        ({"outcome": "let fall", "played": RA3, "holding_ways": ["other"] * 2}, set(), {HITS_BACK}),
        ({"outcome": "let fall", "played": RA3, "tried": "block"}, set(), {HITS_BACK}),
        ({"outcome": "let fall", "tried": "counterattack"}, {HITS_BACK}, set()),
        ({"played": CHECK, "way": "counterattack", "holding": ["Nb4", "Ra1+"]}, {HITS_BACK}, set()),
        ({"played": CHECK, "way": "counterattack", "holding": ["Ra1+", "Nb4"]}, set(), {HITS_BACK}),
    ],
)
def test_causes_and_habits(changes: dict[str, Any], there: set[str], not_there: set[str]) -> None:
    found = causes(**changes)
    assert there <= found
    assert found.isdisjoint(not_there)


def test_a_piece_put_where_a_pawn_takes_it() -> None:
    """Nothing was in danger: the mechanism is read off what takes the knight after the move."""
    fen = KNIGHT.replace("2n5", "8").replace("r5k1/8", "r1n3k1/8")
    put = occasion(
        fen=fen, outcome="exposed", danger=0, mechanisms=[], units=["c8"], line=["c8d6", "b5b6"]
    )
    (one,) = episodes_of(student_game([put]))
    assert BY_A_PAWN not in one.causes
    taken = occasion(
        fen="r1n3k1/8/8/2P5/8/8/8/6K1 b - - 0 20",
        outcome="exposed",
        danger=0,
        mechanisms=[],
        units=["c8"],
        line=["c8b6", "c5b6"],
    )
    (one,) = episodes_of(student_game([taken]))
    assert one.causes == ("unguarded", "less valuable attacker", BY_A_PAWN)

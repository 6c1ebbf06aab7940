"""What an occasion tells: its keys, squares, moves, and where the two kinds differ."""

from typing import get_type_hints

import chess

from fastness.sift.occasion import Occasion, occasions, published
from tests.sift.looks import TAGS, game, look, verdict

# 1.e4 e5 2.Nf3: the pawn e5 is in danger.
KNIGHT = "rnbqkbnr/pppp1ppp/8/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 1 2"
MOVES = ["e2e4", "e7e5", "g1f3", "a7a6"]
CONTRACT = [
    *("kind", "game", "ply", "move_number", "colour", "player", "fen", "owed", "played"),
    *("outcome", "recapture", "episode", "danger", "net", "best_net", "units", "mechanisms"),
    *("reach", "way", "holding", "holding_ways", "tried", "reason", "taken", "clock"),
]
LEGAL = [
    verdict("d7d6", "d6", 0, ways=("guard",)),
    verdict("b8c6", "Nc6", 0, ways=("guard", "move")),
    verdict("g8f6", "Nf6", 10, ways=("counterattack",)),
    verdict("d8h4", "Qh4", "mated"),
    verdict("a7a6", "a6", -100, falls_at=2, reason="does not address it"),
]


def test_keys_are_those_of_the_contract() -> None:
    assert set(get_type_hints(Occasion)) == {*CONTRACT, "line"}
    seen = look(KNIGHT, "a7a6", ply=4, danger=100, best_net=100, takings={"f3": 100})
    (danger, taking) = occasions(game(MOVES), [seen])
    assert list(published(danger)) == list(published(taking)) == CONTRACT


def test_nothing_can_be_taken_where_all_was_won_before() -> None:
    """A run of captures that won something is in every net: no unit is there to be won now."""
    assert occasions(game(MOVES), [look(KNIGHT, "a7a6", ply=4, best_net=300, net=300)]) == []
    fen = "4r1k1/8/8/8/8/8/4r3/4K3 w - - 0 1"
    moves = [verdict("e1e2", "Kxe2", 500), verdict("e1f1", "Kf1", 500)]
    in_check = look(fen, "e1f1", best_net=500, net=500, moves=moves, holding=2, legal=2)
    assert occasions(game(["e1f1"], fen), [in_check]) == []


def test_a_danger() -> None:
    seen = look(
        KNIGHT,
        "a7a6",
        ply=4,
        unsafe={"e5": 100},
        mechanisms={"e5": ["unguarded"]},
        danger=100,
        reach=1,
        net=-100,
        holds=False,
        moves=LEGAL,
        reply_wins=True,
        best_net=10,
    )
    (told,) = occasions(game(MOVES, clocks=(None, None, None, 61.5)), [seen])
    assert published(told) == {
        "kind": "danger",
        "game": {
            "number": 7,
            "event": "Club evening",
            "date": "2024.01.02",
            "white": "Weber, Anna",
            "black": "Lopez, Ben",
            "result": "1-0",
        },
        "ply": 4,
        "move_number": 2,
        "colour": "black",
        "player": "Lopez, Ben",
        "fen": KNIGHT,
        "owed": 0,
        "played": {"uci": "a7a6", "san": "a6"},
        "outcome": "let fall",
        "recapture": False,
        "episode": 1,
        "danger": 100,
        "net": -100,
        "best_net": 10,
        "units": ["e5"],
        "mechanisms": ["unguarded"],
        "reach": 1,
        "way": None,
        "holding": ["Nf6", "Nc6", "d6"],
        "holding_ways": ["counterattack", "guard", "guard"],
        "tried": None,
        "reason": "does not address it",
        "taken": True,
        "clock": 61.5,
    }


def test_together_counts_as_unsafe_and_mechanisms_join_in_order() -> None:
    seen = look(
        KNIGHT,
        "a7a6",
        unsafe={"e5": 100, "c7": 100},
        mechanisms={"c7": ["fork", "unguarded"], "e5": ["unguarded", "pin"]},
        danger=100,
    )
    assert seen["survey"] is not None
    for unit in seen["survey"]["units"]:
        if unit["square"] == "c7":
            unit["status"] = "unsafe together"
        if unit["square"] == "d7":
            unit["status"] = "won back"
    (told,) = occasions(game(MOVES), [seen])
    order = [u["square"] for u in seen["survey"]["units"] if u["square"] in ("c7", "e5")]
    assert told["units"] == order == ["e5", "c7"]
    assert told["mechanisms"] == ["unguarded", "pin", "fork"]


def test_an_exposed_unit_is_what_the_move_drops() -> None:
    seen = look(KNIGHT, "a7a6", net=-100, holds=False, drops=["e5", "d7"], moves=LEGAL)
    (told,) = occasions(game(MOVES), [seen])
    assert (told["outcome"], told["units"], told["reach"]) == ("exposed", ["e5", "d7"], 2)


CHECK = "rnbqkbnr/ppp2ppp/3pp3/1B6/3PP3/8/PPP2PPP/RNBQK1NR b KQkq - 1 3"


def test_in_check_the_king_is_the_unit_when_the_move_holds() -> None:
    seen = look(CHECK, "c7c6", holding=4, legal=5, way="block")
    (told,) = occasions(game(["c7c6"], CHECK), [seen])
    assert (told["outcome"], told["units"], told["danger"]) == ("held", ["e8"], None)
    assert (told["reach"], told["way"]) == (None, "block")


def test_in_check_a_move_that_falls_names_what_it_drops() -> None:
    moves = [verdict("b8c6", "Nc6", -300, falls_at=1), verdict("c7c6", "c6", 0)]
    seen = look(CHECK, "b8c6", holding=1, legal=5, net=-300, holds=False, drops=["b8"], moves=moves)
    (told,) = occasions(game(["b8c6"], CHECK), [seen])
    assert (told["outcome"], told["units"], told["reach"]) == ("let fall", ["b8"], 1)


def test_a_taking() -> None:
    moves = [
        verdict("d7d6", "d6", 0),
        verdict("d8g5", "Qg5", 260),
        verdict("d8f6", "Qf6", 300),
        verdict("b8c6", "Nc6", 300),
    ]
    seen = look(
        KNIGHT,
        "d7d6",
        best_net=300,
        takings={"f3": 300, "g2": 100},
        mechanisms={"f3": ["outnumbered"], "e5": ["pin"]},
        moves=moves,
    )
    assert seen["survey"] is not None
    seen["survey"]["takings"][1]["reach"] = 1
    (told,) = occasions(game(MOVES), [seen])
    assert told["kind"] == "taking"
    assert (told["units"], told["mechanisms"]) == (["f3", "g2"], ["outnumbered"])
    assert (told["reach"], told["episode"], told["taken"]) == (1, None, None)
    assert told["holding"] == ["Nc6", "Qf6", "Qg5"]


def test_what_can_be_taken_in_check_is_what_the_winning_moves_take() -> None:
    """The check by the rook can be met by taking it, en passant likewise."""
    fen = "4r1k1/8/8/8/8/8/4r3/4K3 w - - 0 1"
    seen = look(fen, "e1f1", best_net=500, moves=[verdict("e1e2", "Kxe2", 500)], holding=1, legal=2)
    told = occasions(game(["e1f1"], fen), [seen])
    assert [(one["kind"], one["units"]) for one in told][-1] == ("taking", ["e2"])
    fen = "8/8/8/2k5/3Pp3/8/8/4K3 b - d3 0 1"
    seen = look(fen, "c5d5", best_net=100, moves=[verdict("e4d3", "exd3", 100)])
    told = occasions(game(["c5d5"], fen), [seen])
    assert [(one["kind"], one["units"]) for one in told][-1] == ("taking", ["d4"])


def test_nothing_to_see() -> None:
    assert occasions(game(MOVES), [look(KNIGHT, "a7a6", seen=False, best_net=None)]) == []


def test_missing_tags_are_question_marks() -> None:
    tags = {"White": TAGS["White"]}
    (told,) = occasions(game(MOVES, tags=tags), [look(KNIGHT, "a7a6", danger=100)])
    assert told["game"]["black"] == told["player"] == told["game"]["event"] == "?"
    assert told["game"]["date"] == "????.??.??"
    assert chess.Board(told["fen"]).is_valid()

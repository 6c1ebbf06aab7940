"""Occasions and games made by hand for the tests of the record."""

from collections.abc import Sequence
from typing import Any

from fastness.record import StudentGame
from fastness.sift import Occasion

# Black's knight on c6 is attacked by the pawn b5; the rook a8 can guard it or hit the knight d3.
KNIGHT = "r5k1/8/2n5/1P6/8/3N4/8/6K1 b - - 0 20"


def occasion(ply: int = 40, outcome: str = "held", **changes: Any) -> Occasion:
    """An occasion of danger to the knight c6; whatever is given in `changes` is different."""
    held = outcome == "held"
    made: Any = {
        "kind": "danger",
        "game": {
            "number": 1,
            "event": "?",
            "date": "2026.09.07",
            "white": "Weirwater, Ada",
            "black": "Sluicegate, Ned",
            "result": "*",
        },
        "ply": ply,
        "move_number": 20,
        "colour": "black",
        "player": "Sluicegate, Ned",
        "fen": KNIGHT,
        "owed": 0,
        "played": {"uci": "c6b4", "san": "Nb4"} if held else {"uci": "g8h8", "san": "Kh8"},
        "outcome": outcome,
        "recapture": False,
        "episode": ply,
        "danger": 300,
        "net": 0 if held else -300,
        "best_net": 0,
        "units": ["c6"],
        "mechanisms": ["less valuable attacker"],
        "reach": 1,
        "way": "move" if held else None,
        "holding": ["Nb4", "Ne7"],
        "holding_ways": ["move", "move"],
        "taken": None,
        "clock": None,
        "line": None,
    }
    made.update(changes)
    whole: Occasion = made
    return whole


def student_game(
    occasions: Sequence[Occasion], key: str = "1", date: str = "2026.09.07", **changes: Any
) -> StudentGame:
    """Black's side of a game with these occasions."""
    given: dict[str, Any] = {"opponent_rating": None, "rating": None, **changes}
    return StudentGame(key, date, "black", 40, occasions=tuple(occasions), **given)

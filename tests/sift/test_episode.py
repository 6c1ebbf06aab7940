"""Episodes: one danger to one unit, followed through its own moves over consecutive own moves."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import chess
import pytest

from fastness.core.shapes import Look
from fastness.sift.occasion import occasions
from tests.sift.looks import game, look

FEN = "4k3/p7/2n2n2/8/8/2N2N2/P7/R3K2R w KQ - 0 1"


@dataclass(frozen=True)
class Step:
    """One own move of White: what was unsafe before it, and what it did."""

    move: str
    unsafe: dict[str, int | str] = field(default_factory=dict)
    drops: Sequence[str] = ()
    held: bool = True
    check: bool = False
    seen: bool = True


ROWS = [
    (
        "a unit that hangs over three own moves is one episode",
        [Step("a2a3", {"c3": 300}, held=False)] * 1
        + [Step("a3a4", {"c3": 300}, held=False), Step("a4a5", {"c3": 300})],
        [1, 1, 1],
    ),
    (
        "followed through its own move",
        [Step("c3d5", {"c3": 300}, held=False), Step("a2a3", {"d5": 300})],
        [1, 1],
    ),
    (
        "another unit, another episode",
        [Step("a2a3", {"c3": 300}), Step("a3a4", {"f3": 300})],
        [1, 2],
    ),
    (
        "an own move without danger between them ends the episode",
        [Step("a2a3", {"c3": 300}), Step("a3a4", seen=False), Step("a4a5", {"c3": 300})],
        [1, None, 2],
    ),
    (
        "the same where the survey is there but names nothing",
        [Step("a2a3", {"c3": 300}), Step("a3a4"), Step("a4a5", {"c3": 300})],
        [1, None, 2],
    ),
    (
        "of several units the one with the largest loss is followed",
        [Step("a2a3", {"a2": 100, "c3": 300}), Step("a3a4", {"a3": 100})],
        [1, 2],
    ),
    (
        "a dearer unit comes into danger: a new episode, and the old one goes on after it",
        [
            Step("a2a3", {"c3": 300}, held=False),
            Step("a1b1", {"c3": 300, "a1": 500}),
            Step("a3a4", {"c3": 300}),
        ],
        [1, 2, 1],
    ),
    (
        "with equal losses the unit followed already counts",
        [Step("a2a3", {"f3": 300}), Step("a3a4", {"c3": 300, "f3": 300})],
        [1, 1],
    ),
    (
        "what an exposed move drops is the same episode at the next own move",
        [Step("a2a3", drops=["f3"], held=False), Step("a3a4", {"f3": 300})],
        [1, 1],
    ),
    (
        "dropped by its own move",
        [Step("f3g5", drops=["f3"], held=False), Step("a2a3", {"g5": 300})],
        [1, 1],
    ),
    (
        "either of two units dropped carries it on",
        [Step("a2a3", drops=["c3", "f3"], held=False), Step("a3a4", {"f3": 300})],
        [1, 1],
    ),
    (
        "castling takes the rook along",
        [Step("e1g1", {"h1": 500}, held=False), Step("a2a3", {"f1": 500})],
        [1, 1],
    ),
    (
        "and the other rook",
        [Step("e1c1", {"a1": 500}, held=False), Step("a2a3", {"d1": 500})],
        [1, 1],
    ),
    (
        "the other rook stays where it is",
        [Step("e1g1", {"a1": 500}, held=False), Step("a2a3", {"f1": 500})],
        [1, 2],
    ),
    (
        "a check in between does not end it, since nothing else is judged in check",
        [
            Step("a2a3", {"c3": 300}, held=False),
            Step("e1d1", check=True),
            Step("a3a4", {"c3": 300}),
        ],
        [1, 2, 1],
    ),
    (
        "in check, dropping the unit that hung is the same episode",
        [
            Step("a2a3", {"c3": 300}, held=False),
            Step("e1d1", drops=["c3"], held=False, check=True),
        ],
        [1, 1],
    ),
    (
        "a danger that names no unit stands alone",
        [Step("a2a3", {"": 300}), Step("a3a4", {"": 300})],
        [1, 2],
    ),
]


def looks_of(steps: Sequence[Step]) -> list[Look]:
    board = chess.Board(FEN)
    made: list[Look] = []
    for at, step in enumerate(steps):
        unsafe = {square: loses for square, loses in step.unsafe.items() if square}
        made.append(
            look(
                board.fen(),
                step.move,
                ply=2 * at + 1,
                unsafe=unsafe,
                drops=step.drops,
                danger=300 if step.unsafe else 0,
                net=0 if step.held else -300,
                holds=step.held,
                in_check=step.check,
                seen=step.seen,
                best_net=0,
            )
        )
        board.push_uci(step.move)
        board.push(chess.Move.null())
    return made


@pytest.mark.parametrize("row", ROWS, ids=lambda row: str(row[0]))
def test_table(row: tuple[str, list[Step], list[int | None]]) -> None:
    _, steps, wanted = row
    plies = {2 * at + 1: number for at, number in enumerate(wanted) if number is not None}
    found = occasions(game(["a2a3"] * (2 * len(steps))), looks_of(steps))
    assert {one["ply"]: one["episode"] for one in found} == plies


def test_both_players_share_one_numbering() -> None:
    white = look(FEN, "a2a3", ply=1, unsafe={"c3": 300}, danger=300)
    after = "4k3/p7/2n2n2/8/8/P1N2N2/8/R3K2R b KQ - 0 1"
    black = look(after, "a7a6", ply=2, unsafe={"c6": 300}, danger=300)
    third = "4k3/8/p1n2n2/8/8/P1N2N2/8/R3K2R w KQ - 0 2"
    again = look(third, "a3a4", ply=3, unsafe={"c3": 300}, danger=300)
    found = occasions(game(["a2a3", "a7a6", "a3a4"]), [white, black, again])
    assert [one["episode"] for one in found] == [1, 2, 1]

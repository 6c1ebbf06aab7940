"""What a lesson claims is proved: what is false is caught, and nothing else is blamed."""

import re
from collections import Counter
from pathlib import Path

import chess
import pytest

from fastness.language import LANGUAGES, language
from fastness.lessons.checking import check_block
from fastness.lessons.example import EXAMPLES
from fastness.lessons.found import Answer
from fastness.lessons.grammar import NAMES
from fastness.lessons.reading import read_lesson
from fastness.lessons.variations import differs_in_one_detail

FORTY = Path(__file__).parents[1] / "data" / "lessons" / "forty.md"
NODES = 2_000
"""Enough to tell the better ways of the table, and quick."""
KNIGHT = "rnbqkbnr/pppp1ppp/8/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 1 2"


def answers(text: str, code: str = "en") -> list[Answer]:
    lesson = read_lesson(text)
    assert lesson.faults == ()
    words = language(code)
    return [
        answer for block in lesson.blocks for answer in check_block(block, words, rank_nodes=NODES)
    ]


def test_all_that_is_false_is_caught_and_nothing_else_is_blamed() -> None:
    text = FORTY.read_text(encoding="utf-8")
    truths = re.findall(r"^# (true|false): .", text, re.MULTILINE)
    assert Counter(truths) == {"true": 20, "false": 20}
    rows, found = text.split("\n"), answers(text)
    assert len(found) == len(truths)
    assert {answer.claim.text.partition(":")[0] for answer in found} == set(NAMES)
    for answer in found:
        wanted = rows[answer.claim.line - 2]
        assert wanted.startswith(f"# {answer.verdict}: "), (answer, wanted)
        assert bool(answer.told) == (answer.verdict == "false")


@pytest.mark.parametrize("code", LANGUAGES)
def test_the_lesson_to_begin_with_is_true(code: str) -> None:
    found = answers(EXAMPLES["de" if code == "de" else "en"], code)
    assert len(found) > 5
    assert {answer.verdict for answer in found} == {"true"}


UNSETTLED = [
    # Nxe5 is answered by Qe7 and Qxe4, which is seen only four moves ahead.
    (KNIGHT, "unsafe: e5", "won back"),
    # The net of the threat grows from 3 to 4 pawns' worth at the fourth move.
    ("6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1", "danger: 3", "4 pawns' worth"),
    # White has no time to spare: Bb3 and Bxb7 take four moves.
    ("6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1", "holds: Bd6", "b7 is taken"),
    # In check there is no pass, by which what is unsafe is told.
    ("4k3/8/8/8/8/8/4r3/R3K3 w - - 0 1", "safe: a1", "in check no unit is judged"),
    ("4k3/8/8/8/8/8/4r3/R3K3 w - - 0 1", "danger: none", "in check"),
    # Stalemate: nobody moves any more.
    ("7k/5Q2/8/8/8/8/8/6K1 b - - 0 1", "danger: mate", "no legal move"),
    # Longer than what is searched, and a mate that Black could avoid.
    (
        "r1bqkbnr/pppp1ppp/8/4p3/2BnP3/5N2/PPPP1PPP/RNBQK2R w KQkq - 4 4",
        "line: Nxe5 Qg5 Nxf7 Qxg2 Rf1 Qxe4+ Be2 Nf3# mate",
        "against every answer",
    ),
]


@pytest.mark.parametrize(("fen", "claim", "says"), UNSETTLED, ids=[row[1] for row in UNSETTLED])
def test_what_is_not_settled_is_said_to_be_not_settled(fen: str, claim: str, says: str) -> None:
    (found,) = answers(f"```position\n{fen}\n{claim}\n```\n")
    assert found.verdict == "not settled"
    assert says in found.told


def test_better_ways_that_were_not_ranked_are_not_settled() -> None:
    lesson = read_lesson(f"```position\n{KNIGHT}\nbetter ways: Nc6\n```\n")
    (found,) = check_block(lesson.blocks[0], rank_nodes=0)
    assert found.verdict == "not settled"
    assert "not ranked" in found.told


TRADE = "r1bqkbnr/1ppp1ppp/p1n5/1B6/4P3/5N2/PPPP1PPP/RNBQK3 w Qkq - 0 4"
REFUTING = [
    ("falls: h6 because Ba4", "true"),  # the bishop is off with the knight it took
    ("falls: h6 because d3", "false"),  # the bishop can be taken still, and the trade is even
]


@pytest.mark.parametrize(("claim", "verdict"), REFUTING)
def test_a_refutation_is_counted_from_before_the_trade(claim: str, verdict: str) -> None:
    (found,) = answers(f"```position\n{TRADE}\nmoves: 4.Bxc6\n{claim}\n```\n")
    assert found.verdict == verdict


DETAILS = [
    ("4k3/8/8/8/8/8/P7/4K3 w - - 0 1", True),  # a pawn added
    ("4k3/8/8/8/8/8/8/3RK3 w - - 0 1", True),  # a rook added
    ("4k3/8/8/8/8/8/8/3K4 w - - 0 1", True),  # the king elsewhere
    ("3k4/8/8/8/8/8/8/3K4 w - - 0 1", False),  # both kings elsewhere
    ("4k3/8/8/8/8/8/8/4K3 w - - 0 1", False),  # nothing
    ("4k3/8/8/8/8/8/8/4K3 b - - 0 1", False),  # the other side to move
    ("4k3/8/8/8/8/8/P6P/4K3 w - - 0 1", False),  # two pawns added
]


@pytest.mark.parametrize(("fen", "one"), DETAILS)
def test_one_detail_is_one(fen: str, one: bool) -> None:
    board = chess.Board("4k3/8/8/8/8/8/8/4K3 w - - 0 1")
    assert differs_in_one_detail(board, chess.Board(fen)) is one


def test_a_king_that_castled_is_one_detail() -> None:
    home, castled = (chess.Board(f"4k3/8/8/8/8/8/8/{rank} b - - 0 1") for rank in ("4K2R", "5RK1"))
    assert differs_in_one_detail(home, castled)

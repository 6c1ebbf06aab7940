"""Near-duplicates have one key, and others do not."""

import chess
import pytest

from fastness.exercises.exercise import Kind
from fastness.exercises.patterns import pattern, pattern_key, taking_part
from tests.exercises.proofs import BISHOP, BY_TACTICS, exercise

FORK = "6k1/8/2n1n3/8/3P4/8/8/6K1 b - - 0 1"
"""The pawn forks the knights if it is its turn."""


def flipped(fen: str) -> str:
    return chess.Board(fen).mirror().fen()


def mirrored(fen: str) -> str:
    board = chess.Board(fen).transform(chess.flip_horizontal)
    return board.fen()


@pytest.mark.parametrize("fen", [BISHOP, FORK, BY_TACTICS])
@pytest.mark.parametrize("kind", ["which unit", "every move"])
def test_mirror_images_and_colour_flips_are_the_same(fen: str, kind: Kind) -> None:
    key = pattern_key(exercise(fen, kind))
    for other in (flipped(fen), mirrored(fen), flipped(mirrored(fen))):
        assert pattern_key(exercise(other, kind)) == key


def test_what_takes_no_part_makes_no_difference() -> None:
    without_h7 = "6k1/1p3pp1/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1"
    assert "g1" not in {chess.square_name(one) for one in taking_part(exercise(BISHOP))}
    one, other = exercise(BISHOP, "which unit"), exercise(without_h7, "which unit")
    assert pattern_key(one) == pattern_key(other)


def test_another_answer_unit_or_question_makes_another() -> None:
    a_rank_lower = "8/6k1/1p3ppp/2n5/4b3/B7/5N2/4R1K1 b - - 0 1"
    from_d3 = "6k1/1p3ppp/2n5/4b3/B7/3N4/5PPP/4R1K1 b - - 0 1"
    keys = {
        pattern_key(exercise(BISHOP, "which unit")),
        pattern_key(exercise(BISHOP, "every move")),
        pattern_key(exercise(BISHOP, "why it fails", "b7b5")),
        pattern_key(exercise(BISHOP, "why it fails", "b7b6")),
        pattern_key(exercise(BISHOP, "is it safe", "b7b6")),
        pattern_key(exercise(a_rank_lower, "which unit")),
        pattern_key(exercise(from_d3, "which unit")),
    }
    assert len(keys) == 7


def test_the_answer_is_seen_from_whites_side() -> None:
    # The board turned over, so that Black plays up it, and then the mirror that comes first: the
    # bishop e5 stands on d4, its attackers f3 and e1 on c6 and d8, its guard c6 on f3.
    assert pattern(exercise(BISHOP, "which unit")) == "which unit - d4 Bd4 Nf3 nc6 rd8"

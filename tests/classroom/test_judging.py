"""Verdicts on tries: all from the survey, and each with a line that shows it."""

from __future__ import annotations

import chess
import pytest

from fastness.classroom.judging import answers_of, marks_on, nothing_marked, verdict_on
from fastness.classroom.session import NO_MARKS
from fastness.errors import MoveError
from fastness.language import LANGUAGES
from tests.checks.replay import balance
from tests.classroom.boards import FEW, GUARDED, PINNED, QUIET, looked

POSITIONS = (PINNED, GUARDED, FEW, QUIET)


@pytest.mark.parametrize("fen", POSITIONS)
def test_every_legal_move_has_the_verdict_of_the_survey(fen: str) -> None:
    survey = looked(fen).survey
    assert len(survey["moves"]) == chess.Board(fen).legal_moves.count()
    for move in survey["moves"]:
        verdict = verdict_on(looked(fen), move["uci"])
        assert (verdict.holds, verdict.firm) == (move["holds"], move["firm"])
        assert verdict.line[0] == move["uci"]
        assert set(verdict.told) == set(LANGUAGES)
        assert verdict.told["en"].startswith(move["san"].rstrip("+#"))
        assert ("Not settled" in verdict.told["en"]) == (not move["firm"])


@pytest.mark.parametrize("fen", POSITIONS)
def test_a_refutation_wins_by_the_rules_what_the_verdict_says(fen: str) -> None:
    own = chess.Board(fen).turn
    for move in looked(fen).survey["moves"]:
        verdict = verdict_on(looked(fen), move["uci"])
        if verdict.holds:
            continue
        board = chess.Board(fen)
        for uci in verdict.line:
            board.push(board.parse_uci(uci))
        if isinstance(move["net"], int):
            assert balance(chess.Board(fen), own) - balance(board, own) == -move["net"]
        else:
            assert "is mated" in verdict.told["en"]


@pytest.mark.parametrize(
    ("move", "told"),
    [
        (
            "e5c6",
            "Nc6 keeps the material: it moves away and guards d8 against 13.Qxd8.",
        ),
        ("d8d1", "Qxd1 keeps the material: it takes the queen on d1."),
        (
            "f8e8",
            "Re8 loses 3 pawns' worth: guarding does not help, since the pawn on f4 is worth less"
            " than the knight on e5.",
        ),
        (
            "f7f5",
            "f5 keeps the material: it attacks the knight on e4. Not settled: looking one move"
            " further, this changes.",
        ),
    ],
)
def test_a_verdict_is_one_short_sentence(move: str, told: str) -> None:
    assert verdict_on(looked(GUARDED), move).told["en"] == told


@pytest.mark.parametrize(
    ("fen", "move", "told"),
    [
        ("4r1k1/5ppp/8/8/8/8/4QPPP/6K1 w - - 0 1", "e2e8", "Qxe8# mates."),
        (
            "r1b2rk1/2qn1pp1/2p2n1p/p1b5/2Bp3B/2N2N1P/PPP2PP1/R2Q1RK1 w - - 0 13",
            "f3d4",
            "Nxd4 takes the pawn on d4, and wins a pawn's worth.",
        ),
    ],
)
def test_a_move_that_wins_something_is_told_so(fen: str, move: str, told: str) -> None:
    assert verdict_on(looked(fen), move).told["en"] == told


def test_a_verdict_is_told_in_german() -> None:
    told = verdict_on(looked(GUARDED), "e5c6").told["de"]
    assert told.startswith("Sc6 hält das Material: ")


def test_a_move_that_cannot_be_played_has_no_verdict() -> None:
    with pytest.raises(MoveError, match="a8a1 is not legal"):
        verdict_on(looked(GUARDED), "a8a1")


def test_the_answer_is_the_better_ways_in_their_order() -> None:
    survey = looked(GUARDED).survey
    moves = [move for move, _ in answers_of(looked(GUARDED))]
    advised = {move["uci"]: move["rank"] or 0 for move in survey["moves"] if move["advised"]}
    assert set(moves) == set(advised)
    assert [advised[move] for move in moves] == sorted(advised.values())


def test_where_nothing_holds_the_answer_says_so() -> None:
    answers = answers_of(looked(PINNED))
    # Qh4 loses a pawn looking 3 moves ahead, and two looking 4 moves ahead.
    ends = {move["uci"]: move["deeper"] for move in looked(PINNED).survey["moves"]}
    losing = [move for move, deeper in ends.items() if deeper and deeper["net"] == -100]
    assert sorted(move for move, _ in answers) == sorted(losing)
    assert "d8h4" not in losing
    assert answers[0][1]["en"].startswith("None of the 35 legal moves keeps the material.")
    assert answers[0][1]["en"].endswith("a pawn's worth.")


def test_where_something_can_be_won_the_answer_wins_most() -> None:
    # The rook on e8 stands unguarded before the queen.
    fen = "4r1k1/5ppp/8/8/8/8/4QPPP/6K1 w - - 0 1"
    assert [move for move, _ in answers_of(looked(fen))] == ["e2e8"]


def test_where_nothing_can_be_won_there_is_no_answer_and_no_mark() -> None:
    fen = "8/8/8/4k3/8/4K3/4P3/8 b - - 0 1"
    assert answers_of(looked(fen)) == ()
    assert marks_on(looked(fen)) == NO_MARKS
    assert nothing_marked(looked(fen))["en"].startswith("Nothing of Black's can be won, looking 3")


def test_what_is_not_safe_is_marked_with_what_attacks_it() -> None:
    marks = marks_on(looked(PINNED))
    assert (marks.ringed, marks.attacks) == (("e4",), (("e2", "e4"),))


def test_a_move_that_allows_mate_is_told_by_the_move_that_mates() -> None:
    verdict = verdict_on(looked("6k1/5ppp/8/8/8/b7/5PPP/3R2K1 b - - 0 1"), "a3b2")
    assert not verdict.holds
    assert verdict.told == {
        "en": "Bb2 is met by Rd8 mate.",
        "de": "Lb2 scheitert an Td8 matt.",
    }

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from fastness import core
from fastness.core.shapes import Survey
from fastness.language import language
from fastness.survey import for_student
from fastness.survey.student import MOST_WORDS
from tests.survey.ranked import explained, ranked
from tests.survey.samples import PIN, START, centre, pinned_down, survey, unit
from tests.survey.test_page import ALL, CHECK, flat, in_check, runner, trade_in_progress

TABLE = Path(__file__).parents[1] / "data" / "historic-positions.fen"
POSITIONS = [fen for fen in TABLE.read_text("ascii").split("\n") if fen]
LONGEST_SENTENCE = 25


def told(given: Survey) -> str:
    return flat(for_student(given)).strip()


def test_the_attacked_queen() -> None:
    assert told(explained()) == (
        "Your queen on d8 is in danger. The bishop on g5 attacks it and is worth less, so a guard"
        " does not help. But you need not lose anything. Nf6, Be7 and Ne7 lose nothing: they step"
        " in between. Qxg5 looks natural, but it fails. The knight on f3 takes your queen on g5."
        " White answers Nxg5."
    )


def test_without_ranks_the_first_way_of_the_teachers_order_is_told() -> None:
    assert "exd5 loses nothing: it takes the pawn on d5." in told(centre())
    assert "Qd6 and Qd7 lose nothing: they move to safety." in told(pinned_down())


def test_a_guard_is_the_try_that_is_told_first() -> None:
    assert "White answers Bxd8." in told(pinned_down())


def test_a_second_unit_in_danger_is_told() -> None:
    given = pinned_down()
    given["units"].insert(1, unit(PIN, "h8", "unsafe", "pass Bxd8 Kxd8", loses=100))
    del given["units"][-1]
    assert "Your rook on h8 is in danger too." in told(given)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (ALL["mated"], "Your king is in check and cannot get out. That is mate."),
        (ALL["stalemate"], "You have no move, but you are not in check. That is stalemate."),
        (in_check, "Your king is in check from the bishop on b5."),
        (runner, "White has a pawn that wants to promote on a8."),
        (
            trade_in_progress,
            "You are in the middle of a trade. White has won 3 pawns' worth, and now you win it"
            " back.",
        ),
        (
            ALL["forked"],
            "If you wait, you can save only one of two: your bishop on e3 or your rook on f3.",
        ),
        (
            ALL["quiet"],
            "Nothing of yours is in danger right now. Before you move, look at what Black wants.",
        ),
        (
            ALL["bare trade"],
            "Nothing of yours is in danger right now. You can win the bishop on c6: play dxc6.",
        ),
        (
            lambda: survey(START, holds={}),
            "But you have to move, and every move loses something. That is called zugzwang.",
        ),
        (
            lambda: survey(START, nets={"d4": "mates"}),
            "You can mate: start with d4.",
        ),
        (
            lambda: survey(START, nets={"d4": 300, "e4": 300}),
            "You can win something with d4 or e4.",
        ),
        (
            lambda: survey(START, danger=(100,) * 3, holds={}, nets={"d4": -50}),
            "You cannot keep everything here, and that happens to everyone. You lose least with"
            " d4.",
        ),
        (
            lambda: survey(CHECK, holds={}, nets=dict.fromkeys(["Ke7"], "mated")),
            "You lose least with",
        ),
        (
            lambda: survey(START, danger=(100,) * 3, holds={"d4": ("guard",)}),
            "Be careful: if you wait, you lose something. Only one move helps. d4 loses nothing:"
            " it adds a guard.",
        ),
    ],
)
def test_what_stands_in_the_position_is_told(make: Callable[[], Survey], words: str) -> None:
    assert words in told(make())


def test_mate_is_told_as_a_threat() -> None:
    fen = "6k1/5ppp/8/8/8/8/5PPP/4R1K1 b - - 0 1"
    king = unit(fen, "g8", "unsafe", "pass Re8#", loses="mate", mechanisms=["mate threat"])
    given = survey(fen, danger=("mate",) * 3, units=[king], holds={"h6": ("other",)})
    assert told(given) == (
        "Be careful: White threatens mate with Re8#. Only one move helps. h6 loses nothing."
    )


@pytest.mark.parametrize(
    ("fen", "words"),
    [
        ("r1b2Q1r/3p3k/ppq4p/5P2/8/B7/P5PP/5RK1 w - - 4 33", "You can mate at once with Qf7#."),
        (
            "3rr1k1/ppb2pp1/5np1/3q4/Q1pP4/4R2P/PB3PP1/3R1NK1 b - - 3 27",
            "a5 loses nothing: it moves away. If Qxa5, you have Bxa5.",
        ),
        (
            "2q2r2/5Pk1/7r/p2pN1p1/1b1P1p2/3Q2P1/6K1/2B2R2 w - - 3 29",
            "Black threatens Qh3+, then Qh2+ and Qxg3+. But you need not lose anything. gxf4 loses"
            " nothing: it takes the pawn on f4. It even wins a pawn's worth.",
        ),
        (
            "r2qkbnr/ppp2ppp/2bp4/6B1/3QP3/5N2/PPP2PPP/RN2K2R b KQkq - 1 7",
            "Nf6 loses nothing: it steps in front of your queen on d8.",
        ),
    ],
    ids=["a mate", "a reply", "a threat", "a block"],
)
def test_what_helps_in_positions_of_games(fen: str, words: str) -> None:
    assert words in told(core.survey(fen, rank_nodes=core.RANK_NODES))


def test_nothing_stops_mate() -> None:
    fen = "6k1/5ppp/8/8/8/8/5PPP/4R1K1 b - - 0 1"
    king = unit(fen, "g8", "unsafe", "pass Re8#", loses="mate")
    sans = {move["san"]: "mated" for move in survey(fen)["moves"]}
    given = survey(fen, danger=("mate",) * 3, units=[king], holds={}, nets=sans)  # type: ignore[arg-type]
    assert told(given).endswith("There is no way to stop mate here. That can happen to everyone.")


def test_what_is_won_back_is_told_as_that() -> None:
    given = survey(START, danger=(100,) * 3, holds={"d4": ("counterattack",)})
    next(move for move in given["moves"] if move["san"] == "d4")["wins_back"] = True
    assert "d4 loses nothing: you win as much back." in told(given)


@pytest.mark.parametrize("code", ["en", "de"])
def test_texts_of_real_positions_are_short_and_kind(code: str) -> None:
    words = language(code)
    answers = core.survey_many([(fen, ()) for fen in POSITIONS[3::6]], reach=2)
    made: list[Survey] = [ranked(), explained()]
    for answer in [*answers, *made]:
        assert isinstance(answer, dict), answer
        text = for_student(answer, language=words)
        assert len(text.split()) <= MOST_WORDS, text
        assert not re.search(r"[!?]|blunder|mistake|bad|wrong|Fehler|falsch|schlecht", text)
        for sentence in re.split(r"(?<=\.) (?=[A-ZÄÖÜ])", flat(text)):
            assert len(sentence.split()) <= LONGEST_SENTENCE, sentence

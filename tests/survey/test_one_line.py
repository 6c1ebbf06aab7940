from collections.abc import Callable

import pytest

from fastness.core.shapes import Survey
from fastness.language import language
from fastness.survey import in_one_line
from tests.survey.ranked import ranked
from tests.survey.samples import START, pinned_down, survey, unit
from tests.survey.test_page import ALL, RUNNER, in_check, runner, trade_in_progress


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (
            pinned_down,
            "Black to move: the queen on d8 is not safe (6 pawns' worth); 7 of 30 moves keep the"
            " material: Bb4+, Be7, Ne7, Nf6 and 3 more.",
        ),
        (
            ranked,
            "Black to move: the queen on d8 is not safe (6 pawns' worth); 7 of 30 moves keep the"
            " material, better Nf6, Be7 and Ne7.",
        ),
        (ALL["mated"], "White is mated."),
        (ALL["stalemate"], "Black has no legal move: stalemate."),
        (ALL["quiet"], "White to move: nothing is in danger."),
        (
            ALL["bare trade"],
            "Black to move: nothing is in danger; can be taken: the bishop on c6.",
        ),
        (
            ALL["forked"],
            "Black to move: the bishop on e3 and the rook on f3 are unsafe together; only Kc5 keeps"
            " the material.",
        ),
        (
            in_check,
            "Black to move: in check from the bishop on b5; 4 of 6 moves keep the material: Bd7,"
            " Ke7, Nd7 and c6.",
        ),
        (runner, "Black to move: a pawn promotes on a8; only f5 keeps the material."),
        (
            trade_in_progress,
            "Black to move: 3 pawns' worth to win back in a trade; 2 of 26 moves keep the material:"
            " bxc6 and dxc6.",
        ),
        (
            lambda: survey(START, danger=(100,) * 3, holds={}),
            "White to move: something can be won; no move keeps the material.",
        ),
    ],
)
def test_a_survey_in_one_line(make: Callable[[], Survey], told: str) -> None:
    assert in_one_line(make()) == told


def test_more_units_are_counted() -> None:
    rook, queen = (unit(START, at, "unsafe") for at in ("a1", "d1"))
    text = in_one_line(survey(START, danger=(100,) * 3, units=[rook, queen]))
    assert "the rook on a1 is not safe (a pawn's worth), nor is another;" in text


def test_a_threat_of_mate() -> None:
    king = unit(RUNNER, "g8", "unsafe", "pass a8=Q#", loses="mate")
    text = in_one_line(survey(RUNNER, danger=("mate",) * 3, units=[king], holds={"h6": ("other",)}))
    assert text == "Black to move: mate is threatened; only h6 keeps the material."


def test_german() -> None:
    assert in_one_line(ranked(), language=language("de")) == (
        "Schwarz am Zug: die Dame auf d8 ist nicht sicher (6 Bauerneinheiten); 7 von 30 Zügen"
        " halten das Material, besser Sf6, Le7 und Se7."
    )

import pytest

from fastness.language import ENGLISH
from fastness.survey.causes import causes
from fastness.survey.claim import Unsafe
from fastness.survey.claims import claims
from fastness.survey.findings import Findings
from fastness.survey.words import ahead, listed, worth
from tests.survey.samples import CENTRE, PIN, survey, unit

QUEENS = "3rk3/3r4/8/8/3N4/2K5/8/8 w - - 0 1"  # two rooks in line against one guard


@pytest.mark.parametrize(
    ("centipawns", "told"),
    [
        (50, "half a pawn's worth"),
        (75, "0.75 of a pawn's worth"),
        (100, "a pawn's worth"),
        (-100, "a pawn's worth"),
        (325, "3.25 pawns' worth"),
        (600, "6 pawns' worth"),
        (433, "4.33 pawns' worth"),
    ],
)
def test_worth(centipawns: int, told: str) -> None:
    assert worth(centipawns) == told


def test_small_words() -> None:
    assert [listed(items) for items in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == [
        "",
        "a",
        "a and b",
        "a, b and c",
    ]
    assert (ahead(1), ahead(3)) == ("looking 1 move ahead", "looking 3 moves ahead")


@pytest.mark.parametrize(
    ("fen", "square", "mechanisms", "told"),
    [
        (CENTRE, "e4", ["unguarded"], "The pawn on d5 attacks it, and nothing guards it."),
        (
            PIN,
            "d8",
            ["less valuable attacker"],
            "The bishop on g5 attacks it and is worth less, so the guard (the king on e8) is not"
            " enough.",
        ),
        (
            QUEENS,
            "d4",
            ["outnumbered"],
            "It is attacked once (the rook on d7) and guarded once (the king on c3); behind"
            " the rook on d7 stands the rook on d8.",
        ),
        (CENTRE, "a2", ["unguarded"], "Nothing attacks it yet, and nothing guards it."),
        (CENTRE, "e4", ["fork", "pin"], "Cause: fork and pin."),
        (CENTRE, "e4", [], "The pawn on d5 attacks it; the line shows how it is won."),
    ],
)
def test_causes_name_attackers_and_guards(
    fen: str, square: str, mechanisms: list[str], told: str
) -> None:
    one = unit(fen, square, "unsafe", mechanisms=mechanisms)
    if square == "a2":
        one["guards"] = []
    found = Findings(claims(survey(fen, danger=(100, 100, 100), units=[one])), ENGLISH)
    assert causes(found, found.of(Unsafe)[0]) == [told]

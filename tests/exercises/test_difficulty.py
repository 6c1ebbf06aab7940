"""The estimate of difficulty: each term where it belongs, and the sum of them."""

import pytest

from fastness.core import survey
from fastness.exercises.difficulty import (
    A_REACH,
    PLAIN_TO,
    STRETCH_FROM,
    estimate,
    level_of,
    terms,
)
from fastness.exercises.exercise import Kind

# (why, FEN, kind, asked, terms that must be there, terms that must not)
CASES: list[tuple[str, str, Kind, str | None, set[str], set[str]]] = [
    (
        "a knight takes a bishop: one move ahead and forward",
        "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1",
        "which unit",
        None,
        {"start", "length of the line"},
        {"moves ahead", "quiet first move", "backward first move", "few moves hold"},
    ),
    (
        "the king steps between two pieces: quiet, two moves ahead",
        "8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1",
        "better way",
        None,
        {"moves ahead", "quiet first move"},
        {"backward first move", "moves to find"},
    ),
    (
        "a queen takes backwards, from d6 to d1",
        "6k1/5ppp/3q4/8/8/8/5PPP/3R2K1 w - - 0 1",
        "better way",
        None,
        {"few moves hold"},
        {"backward first move"},
    ),
    (
        "White's rook on d8 goes back to take the knight on d1",
        "3R2k1/5ppp/8/8/8/8/5PPP/3n2K1 b - - 0 1",
        "which unit",
        None,
        set(),
        {"moves to find"},
    ),
    (
        "nothing falls, though the bishop seems to hang",
        "3r2k1/5ppp/8/8/8/b7/5PPP/R5K1 b - - 0 1",
        "which unit",
        None,
        {"nothing is unsafe", "seems to hang"},
        {"moves ahead"},
    ),
    (
        "a move asked about turns on its refutation",
        "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1",
        "why it fails",
        "b7b5",
        {"question: why it fails", "length of the line"},
        {"moves ahead", "nothing is unsafe"},
    ),
]


@pytest.mark.parametrize(("why", "fen", "kind", "asked", "there", "missing"), CASES)
def test_terms(
    why: str, fen: str, kind: Kind, asked: str | None, there: set[str], missing: set[str]
) -> None:
    found = survey(fen)
    names = {term.name for term in terms(found, kind, asked)}
    assert there <= names, why
    assert not missing & names, why
    total = sum(term.logits for term in terms(found, kind, asked))
    assert estimate(found, kind, asked) == total


def test_the_easy_capture_is_easier_than_the_fork() -> None:
    capture = survey("6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1")
    fork = survey("8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1")
    assert estimate(fork, "which unit") > estimate(capture, "which unit") + A_REACH / 2


def test_a_colour_flip_changes_nothing() -> None:
    black = survey("8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1")
    white = survey("4k3/8/4BR2/8/n7/3K4/8/8 w - - 0 1")
    assert terms(black, "better way") == terms(white, "better way")


def test_levels_have_cut_points() -> None:
    assert level_of(PLAIN_TO - 0.01) == "plain"
    assert level_of(PLAIN_TO) == "club"
    assert level_of(STRETCH_FROM) == "stretch"


def test_a_move_that_is_not_legal_is_refused() -> None:
    with pytest.raises(KeyError, match="a1a8"):
        estimate(survey("8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1"), "is it safe", "a1a8")

"""A position of the teacher's own in the week: taken, or refused with the reason."""

import pytest

from fastness.cli import week
from fastness.errors import InputError, PositionError
from fastness.language import ENGLISH
from fastness.workflows.week import OWN, Place, Proposal, own_position

FORK = "3rk2r/2pb1p2/p1pb3q/2P1p2p/BP2P1p1/P2R2Q1/4NPPP/3R3K b k - 0 22"  # only h4 keeps the bishop
QUIET = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"
LOST = "5k2/P7/8/8/8/8/6K1/8 b - - 0 1"


def test_a_position_with_firm_answers_is_taken() -> None:
    found = own_position(FORK)
    assert found.place.outcome == OWN
    assert found.proved.source.made == "composed"
    assert {one.kind for one in found.exercises} & {"every move", "better way"}


@pytest.mark.parametrize(
    ("text", "told"),
    [(QUIET, "Nothing is in danger"), (LOST, "No move keeps the material")],
)
def test_one_that_makes_no_exercise_is_refused(text: str, told: str) -> None:
    with pytest.raises(InputError, match=told):
        own_position(text)


def test_one_that_cannot_stand_is_refused() -> None:
    with pytest.raises(PositionError):
        own_position("8/8/8/8/8/8/8/8 w - - 0 1")


def test_the_teacher_gives_another_position(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    proposal = own_position(FORK)
    proposed = Proposal(
        Place("S", "A - B", 3, FORK, "h4", "held", (), 0), proposal.proved, proposal.exercises
    )
    said = iter(["o", QUIET, "", "o", FORK])
    monkeypatch.setattr("builtins.input", lambda _: next(said))
    answer, taken = week._taken(proposed, ENGLISH)
    assert answer == "o"
    assert taken is not None
    assert taken.place.outcome == OWN
    assert "Nothing is in danger" in capsys.readouterr().out

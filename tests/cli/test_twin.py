"""`fastness twin`: the page, the data, and what it says where there is nothing to find."""

import json

import pytest

from fastness.cli import main

CHECKED = "r1bqk2r/pppp1ppp/2n2n2/2b5/2BPP3/5N2/PP3PPP/RNBQK2R b KQkq - 0 6"
BEFORE = "r1bqkbnr/1ppp1ppp/p1n5/1B2p3/4P3/5N2/PPPP1PPP/RNBQK2R w KQkq - 0 4"


def ended(*words: str) -> int:
    with pytest.raises(SystemExit) as stop:
        main(["twin", *words])
    assert isinstance(stop.value.code, int)
    return stop.value.code


def test_the_page(capsys: pytest.CaptureFixture[str]) -> None:
    assert ended(CHECKED, "--count", "1", "--seconds", "600", "--language", "en") == 0
    shown = capsys.readouterr().out
    assert "Best here: Bb4+" in shown
    assert "Twin 1: r1bqk2r/pppp1ppp/2n2n2/2b5/2BPP3/P4N2/1P3PPP/RNBQK2R b KQkq - 0 6" in shown
    assert "(P)" in shown
    assert "With the pawn on a3 instead of on a2, Bb4+ no longer keeps the material" in shown


def test_a_trade_in_progress_has_no_twins(capsys: pytest.CaptureFixture[str]) -> None:
    assert ended(BEFORE, "--moves", "4.Bxc6") == 2
    assert "in the middle of a trade" in capsys.readouterr().err


def test_the_data(capsys: pytest.CaptureFixture[str]) -> None:
    assert ended(CHECKED, "--count", "1", "--seconds", "600", "--json") == 0
    found = json.loads(capsys.readouterr().out)
    (twin,) = found["twins"]
    assert found["lead"] == twin["lead"] == "c5b4"
    assert twin["units"] == [{"unit": "P", "before": "a2", "now": "a3"}]
    assert twin["lead_falls"]
    assert twin["line"][0] == "c5b4"
    assert twin["better"] == ["c5b6"]
    assert twin["survey"]["fen"] == twin["fen"]


BAD = [
    ((), "No position given"),
    (("8/8/8/8/8/8/8/8 w - - 0 1",), "king"),
    (("rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",), "Nothing is in danger"),
    ((CHECKED, "--moves", "Ke4"), "not legal"),
    ((CHECKED, "--many", "3"), "Unknown option"),
]


@pytest.mark.parametrize(("words", "told"), BAD)
def test_bad_input_is_told(
    words: tuple[str, ...], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended(*words) == 2
    wrong = capsys.readouterr().err
    assert told in wrong
    assert wrong.count("\n") <= 2

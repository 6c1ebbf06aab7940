"""`fastness twin`: the page, the data, and what it says where there is nothing to find."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from fastness.cli import INTERRUPTED, main, twinning
from fastness.workflows.twinning_many import Looked
from tests.workflows.test_twinning_many import looked

CHECKED = "r1bqk2r/pppp1ppp/2n2n2/2b5/2BPP3/5N2/PP3PPP/RNBQK2R b KQkq - 0 6"
QUIET = "rnbqkb1r/ppp2ppp/4pn2/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R w KQkq - 1 3"
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
    (("no.epd", "--to", "no-folder.jsonl"), "no.epd: cannot be opened"),
    (("some.pgn", CHECKED), "not both"),
    (("some.pgn", "--shelf"), "not both"),
    (("--shelf", "--json"), "for one position"),
    ((CHECKED, "--limit", "2"), "for files or the shelf"),
]


@pytest.fixture
def alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of one's own, with the place of what was looked at in it."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path


@pytest.mark.usefixtures("alone")
@pytest.mark.parametrize(("words", "told"), BAD)
def test_bad_input_is_told(
    words: tuple[str, ...], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended(*words) == 2
    wrong = capsys.readouterr().err
    assert told in wrong
    assert wrong.count("\n") <= 2


MANY = ("positions.fen", "--seconds", "600", "--processes", "1", "--to", "twins.jsonl")


def test_of_many_positions_each_is_looked_at_once(
    alone: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (alone / "positions.fen").write_text(f"nonsense\n{CHECKED}\n{QUIET}\n", "utf-8")
    assert ended(*MANY) == 2
    told = capsys.readouterr()
    assert "positions.fen: line 1" in told.err
    assert "2 positions looked at, 1 with a twin, " in told.out
    assert len((alone / "twins.jsonl").read_text("utf-8").splitlines()) == 2
    assert ended(*MANY) == 2
    assert "0 positions looked at, 0 with a twin, 0 new exercises." in capsys.readouterr().out


def test_stopped_it_keeps_what_was_found(
    alone: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(*_: object, **__: object) -> Iterator[Looked]:
        yield looked()
        raise KeyboardInterrupt

    monkeypatch.setattr(twinning, "twins_of_many", stopped)
    (alone / "positions.fen").write_text(f"{CHECKED}\n", "utf-8")
    assert ended(*MANY) == INTERRUPTED
    assert "1 position looked at, 1 with a twin" in capsys.readouterr().out
    assert len((alone / "twins.jsonl").read_text("utf-8").splitlines()) == 2

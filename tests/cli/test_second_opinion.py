"""`fastness second-opinion`: what is listed, the exit status, and a program that misbehaves."""

import json
import shlex
import sys
from pathlib import Path

import pytest

from fastness.cli import main

FAKE = Path(__file__).parents[1] / "workflows" / "fake_analyser.py"
PROGRAM = Path(sys.executable).with_name("fastness")
# A pawn attacks the knight; its moves keep it, a move of the king does not.
ATTACKED = "4k3/8/8/3n4/4P3/8/8/4K3 b - - 0 1"
MATED_ON_A8 = "6k1/5ppp/8/8/8/8/8/R5K1 w - - 0 1"


def ended(*words: str) -> int:
    with pytest.raises(SystemExit) as stop:
        main(["second-opinion", *words, "--language", "en"])
    assert isinstance(stop.value.code, int)
    return stop.value.code


def fake(mode: str, *words: str) -> list[str]:
    return ["--analyser", shlex.join([sys.executable, "-S", "-E", str(FAKE), mode, *words])]


def test_a_move_that_loses_the_knight(capsys: pytest.CaptureFixture[str]) -> None:
    assert ended(ATTACKED, *fake("good", "e8e7", "cp 40")) == 1
    shown = " ".join(capsys.readouterr().out.split())
    assert f"Position 1: {ATTACKED}" in shown
    assert "The analyser plays Ke7 (+0.40) and expects 1...Ke7." in shown
    assert "By the survey it loses 2 pawns' worth: 1...Ke7 2.exd5" in shown
    # It says -2.50 of any other move.
    assert "The analyser says -2.50 of it" in shown
    assert "of Ke7, its own, it says +0.40" in shown
    assert "Positions with a disagreement: 1." in shown


def test_the_same_move_is_no_disagreement(capsys: pytest.CaptureFixture[str]) -> None:
    assert ended(ATTACKED, *fake("good", "d5f6", "cp 40"), "--margin", "300") == 0
    shown = capsys.readouterr().out
    assert shown == "1 position compared with fake.\nPositions with a disagreement: 0.\n"


def test_a_mate_that_is_none(capsys: pytest.CaptureFixture[str]) -> None:
    assert ended(MATED_ON_A8, *fake("good", "a1a7", "mate 2"), "--json") == 1
    written = capsys.readouterr()
    (row,) = [json.loads(line) for line in written.out.splitlines()]
    # By mate on a8 the survey's better way mates at once; the analyser says -2.50 of it.
    assert row["better"] == "a1a8"
    assert row["analyser"] == {"move": "a1a7", "centipawns": None, "mate": 2, "line": ["a1a7"]}
    assert [one["kind"] for one in row["disagreements"]] == ["worth less", "mate"]
    assert "1 position compared with fake." in written.err


def test_a_mate_announced_against_the_mover(capsys: pytest.CaptureFixture[str]) -> None:
    assert ended(ATTACKED, *fake("good", "d5f6", "mate -2")) == 1
    shown = " ".join(capsys.readouterr().out.split())
    assert "announces that Black is mated in 2, whatever is played" in shown
    assert "is not mated, looking 3 moves ahead" in shown


def test_the_core_has_nothing_to_say_against_a_clear_case(
    capsys: pytest.CaptureFixture[str],
) -> None:
    command = ["--analyser", f"{PROGRAM} uci", "--nodes", "5000"]
    assert ended(MATED_ON_A8, *command) == 0
    assert "1 position compared with fastness " in capsys.readouterr().out


def test_files_go_on_after_a_failure_until_it_is_given_up(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = [ATTACKED, "no position", MATED_ON_A8, ATTACKED.replace("8/8/8/3n4", "8/8/n7/3n4")]
    positions = tmp_path / "some.fen"
    positions.write_text("\n".join(lines))
    once = tmp_path / "died"
    words = [str(positions), *fake(f"dies-once:{once}", "a1a8", "mate 1")]
    # The first question goes unanswered, the second position is answered after a restart; in the
    # third a1a8 is no move, and with one restart the analyser is given up.
    assert ended(*words, "--restarts", "1") == 2
    written = capsys.readouterr()
    assert "Not compared in full; of the analyser: it ended with status 3." in written.out
    assert "1 position compared with fake." in written.out
    assert "Positions not compared in full: 2." in written.out
    assert "The analyser failed 2 times and was given up; the rest was not compared." in written.out
    assert "line 2" in written.err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((ATTACKED,), "--analyser"),
        ((ATTACKED, "--analyser", "/no/such/program"), "no program that can be started"),
        (("8/8/8/8/8/8/8/8 w - - 0 1", "--analyser", sys.executable), "king"),
        (("--analyser", sys.executable), "No position given"),
        (("no.fen", "--analyser", sys.executable), "no.fen: cannot be opened"),
        (("some.pgn", ATTACKED, "--analyser", sys.executable), "not both"),
        (("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1", "--analyser", sys.executable), "the game is over"),
        ((ATTACKED, "--analyser", sys.executable, "--nodes", "0"), "--nodes"),
        ((ATTACKED, "--analyser", "'open"), "cannot be read"),
        ((ATTACKED, "--analyser", ""), "no program that can be started"),
        ((ATTACKED, "--joho", "--analyser", sys.executable), "--joho"),
    ],
)
def test_bad_input(words: tuple[str, ...], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert ended(*words) == 2
    assert told in capsys.readouterr().err


def test_german(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["second-opinion", ATTACKED, *fake("good", "e8e7", "cp 40"), "--language", "de"])
    shown = " ".join(capsys.readouterr().out.split())
    assert "1...Ke7 2.exd5" in shown
    assert "+0,40" in shown
    assert "The analyser" not in shown

"""A program that speaks UCI, however it behaves: its opinion or what was wrong, never a hang."""

import os
import sys
import time
from pathlib import Path

import chess
import pytest

from fastness.errors import AnalyserError, InputError
from fastness.workflows import analyser as module
from fastness.workflows.analyser import Analyser, Limits, Opinion

FAKE = Path(__file__).with_name("fake_analyser.py")
PROGRAM = Path(sys.executable).with_name("fastness")
SOON = Limits(nodes=100, patience=0.6, restarts=1)
IN_TIME = Limits(nodes=100, patience=20, restarts=1)


def fake(mode: str, *words: str) -> list[str]:
    return [sys.executable, "-S", "-E", str(FAKE), mode, *words]


def runs(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


def process_of(asked: Analyser) -> int:
    running = asked._running
    assert running is not None
    assert running.transport is not None
    return running.transport.get_pid()


def test_its_move_its_line_and_its_score() -> None:
    with Analyser(fake("good", "e2e4", "cp 35"), IN_TIME) as asked:
        assert asked.ask(chess.STARTING_FEN) == Opinion("e2e4", 35, None, ("e2e4",))
        assert asked.ask(chess.STARTING_FEN, only="a2a3") == Opinion("a2a3", -250, None, ("a2a3",))
        assert asked.name == "fake"
        pid = process_of(asked)
    assert not runs(pid)
    assert not asked.left_by_force


def test_a_slow_one_is_waited_for() -> None:
    with Analyser(fake("slow"), IN_TIME) as asked:
        assert asked.ask(chess.STARTING_FEN).centipawns == 30


@pytest.mark.parametrize(
    ("mode", "limits", "told"),
    [
        ("silent", SOON, "no answer within 0.6 s"),
        ("mute", SOON, "no answer within 0.6 s"),
        ("stubborn", SOON, "no answer within 0.6 s"),
        ("dies", IN_TIME, "it ended with status 3"),
        ("never-starts", IN_TIME, "it ended with status 1"),
        ("garbage", IN_TIME, "its answer made no sense"),
        ("illegal", IN_TIME, "its answer made no sense: illegal uci: 'a1a8'"),
        ("null", IN_TIME, "it named no legal move"),
        ("nothing", IN_TIME, "it named no legal move"),
        ("no-score", IN_TIME, "it gave no score"),
        ("other", IN_TIME, "it was asked about a2a3 and answered e2e4"),
    ],
)
def test_what_was_wrong_is_told_and_nothing_is_left_running(
    mode: str, limits: Limits, told: str
) -> None:
    with Analyser(fake(mode), limits) as asked:
        with pytest.raises(AnalyserError, match=told):
            asked.ask(chess.STARTING_FEN, only="a2a3")
        assert asked._running is None
        assert asked.failures == 1
        assert not asked.given_up


@pytest.mark.parametrize("mode", ["flood", "no-newline"])
def test_one_that_never_stops_writing_is_stopped(
    mode: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "LONGEST_ANSWER", 1_000_000)
    broken = pytest.raises(AnalyserError, match="it wrote more than 1 megabytes")
    with Analyser(fake(mode), IN_TIME) as asked, broken:
        asked.ask(chess.STARTING_FEN)


def test_it_is_started_again_and_answers(tmp_path: Path) -> None:
    with Analyser(fake(f"dies-once:{tmp_path / 'died'}"), IN_TIME) as asked:
        with pytest.raises(AnalyserError, match="status 3"):
            asked.ask(chess.STARTING_FEN)
        assert asked.ask(chess.STARTING_FEN).move == "e2e4"
        assert asked.failures == 1


def test_it_is_given_up_after_its_restarts() -> None:
    with Analyser(fake("dies"), IN_TIME) as asked:
        for _ in range(2):
            assert not asked.given_up
            with pytest.raises(AnalyserError, match="status 3"):
                asked.ask(chess.STARTING_FEN)
        assert asked.given_up
        with pytest.raises(AnalyserError, match="given up"):
            asked.ask(chess.STARTING_FEN)


def test_one_that_does_not_quit_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "GOODBYE", 0.3)
    begun = time.monotonic()
    with Analyser(fake("stays"), IN_TIME) as asked:
        asked.ask(chess.STARTING_FEN)
        pid = process_of(asked)
        asked.close()
        assert asked.left_by_force
    assert not runs(pid)
    assert time.monotonic() - begun < 20


def test_what_it_started_itself_is_ended_too(tmp_path: Path) -> None:
    script = tmp_path / "wrapped"
    told = tmp_path / "pid"
    script.write_text(f"#!/bin/sh\nsleep 600 &\necho $! > {told}\n{' '.join(fake('silent'))}\n")
    script.chmod(0o755)
    with Analyser([str(script)], SOON) as asked, pytest.raises(AnalyserError):
        asked.ask(chess.STARTING_FEN)
    child = int(told.read_text())
    for _ in range(100):
        state = Path(f"/proc/{child}/stat")
        if not state.exists() or state.read_text().split()[2] == "Z":
            return
        time.sleep(0.05)
    raise AssertionError("the child of the wrapper still runs")


def test_no_program_is_bad_input(tmp_path: Path) -> None:
    plain = tmp_path / "plain"
    plain.write_text("no program")
    for path in (tmp_path / "none", plain):
        with pytest.raises(InputError, match="no program that can be started"):
            Analyser([str(path)], IN_TIME)


def test_a_file_that_is_no_program_of_this_machine(tmp_path: Path) -> None:
    spoilt = tmp_path / "spoilt"
    spoilt.write_bytes(b"\x00\x01\x02")
    spoilt.chmod(0o755)
    broken = pytest.raises(AnalyserError, match="it could not be started")
    with Analyser([str(spoilt)], IN_TIME) as asked, broken:
        asked.ask(chess.STARTING_FEN)


def test_the_core_itself() -> None:
    with Analyser([str(PROGRAM), "uci"], Limits(nodes=2_000)) as asked:
        mate = asked.ask("6k1/5ppp/8/8/8/8/8/R5K1 w - - 0 1")
        assert (mate.move, mate.mate, mate.centipawns) == ("a1a8", 1, None)
        kept = asked.ask("6k1/5ppp/8/8/8/8/8/R5K1 w - - 0 1", only="g1f1")
        assert kept.move == "g1f1"
        assert kept.centipawns is not None

"""`fastness uci` from outside: lines in, lines out, and how it ends."""

import os
import random
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

import fastness

PROGRAM = Path(sys.executable).with_name("fastness")
PATIENCE = 60  # seconds
COMMANDS = ["uci", "debug", "isready", "setoption", "ucinewgame", "position", "stop", "ponderhit"]
WORDS = ["name", "value", "Hash", "startpos", "fen", "moves", "e2e4", "e2e5", "on", "-1", "x" * 500]


def run(commands: bytes) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run([PROGRAM, "uci"], input=commands, capture_output=True, timeout=PATIENCE)


class Program:
    """The program with its two pipes."""

    def __init__(self) -> None:
        self.process = subprocess.Popen(
            [PROGRAM, "uci"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )
        # A program that falls silent is ended, so that no test waits for it.
        self.watch = threading.Timer(PATIENCE, self.process.kill)
        self.watch.start()

    def send(self, line: bytes) -> None:
        assert self.process.stdin is not None
        self.process.stdin.write(line + b"\n")
        self.process.stdin.flush()

    def until(self, beginning: str) -> list[str]:
        """The lines up to the first that begins so."""
        assert self.process.stdout is not None
        lines = []
        for raw in self.process.stdout:
            lines.append(raw.decode("utf-8").rstrip("\n"))
            if lines[-1].startswith(beginning):
                return lines
        raise AssertionError(f"it ended without {beginning}, after {lines}")

    def end(self) -> tuple[int, str]:
        """Its exit status and what it complained of."""
        _, complaint = self.process.communicate(timeout=PATIENCE)
        return self.process.returncode, complaint.decode("utf-8")


@pytest.fixture
def program() -> Iterator[Program]:
    program = Program()
    yield program
    program.watch.cancel()
    program.process.kill()
    program.process.communicate()


def test_it_introduces_itself_and_quits() -> None:
    done = run(b"uci\nquit\nisready\n")
    assert (done.returncode, done.stderr) == (0, b"")
    lines = done.stdout.decode().splitlines()
    assert lines[0] == f"id name fastness {fastness.__version__}"
    assert lines[-1] == "uciok"


def test_the_end_of_the_input_is_quit() -> None:
    done = run(b"go infinite")
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.count(b"bestmove ") == 1


def test_it_takes_no_options_of_its_own() -> None:
    done = subprocess.run([PROGRAM, "uci", "--hash"], capture_output=True, text=True)
    assert (done.returncode, done.stdout) == (2, "")
    assert "--hash" in done.stderr


def test_ready_and_stop_are_answered_while_it_thinks(program: Program) -> None:
    program.send(b"go infinite")
    program.until("info depth 3")
    program.send(b"isready")
    assert not any(line.startswith("bestmove") for line in program.until("readyok"))
    program.send(b"stop")
    program.until("bestmove ")
    program.send(b"quit")
    assert program.end() == (0, "")


def test_a_bad_position_is_told_and_the_old_one_kept(program: Program) -> None:
    program.send(b"position fen 7k/P7/6K1/8/8/8/8/8 w - - 0 1")
    program.send(b"position startpos moves e2e4 e2e4")
    assert 'move 2, "e2e4", is not legal' in program.until("info string")[0]
    program.send(b"position fen 8/8/8/8/8/8/8/8 w - - 0 1")
    assert "the board is empty" in program.until("info string")[0]
    program.send(b"go depth 2 searchmoves a7a8n")
    assert program.until("bestmove")[-1] == "bestmove a7a8n"


def noise(seed: int) -> bytes:
    """Lines of random bytes, and of the protocol's own words in no order."""
    chance = random.Random(seed)
    lines = []
    for _ in range(200):
        words = chance.choices(COMMANDS + WORDS, k=chance.randrange(1, 8))
        lines.append(" ".join(words).encode() if chance.random() < 0.5 else chance.randbytes(40))
    return b"\n".join(lines)


@pytest.mark.parametrize("seed", range(5))
def test_it_lives_through_nonsense(program: Program, seed: int) -> None:
    program.send(noise(seed))
    program.send(b"debug off\nposition startpos\nisready")
    program.until("readyok")
    program.send(b"joho go depth joho nodes 500 joho")
    assert len(program.until("bestmove ")[-1].split()) == 2
    program.send(b"quit")
    assert program.end() == (0, "")


def test_ctrl_c_ends_it_quietly_while_it_thinks(program: Program) -> None:
    program.send(b"go infinite")
    program.until("info depth 3")
    os.kill(program.process.pid, signal.SIGINT)
    assert program.end() == (-signal.SIGINT, "")


def test_a_client_that_is_gone_ends_it_quietly(program: Program) -> None:
    program.send(b"isready")
    program.until("readyok")
    assert program.process.stdout is not None
    program.process.stdout.close()
    program.send(b"isready")
    program.process.wait(timeout=PATIENCE)
    assert program.process.returncode == 141
    assert program.process.stderr is not None
    assert program.process.stderr.read() == b""

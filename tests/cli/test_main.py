"""The program from outside: what it prints, where, and its exit status."""

import resource
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

import fastness
from fastness import cli
from fastness.errors import FastnessError

PROGRAM = Path(sys.executable).with_name("fastness")


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([PROGRAM, *arguments], capture_output=True, text=True, timeout=60)


def status_of(arguments: list[str]) -> int:
    with pytest.raises(SystemExit) as stopped:
        cli.main(arguments)
    assert isinstance(stopped.value.code, int)
    return stopped.value.code


@pytest.fixture
def failing_command(monkeypatch: pytest.MonkeyPatch) -> Callable[[BaseException], None]:
    def register(failure: BaseException) -> None:
        def fail(_words: object) -> None:
            raise failure

        monkeypatch.setattr(cli, "app", fail)

    return register


def test_help_goes_to_standard_output() -> None:
    done = run("--help")
    assert done.returncode == 0
    assert done.stdout.startswith("Usage: fastness")
    assert done.stderr == ""


def test_version() -> None:
    done = run("--version")
    assert (done.returncode, done.stdout.strip()) == (0, fastness.__version__)


@pytest.mark.parametrize("arguments", [["nonesuch"], ["--nonesuch"]])
def test_bad_usage_is_told_on_standard_error(arguments: list[str]) -> None:
    done = run(*arguments)
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.startswith("fastness: ")
    assert "nonesuch" in done.stderr
    assert "Traceback" not in done.stderr


def test_bad_input_is_told_in_one_message(
    failing_command: Callable[[BaseException], None], capsys: pytest.CaptureFixture[str]
) -> None:
    failing_command(FastnessError("games.pgn, game 3: no such move"))
    assert status_of(["sift"]) == 2
    assert capsys.readouterr() == ("", "fastness: games.pgn, game 3: no such move\n")


def test_interrupt_is_quiet(
    failing_command: Callable[[BaseException], None], capsys: pytest.CaptureFixture[str]
) -> None:
    failing_command(KeyboardInterrupt())
    assert status_of(["sift"]) == 130
    assert capsys.readouterr() == ("", "")


def test_closed_pipe_is_quiet() -> None:
    script = (
        "import fastness.cli as c\n"
        "@c.app.command\n"
        "def count() -> None:\n"
        "    for number in range(100_000): print(number)\n"
        "c.main(['count'])"
    )
    pipe = '"$0" -c "$1" | head -n 1; echo ${PIPESTATUS[0]}'
    done = subprocess.run(
        ["bash", "-c", pipe, sys.executable, script], capture_output=True, text=True, timeout=60
    )
    assert done.stdout == "0\n141\n"
    assert done.stderr == ""


def processor_seconds_of_children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def test_start_is_quick() -> None:
    # The aim is 0.3 s on a quiet machine. Tests run beside each other, so processor time is
    # counted, the best of several starts is taken, and twice the aim is allowed.
    starts = []
    for _ in range(5):
        before = processor_seconds_of_children()
        assert run("--help").returncode == 0
        starts.append(processor_seconds_of_children() - before)
    assert 0 < min(starts) <= 0.6


def test_help_loads_neither_the_core_nor_the_chess_package() -> None:
    script = (
        "import sys, fastness.cli as c\n"
        "try: c.main(['--help'])\n"
        "except SystemExit: pass\n"
        "print([n for n in ('chess', 'zstandard', 'fastness.core') if n in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout.splitlines()[-1] == "[]"

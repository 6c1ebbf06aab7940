"""`fastness scoresheet` started again on a file whose last game is not finished."""

import os
import pty
import signal
import subprocess
import time
from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.cli.test_scoresheet import FASTNESS, NAMES, games, typed

DATED = ("--date", "2026-09-07")


def at_terminal(path: Path, answers: Sequence[str], *options: str) -> tuple[int, str]:
    """The exit status and everything shown, where the answers are typed; "^C" interrupts.

    Each answer is typed when a new question stands there, as a person would.
    """
    ours, theirs = pty.openpty()
    process = subprocess.Popen(
        [FASTNESS, "scoresheet", str(path), *options],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        start_new_session=True,
    )
    os.close(theirs)
    shown, waiting = b"", list(answers)
    seen = 0
    while True:
        try:
            part = os.read(ours, 4096)
        except OSError:  # Linux tells so that the other end is closed.
            break
        if not part:
            break
        shown += part
        if waiting and shown[seen:].endswith((b": ", b"? ")):
            seen = len(shown)
            answer = waiting.pop(0)
            if answer == "^C":
                time.sleep(0.2)
                process.send_signal(signal.SIGINT)
            else:
                os.write(ours, f"{answer}\n".encode())
    os.close(ours)
    return process.wait(), shown.decode().replace("\r\n", "\n")


def stopped(path: Path, moves: str = "e4 e5 Nf3 Nc6 Bb5 a6") -> bytes:
    """A sheet that was not finished, behind another one."""
    path.write_bytes(b'[Event "An odd one"]\r\n\r\n1. d4 {caf\xe9} *\r\n')
    before = path.read_bytes()
    typed(path, f"{moves}\n")
    assert path.read_bytes().startswith(before)
    return before


def test_it_offers_to_go_on_and_shows_where(tmp_path: Path) -> None:
    path = tmp_path / "evening.pgn"
    before = stopped(path)
    status, shown = at_terminal(path, ["", "x", "g", "ba4 nf6", "done"])
    assert status == 0
    assert "is not finished: Weirwater, Ada - Flourdust, Ivy, 2026.09.07." in shown
    assert "It stops after 1. e4 e5 2. Nf3 Nc6 3. Bb5 a6." in shown
    assert "a b c d e f g h" in " ".join(shown.split())
    assert shown.count("Go on with it (g)") == 3, "neither Enter nor another letter is an answer"
    _, game = games(path)
    assert game.moves == ("e2e4", "e7e5", "g1f3", "b8c6", "f1b5", "a7a6", "b5a4", "g8f6")
    assert (game.tags["White"], game.tags.get("Termination")) == ("Weirwater, Ada", None)
    assert path.read_bytes().startswith(before)


def test_a_new_game_leaves_the_unfinished_one_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "evening.pgn"
    stopped(path)
    before = path.read_bytes()
    answers = ["n", "Club evening", "2026-09-14", "Ada", "Ivy", "d4", "done"]
    status, _ = at_terminal(path, answers)
    assert status == 0
    assert path.read_bytes().startswith(before)
    assert [game.moves[0] for game in games(path)] == ["d2d4", "e2e4", "d2d4"]


@pytest.mark.parametrize("answers", [["^C"], ["g", "^C"], ["n", "^C"], ["\x04"]])
def test_whoever_stops_at_the_question_loses_nothing(tmp_path: Path, answers: list[str]) -> None:
    path = tmp_path / "evening.pgn"
    stopped(path)
    before = path.read_bytes()
    status, shown = at_terminal(path, answers)
    assert status == (130 if "^C" in answers else 0)
    assert "Traceback" not in shown
    assert path.read_bytes() == before


def test_stopped_again_it_is_gone_on_with_again(tmp_path: Path) -> None:
    path = tmp_path / "evening.pgn"
    stopped(path)
    status, shown = at_terminal(path, ["g", "ba4", "^C"])
    assert status == 130
    assert "start again to go on" in shown
    at_terminal(path, ["nf6", "back", "nge7", "result 1-0", "done"], "--go-on")
    game = games(path)[-1]
    assert (len(games(path)), game.moves[-2:], game.result) == (2, ("b5a4", "g8e7"), "1-0")


def test_from_a_pipe_nothing_is_asked(tmp_path: Path) -> None:
    path = tmp_path / "evening.pgn"
    stopped(path)
    before = path.read_bytes()
    done = typed(path, "d4\ndone\n")
    assert "A new game begins; to go on with that one, start with --go-on." in done.stdout
    assert path.read_bytes().startswith(before)
    assert len(games(path)) == 3
    done = typed(path, "d5\ndone\n", "--go-on")
    assert done.returncode == 0, done.stderr
    assert games(path)[-1].moves == ("d2d4", "d7d5")


def test_a_finished_game_is_not_offered(tmp_path: Path) -> None:
    path = tmp_path / "evening.pgn"
    typed(path, "e4 e5\ndone\n")
    assert "not finished" not in typed(path, "d4\ndone\n").stdout


def test_going_on_needs_a_game_that_was_typed_and_the_same_names(tmp_path: Path) -> None:
    path = tmp_path / "evening.pgn"
    assert typed(path, "e4\n", "--go-on").returncode == 2
    assert not path.exists()
    stopped(path)
    before = path.read_bytes()
    words = [FASTNESS, "scoresheet", str(path), "--go-on", "--white", "Another", *NAMES[2:], *DATED]
    done = subprocess.run(words, input="e4\n", capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert 'has White "Weirwater, Ada", not "Another"' in done.stderr
    assert path.read_bytes() == before
    path.write_bytes(before.replace(b"3. Bb5 ", b"3. Bb5 {checked twice} "))
    done = typed(path, "ba4\n", "--go-on")
    assert done.returncode == 2
    assert "typed here and not changed since" in done.stderr


def test_a_result_without_done_and_an_illegible_end_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "evening.pgn"
    typed(path, "e4 e5\nresult 1-0\nillegible\n")
    done = typed(path, "board\n", "--go-on")
    assert "Result 1-0. Illegible from there." in done.stdout
    game = games(path)[0]
    assert (game.moves, game.result) == (("e2e4", "e7e5"), "1-0")
    assert b"Illegible from here." in path.read_bytes()

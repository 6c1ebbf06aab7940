"""`fastness scoresheet` with its input from a pipe."""

import subprocess
import sys
from pathlib import Path

from fastness.intake import Game, read_games

FASTNESS = str(Path(sys.executable).parent / "fastness")
NAMES = ("--white", "Weirwater, Ada", "--black", "Flourdust, Ivy", "--event", "Club evening")


def typed(path: Path, told: str, *options: str) -> subprocess.CompletedProcess[str]:
    dated = () if "--date" in options else ("--date", "2026-09-07")
    words = [FASTNESS, "scoresheet", str(path), *NAMES, *dated, *options]
    return subprocess.run(words, input=told, capture_output=True, text=True, check=False)


def games(path: Path) -> list[Game]:
    return [item for item in read_games(path) if isinstance(item, Game)]


def test_a_sheet_is_typed(tmp_path: Path) -> None:
    path = tmp_path / "evening.pgn"
    told = "e4 e5\nnf3 nc6\nKe5\nlegal\nboard\nbb5 a6\nback\nresult 1-0\nhelp\ndone\n"
    done = typed(path, told)
    assert done.returncode == 0, done.stderr
    assert '"Ke5" cannot be played' in done.stdout
    assert "1 taken back." in done.stdout
    assert not done.stderr
    (game,) = games(path)
    assert game.moves == ("e2e4", "e7e5", "g1f3", "b8c6", "f1b5")
    assert (game.result, game.tags["White"], game.tags["Date"]) == (
        "1-0",
        "Weirwater, Ada",
        "2026.09.07",
    )


def test_another_sheet_is_added_and_the_end_of_input_keeps_it(tmp_path: Path) -> None:
    path = tmp_path / "evening.pgn"
    typed(path, "e4 e5\ndone\n")
    first = path.read_bytes()
    assert typed(path, "d4 d5\nillegible\n").returncode == 0
    assert path.read_bytes().startswith(first)
    assert [game.moves[0] for game in games(path)] == ["e2e4", "d2d4"]


def test_in_doubt_it_asks(tmp_path: Path) -> None:
    done = typed(tmp_path / "x.pgn", "d3 a6 nf3 a5 nd2\nNbd2\ndone\n")
    assert '"nd2" may be Nbd2 or Nfd2. Which?' in done.stdout
    assert games(tmp_path / "x.pgn")[0].moves[-1] == "b1d2"


def test_bad_options_are_told(tmp_path: Path) -> None:
    for options, message in (
        (("--date", "yesterday"), "is no date"),
        (("--letters", "latin"), "latin"),
    ):
        done = typed(tmp_path / "x.pgn", "", *options)
        assert done.returncode == 2
        assert message in done.stderr
        assert "Traceback" not in done.stderr
    assert typed(tmp_path, "").returncode == 2

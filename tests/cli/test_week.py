"""What goes wrong with the week and with mining; that they work the README's commands show."""

from pathlib import Path

import pytest

from tests.cli.test_record import bring, run
from tests.store.material import some_games


def test_a_week_without_anybody_to_ask_needs_a_yes(tmp_path: Path) -> None:
    (tmp_path / "games.pgn").write_text(some_games(1), encoding="utf-8")
    done = run(tmp_path, "week", str(tmp_path / "games.pgn"), "--group", "Monday")
    assert done.returncode == 2
    assert "Say --yes" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_week_of_nobodys_games_is_refused(tmp_path: Path) -> None:
    bring(tmp_path, some_games(1), "--add", "--group", "Monday")
    (tmp_path / "other.pgn").write_text(
        '[White "Stranger, Joe"]\n[Black "Foreigner, Jim"]\n[Result "*"]\n\n1. e4 *\n', "utf-8"
    )
    done = run(tmp_path, "week", str(tmp_path / "other.pgn"), "--group", "Monday", "--yes")
    assert done.returncode == 2
    assert "no game of the group" in done.stderr
    assert not list(tmp_path.glob("week-*"))


def test_a_week_of_another_group_takes_nothing(tmp_path: Path) -> None:
    bring(tmp_path, some_games(1), "--add", "--group", "Monday")
    done = run(tmp_path, "week", str(tmp_path / "games.pgn"), "--group", "Tuesday", "--yes")
    assert done.returncode == 2
    assert "Tuesday" in done.stderr


@pytest.mark.parametrize("words", [("mine",), ("week", "--group", "Monday")])
def test_without_a_file_both_say_what_to_give(tmp_path: Path, words: tuple[str, ...]) -> None:
    done = run(tmp_path, *words)
    assert done.returncode == 2
    assert "Give one PGN file or more" in done.stderr


def test_mining_tells_a_file_that_is_not_there(tmp_path: Path) -> None:
    done = run(tmp_path, "mine", str(tmp_path / "no.pgn"))
    assert done.returncode == 2
    assert "no.pgn" in done.stderr
    assert "0 positions with 0 new exercises." in done.stdout

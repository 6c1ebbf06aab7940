"""Killed, crowded out and out of room: nothing is doubled, and what was kept stays."""

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from fastness.store import open_store
from fastness.store.safekeeping import check, count
from tests.store.material import some_games

GAMES = 24
KILLS = 30
IMPORT = """
import resource, signal, sys
from pathlib import Path
if int(sys.argv[3]):
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[3]),) * 2)
from fastness.errors import StoreError
from fastness.store import open_store
from tests.store.material import brought_in
try:
    brought_in(open_store(sys.argv[1]), Path(sys.argv[2]))
except StoreError as error:
    print(error, file=sys.stderr)
    sys.exit(2)
"""


def importing(store: Path, games: Path, room: int = 0) -> subprocess.Popen[str]:
    """An import in a program of its own; `room`: bytes that a file may grow to."""
    return subprocess.Popen(
        [sys.executable, "-c", IMPORT, str(store), str(games), str(room)],
        stderr=subprocess.PIPE,
        text=True,
        cwd=Path(__file__).parents[2],
    )


def imported(store: Path, games: Path) -> None:
    """An import that goes through."""
    process = importing(store, games)
    _, told = process.communicate()
    assert process.returncode == 0, told


@pytest.fixture
def games(tmp_path: Path) -> Path:
    file = tmp_path / "games.pgn"
    file.write_text(some_games(GAMES), encoding="utf-8")
    return file


@pytest.mark.slow
def test_killed_at_random_times_nothing_is_double_or_lost(tmp_path: Path, games: Path) -> None:
    dice = random.Random(17)
    store = tmp_path / "store.sqlite"
    kept = 0
    for _ in range(KILLS):
        process = importing(store, games)
        time.sleep(dice.uniform(0.3, 1.6))
        process.send_signal(signal.SIGKILL)
        process.communicate()
        if store.exists() and store.stat().st_size:
            opened = open_store(store)
            assert check(opened) == []
            assert count(opened)["game"] >= kept
            kept = count(opened)["game"]
            opened.close()
    imported(store, games)
    opened = open_store(store)
    assert check(opened) == []
    held = count(opened)
    assert (held["game"], held["seat"], held["student"]) == (GAMES, 2 * GAMES, 3)


@pytest.mark.slow
def test_two_imports_at_once(tmp_path: Path, games: Path) -> None:
    store = tmp_path / "store.sqlite"
    both = [importing(store, games) for _ in range(2)]
    for process in both:
        _, told = process.communicate()
        assert process.returncode == 0, told
    opened = open_store(store)
    assert check(opened) == []
    held = count(opened)
    assert (held["game"], held["seat"], held["student"]) == (GAMES, 2 * GAMES, 3)


@pytest.mark.slow
def test_a_full_disk_is_told_and_the_store_goes_on(tmp_path: Path, games: Path) -> None:
    store = tmp_path / "store.sqlite"
    process = importing(store, games, room=400_000)
    _, told = process.communicate()
    assert process.returncode == 2, told
    assert "full" in told or "no more" in told
    opened = open_store(store)
    assert check(opened) == []
    assert count(opened)["game"] < GAMES
    opened.close()
    imported(store, games)
    opened = open_store(store)
    assert check(opened) == []
    assert count(opened)["game"] == GAMES

"""Killed, crowded out and out of room: nothing is doubled, and what was kept stays."""

import random
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from fastness.store import open_store
from fastness.store.safekeeping import check, count
from tests.store.material import brought_in, some_games

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


def games_in(store: Path) -> int:
    """How many games a store holds while another program writes to it; 0 before it is made."""
    if not store.exists():
        return 0
    try:
        with closing(sqlite3.connect(f"file:{store}?mode=ro", uri=True)) as reader:
            return int(reader.execute("SELECT count(*) FROM game").fetchone()[0])
    except sqlite3.OperationalError:
        return 0


def killed(store: Path, games: Path, after: int, pause: float) -> int:
    """Kill an import a moment after it has kept so many games; how many it had kept before."""
    process = importing(store, games)
    try:
        until = time.monotonic() + 60
        while (seen := games_in(store)) < after:
            assert process.poll() is None, process.communicate()
            assert time.monotonic() < until, "the import keeps no games"
            time.sleep(0.001)
        time.sleep(pause)
    finally:
        process.send_signal(signal.SIGKILL)
        process.communicate()
    return seen


@pytest.mark.slow
def test_killed_at_random_times_nothing_is_double_or_lost(tmp_path: Path, games: Path) -> None:
    dice = random.Random(17)
    in_the_middle = 0
    for number in range(KILLS):
        store = tmp_path / f"{number}.sqlite"
        seen = killed(store, games, dice.randint(1, GAMES - 4), dice.uniform(0, 0.02))
        opened = open_store(store)
        assert check(opened) == []
        kept = count(opened)["game"]
        assert kept >= seen > 0
        in_the_middle += kept < GAMES
        again = brought_in(opened, games)
        assert sum(one.done_before for one in again) == kept
        assert check(opened) == []
        held = count(opened)
        assert (held["game"], held["seat"], held["student"]) == (GAMES, 2 * GAMES, 3)
        opened.close()
    assert in_the_middle >= KILLS * 3 // 4


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

"""A sweep: nothing is there twice and nothing is missing, whatever stops it.

`make sweep-long` runs the killing with more games and more kills, by the environment.
"""

import os
import random
import subprocess
import sys
import time
from pathlib import Path

import duckdb
import psutil
import pytest
import zstandard

from fastness.errors import InputError, SweepError
from fastness.exercises.encoding import from_json
from fastness.sweep.folder import SweepFolder
from fastness.workflows.sweeping import SweepSettings, look_through, sweep
from tests.sweep.material import HISTORIC, archive, cut, game

PROGRAM = str(Path(sys.executable).with_name("fastness"))
GAMES = int(os.environ.get("FASTNESS_SWEEP_GAMES", "40"))
KILLS = int(os.environ.get("FASTNESS_SWEEP_KILLS", "3"))
BATCH = max(4, GAMES // 100)
QUICK = SweepSettings(reach=1, batch=BATCH)


def undisturbed(file: Path, settings: SweepSettings) -> dict[str, dict[str, bytes]]:
    """What each part must hold, made here without any other process."""
    return {one.name: dict(look_through(one, settings)) for one in cut(file, settings.batch)}


def kept(place: Path) -> dict[str, dict[str, bytes]]:
    return {
        part.name: {file.stem: file.read_bytes() for file in part.iterdir()}
        for part in (place / "parts").iterdir()
    }


def begun(file: Path, out: Path, *words: str) -> psutil.Popen:
    options = ["--reach", "1", "--batch", str(BATCH), "--processes", "2", *words]
    return psutil.Popen(
        [PROGRAM, "sweep", str(file), "--out", str(out), *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def workers(process: psutil.Popen) -> list[psutil.Process]:
    try:
        found = process.children(recursive=True)
        return [one for one in found if "spawn_main" in " ".join(one.cmdline())]
    except psutil.Error:
        return []


def is_alive(process: psutil.Process) -> bool:
    try:
        return process.is_running() and process.status() != psutil.STATUS_ZOMBIE
    except psutil.Error:
        return False


def killed(file: Path, out: Path, kills: int) -> tuple[psutil.Popen, int]:
    """A sweep whose processes are killed at random times until it ends; and how many were."""
    dice = random.Random(1851)
    process, done, seen = begun(file, out), 0, 0
    while process.poll() is None:
        # Often enough that a quick sweep is not over before all the kills.
        time.sleep(dice.uniform(0.005, 0.05))
        there = workers(process)
        parts = len(list(out.glob("parts/*")))
        # A batch that is killed five times over would be left out, as one that cannot be done.
        if parts == seen:
            continue
        seen = parts
        if done == kills // 2 and done:
            # Once all of it is killed, and goes on by the same command.
            process.kill()
            process.communicate()
            psutil.wait_procs(there, timeout=10)
            # What nobody has reaped yet has ended all the same.
            assert [one for one in there if is_alive(one)] == []
            process, done = begun(file, out), done + 1
        elif there and done < kills:
            # The one that runs for longest: another was killed last, and may still be at its start
            # with the batch of the one before, which would be killed again and again.
            min(there, key=psutil.Process.create_time).kill()
            done += 1
    return process, done


@pytest.mark.slow
def test_whatever_is_killed_the_output_is_that_of_an_undisturbed_sweep(tmp_path: Path) -> None:
    file = archive(tmp_path / "a.pgn", GAMES)
    wanted = undisturbed(file, QUICK)
    process, done = killed(file, tmp_path / "out", KILLS)
    told, complaint = process.communicate()
    assert (process.returncode, done >= KILLS) == (2, True), complaint
    assert complaint == "fastness: 1 problem with the games; see the table problems.\n"
    assert told.startswith(f"{GAMES:,} games, ")
    assert kept(tmp_path / "out") == wanted
    assert not (tmp_path / "out" / "unfinished").exists()


def test_an_archive_counts_once_by_its_contents(tmp_path: Path) -> None:
    file = archive(tmp_path / "a.pgn", 8)
    first = sweep([file], tmp_path / "out", QUICK, processes=1)
    other = tmp_path / "other name.pgn"
    other.write_bytes(file.read_bytes())
    read: list[int] = []
    again = sweep([other, file], tmp_path / "out", QUICK, on_progress=read.append)
    assert (again, read) == (first, [])
    more = tmp_path / "more.pgn.zst"
    more.write_bytes(zstandard.compress(game(50).encode()))
    third = sweep([file, more], tmp_path / "out", QUICK, processes=1)
    assert third.rows["games"] == first.rows["games"] + 1
    assert sweep([], tmp_path / "out") == third


def test_the_tables_hold_what_was_found(tmp_path: Path) -> None:
    out = tmp_path / "out"
    file = archive(tmp_path / "a.pgn", 9)
    told = sweep([file], out, SweepSettings(reach=1, batch=4, exercises=True), processes=1)
    with duckdb.connect(str(out / "sweep.duckdb"), read_only=True) as views:
        games = views.execute("select game, line, white, white_rating, plies from games order by 1")
        assert [row[0] for row in games.fetchall()] == list(range(1, 10))
        sides = views.execute(
            "select band, count(*), sum(units_unsafe), sum(units) from sides group by 1 order by 1"
        ).fetchall()
        episodes = views.execute("select count(*) from episodes").fetchall()[0][0]
        texts = views.execute("select fen, proof from exercises").fetchall()
        problem = views.execute("select game, kind, message from problems").fetchall()
    assert sorted((one.band, one.sides, one.count, one.of) for one in told.units) == sides
    assert sum(one.count for one in told.units) > 0
    assert 0 < episodes <= told.rows["occasions"]
    assert all(from_json(proof).fen == fen for fen, proof in texts)
    assert problem[0][:2] == (5, "error")
    assert "Ke3" in problem[0][2]
    # The script makes the same views in the folder, wherever it is.
    moved = out.rename(tmp_path / "moved")
    asked = "import duckdb, sys; v = duckdb.connect(); v.execute(open('views.sql').read());"
    asked += "print(v.execute('select count(*) from games').fetchall()[0][0])"
    done = subprocess.run([sys.executable, "-c", asked], cwd=moved, capture_output=True, text=True)
    assert done.stdout == "9\n", done.stderr


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"reach": 2}, "was begun with reach 1 and not 2"),
        ({"batch": 7}, "was begun with batch"),
        ({"program": "0.0.0"}, "was begun with program"),
    ],
)
def test_a_folder_holds_what_was_made_with_one_set_of_options(
    change: dict[str, object], told: str, tmp_path: Path
) -> None:
    with SweepFolder(tmp_path / "out").opened({"reach": 1, "batch": 3, "program": "1.0"}):
        pass
    settings = {"reach": 1, "batch": 3, "program": "1.0"} | change
    with pytest.raises(InputError, match=told), SweepFolder(tmp_path / "out").opened(settings):
        pass


def test_two_sweeps_at_once_and_folders_of_other_things(tmp_path: Path) -> None:
    with (
        SweepFolder(tmp_path / "out").opened({}),
        pytest.raises(SweepError, match="Another sweep is at work"),
        SweepFolder(tmp_path / "out").opened({}),
    ):
        pass
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "letter.txt").write_text("Dear parents", encoding="utf-8")
    with pytest.raises(InputError, match="holds other files"):
        sweep([HISTORIC], tmp_path / "full", QUICK)
    with pytest.raises(InputError, match="holds no sweep yet"):
        sweep([], tmp_path / "nowhere")
    assert not (tmp_path / "nowhere").exists()


@pytest.mark.slow
def test_a_full_disk_is_told_plainly_and_the_sweep_goes_on_afterwards(tmp_path: Path) -> None:
    file = archive(tmp_path / "a.pgn", 12)
    out = tmp_path / "out"
    words = [PROGRAM, "sweep", str(file), "--out", str(out), "--reach", "1", "--processes", "1"]
    words += ["--batch", str(BATCH)]
    # A limit on the size of a file stands in for a disk that fills up; python ignores its signal.
    limited = f"ulimit -f 4; exec {' '.join(words)}"
    done = subprocess.run(["bash", "-c", limited], capture_output=True, text=True)
    assert done.returncode == 2
    assert done.stderr.startswith(f"fastness: There is no room left for {out}")
    assert done.stderr.count("\n") == 1
    told = subprocess.run(words, capture_output=True, text=True)
    assert told.stdout.startswith("12 games, ")
    assert kept(out) == undisturbed(file, QUICK)

"""From games to a printed report: the commands that the README shows, and what goes wrong."""

import json
import re
import shlex
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from tests.store.material import ADA, IVY, MOVES, pgn, some_games

ROOT = Path(__file__).parents[2]
FASTNESS = str(Path(sys.executable).parent / "fastness")


def run(place: Path, *words: str, told: str = "") -> subprocess.CompletedProcess[str]:
    environment = {"FASTNESS_STORE": str(place / "store.sqlite"), "PATH": "", "HOME": str(place)}
    return subprocess.run(
        [FASTNESS, *words],
        capture_output=True,
        text=True,
        input=told,
        cwd=ROOT,
        env=environment,
        check=False,
    )


def bring(place: Path, text: str, *options: str) -> subprocess.CompletedProcess[str]:
    (place / "games.pgn").write_text(text, encoding="utf-8")
    return run(place, "import", str(place / "games.pgn"), "--reach", "1", "--no-offers", *options)


@pytest.mark.slow
def test_the_commands_of_the_readme_make_a_report(tmp_path: Path) -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    block = re.search(r"^```sh\n(.*?)^```$", readme, re.MULTILINE | re.DOTALL)
    assert block
    lines = block[1].replace("bruno.pdf", str(tmp_path / "bruno.pdf")).splitlines()
    assert len(lines) == 3
    for line in lines:
        done = run(tmp_path, *shlex.split(line)[1:])
        assert done.returncode == 0, done.stderr
        assert not done.stderr
    assert (tmp_path / "bruno.pdf").read_bytes().startswith(b"%PDF-")
    record = run(tmp_path, "record", "Bruno Hopperton").stdout
    assert "What stands out, 1: guards against a less valuable attacker" in record
    plan = run(tmp_path, "plan", "--group", "Evening group").stdout
    assert plan.startswith("Week 1: ")
    assert "Hopperton, Bruno, game" in plan
    assert "Nothing stands out" in run(tmp_path, "plan", "Kofi Bolter").stdout
    (week,) = re.findall(r"^fastness (week .*)$", readme, re.MULTILINE)
    done = run(tmp_path, *shlex.split(week)[:-1], str(tmp_path / "week"))
    assert done.returncode == 0, done.stderr
    assert done.stdout.count("held by") >= 1
    assert len(re.findall(r"^\d\. ", done.stdout, re.MULTILINE)) == 6
    for level in ("plain", "club", "stretch"):
        for kind in ("sheet", "answers"):
            assert (tmp_path / "week" / f"{kind}-{level}.pdf").read_bytes().startswith(b"%PDF-")
    told = json.loads((tmp_path / "week" / "week.json").read_text("utf-8"))
    assert len(told["positions"]) == 6
    assert "every move" in run(tmp_path, "shelf", "list").stdout


def test_what_is_there_already_is_passed_over(tmp_path: Path) -> None:
    first = bring(tmp_path, some_games(4), "--add", "--group", "Monday")
    assert first.returncode == 0, first.stderr
    assert "4 new games brought in, 0 there already." in first.stdout
    assert "0 new games brought in, 4 there already." in bring(tmp_path, some_games(4)).stdout
    assert "The store is whole: 3 students, 4 games" in run(tmp_path, "store", "check").stdout


def test_a_dry_run_changes_nothing(tmp_path: Path) -> None:
    done = bring(tmp_path, some_games(4), "--add", "--dry-run")
    assert "4 new games would be brought in" in done.stdout
    assert "0 students, 0 games" in run(tmp_path, "store", "check").stdout


def test_a_name_in_doubt_is_left_alone_unless_told(tmp_path: Path) -> None:
    bring(tmp_path, some_games(2), "--add")
    doubtful = pgn("Weirwatter, Ada", "Stranger, Joe", MOVES[3])
    left = bring(tmp_path, doubtful)
    assert 'fastness student alias "Weirwater, Ada" "Weirwatter, Ada"' in left.stderr
    assert "1 game of no student's" in left.stdout
    assert "1 new game brought in" in bring(tmp_path, doubtful, "--yes").stdout
    assert "also Weirwatter, Ada" in run(tmp_path, "student", "list").stdout


def test_games_without_names_are_told_and_can_be_sifted(tmp_path: Path) -> None:
    done = bring(tmp_path, pgn("?", "", MOVES[3]) + pgn(ADA, "?", MOVES[3]), "--add")
    assert done.returncode == 0, done.stderr
    assert "1 new game brought in" in done.stdout
    assert "Without a player's name, and so not kept: 1 game.\n" in done.stdout
    assert "fastness sift FILE" in done.stdout
    assert run(tmp_path, "sift", str(tmp_path / "games.pgn"), "--reach", "1").returncode == 0


def test_a_broken_game_costs_only_itself(tmp_path: Path) -> None:
    broken = pgn(ADA, IVY, "1. e4 e5 2. Ke4")
    done = bring(tmp_path, some_games(1) + broken + some_games(2), "--add")
    assert done.returncode == 2
    assert "Ke4" in done.stderr
    assert "3 new games brought in" in done.stdout
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("record", "Nobody"), "there is no student"),
        (("report", "Nobody", "--to", "x.pdf"), "there is no student"),
        (("report", "--to", "x.pdf"), "name a student"),
        (("report", "Nobody", "--to", "x.doc"), "must end in"),
        (("report", "--group", "None", "--to", "x.pdf"), "there is no group"),
        (("import",), "No file given"),
        (("student", "erase", "Nobody"), "say --yes"),
        (("student", "erase", "Nobody", "--yes"), "there is no student"),
        (("correct", "7", "3", "strike", "why"), "there is no game 7"),
        (("record", "Nobody", "--store", "mysql://x/y"), "PostgreSQL"),
        (("store", "restore", "nowhere"), "nowhere"),
        (("store", "restore", "nowhere", "--store", "postgresql://a/b"), "bring-back"),
        (("store", "bring-back", "nowhere.zip"), "nowhere.zip"),
        (("student", "add", "W" * 201), "201 letters"),
        (("group", "add", "W" * 201), "201 letters"),
    ],
)
def test_bad_input_is_told_in_a_sentence(
    tmp_path: Path, words: tuple[str, ...], message: str
) -> None:
    done = run(tmp_path, *words)
    assert done.returncode == 2
    assert message in done.stderr
    assert "Traceback" not in done.stderr


def test_corrections_are_printed_and_counted(tmp_path: Path) -> None:
    bring(tmp_path, some_games(4), "--add")
    before = run(tmp_path, "record", ADA).stdout
    place = re.search(r"game (\d+) against .*?: (\d+)\.(\.\.)?", before)
    assert place
    ply = 2 * int(place[2]) - (place[3] is None)
    done = run(tmp_path, "correct", place[1], str(ply), "strike", "agreed before the game")
    assert done.returncode == 0, done.stderr
    after = run(tmp_path, "record", ADA).stdout
    assert "not counted: agreed before the game" in after
    assert after.splitlines()[1] != before.splitlines()[1]


@pytest.mark.parametrize("reader", ["student", "parents", "teacher"])
@pytest.mark.parametrize("ending", [".html", ".md"])
def test_reports_of_every_kind(tmp_path: Path, reader: str, ending: str) -> None:
    bring(tmp_path, some_games(6), "--add")
    to = tmp_path / f"report{ending}"
    done = run(tmp_path, "report", ADA, "--for", reader, "--to", str(to))
    assert done.returncode == 0, done.stderr
    told = to.read_text(encoding="utf-8")
    assert "Ada" in told
    if reader != "teacher":
        assert "Flourdust" not in told
        assert " in a hundred" not in told
        assert "%" not in re.sub(r"<style>.*?</style>|<svg.*?</svg>", "", told, flags=re.DOTALL)


def test_a_fault_in_the_store_is_a_finding(tmp_path: Path) -> None:
    bring(tmp_path, some_games(2), "--add")
    with closing(sqlite3.connect(tmp_path / "store.sqlite")) as store:
        store.execute("UPDATE game SET moves = 'zz' WHERE id = 1")
        store.commit()
    done = run(tmp_path, "store", "check")
    assert (done.returncode, done.stderr) == (1, "")
    assert "game 1: ply 1: zz is no move" in done.stdout


def test_another_copy_completes_a_game_and_it_is_said(tmp_path: Path) -> None:
    bring(tmp_path, pgn(ADA, IVY, MOVES[1], date="????.??.??"), "--add")
    dated = pgn(ADA, IVY, MOVES[1])
    assert (
        "1 game would be completed by another copy." in bring(tmp_path, dated, "--dry-run").stdout
    )
    assert "1 game completed by another copy." in bring(tmp_path, dated).stdout
    assert "0 new games brought in, 1 there already." in bring(tmp_path, dated).stdout


def test_erasing_says_what_was_done_and_is_finished_by_the_same_command(tmp_path: Path) -> None:
    bring(tmp_path, some_games(3), "--add")
    run(tmp_path, "store", "backup", str(tmp_path / "kept"))
    restored = run(tmp_path, "store", "restore", str(tmp_path / "kept"), "--over")
    assert "The store that was there is kept as " in restored.stdout
    for _ in range(2):
        done = run(tmp_path, "student", "erase", IVY, "--yes")
        assert done.returncode == 0, done.stderr
        assert "Erased Flourdust, Ivy." in done.stdout
    assert not list(tmp_path.glob("store.sqlite.before-*"))


def test_a_backup_names_the_lessons_that_it_does_not_hold(tmp_path: Path) -> None:
    bring(tmp_path, some_games(1), "--add")
    alone = run(tmp_path, "store", "backup", str(tmp_path / "alone"))
    assert alone.stdout == f"Backed up to {tmp_path / 'alone'}.\n"
    lessons = tmp_path / "lessons"
    lessons.mkdir()
    (lessons / "guard.md").write_text("# Guard it\n", encoding="utf-8")
    beside = run(tmp_path, "store", "backup", str(tmp_path / "beside"))
    assert f"Not in the backup: the lessons (1). Copy the folder {lessons} too." in beside.stdout


def test_a_check_names_the_copies_beside_the_store(tmp_path: Path) -> None:
    bring(tmp_path, some_games(1), "--add")
    assert "before" not in run(tmp_path, "store", "check").stdout
    run(tmp_path, "store", "backup", str(tmp_path / "kept"))
    run(tmp_path, "store", "restore", str(tmp_path / "kept"), "--over")
    told = run(tmp_path, "store", "check").stdout
    assert re.search(r"is beside it: store\.sqlite\.before-restore-[\d-]+\.$", told, re.MULTILINE)

"""`fastness correct`: of a place and of a single move, kept whatever is computed again."""

import re
from pathlib import Path

import pytest

from tests.cli.test_record import bring, run
from tests.store.material import ADA, some_games

# A place as the record prints it: game, opponent, date, number, move.
PLACE = r"game (\d+) against (.+?), ([-\d]+): (\d+\.+)(\S+) kept"


def teacher(place: Path) -> str:
    report = place / "teacher.md"
    run(place, "report", ADA, "--for", "teacher", "--to", str(report))
    return report.read_text(encoding="utf-8").replace("\\", "")


def test_a_move_is_overruled_and_withdrawn(tmp_path: Path) -> None:
    bring(tmp_path, some_games(6), "--add")
    before = run(tmp_path, "record", ADA).stdout
    found = re.search(PLACE, before)
    assert found, before
    game, at, played = found[1], found[4], found[5]
    words = ("correct", game, at, "overrule", "we looked at it in class")
    done = run(tmp_path, *words, "--move", played, "--outcome", "falls")
    assert done.returncode == 0, done.stderr
    assert "No occasion" not in done.stdout
    after = run(tmp_path, "record", ADA).stdout
    assert "held 3 of 4" in before
    assert "held 2 of 4" in after
    remark = f"{at} {played} does not hold: we looked at it in class"
    assert remark in " ".join(after.split())
    assert remark in " ".join(teacher(tmp_path).split())
    # Gone through again with other settings, what the teacher said stays.
    (tmp_path / "games.pgn").write_text(some_games(6), encoding="utf-8")
    again = run(tmp_path, "import", str(tmp_path / "games.pgn"), "--reach", "2", "--no-offers")
    assert again.returncode == 0, again.stderr
    assert remark in " ".join(run(tmp_path, "record", ADA).stdout.split())
    bring(tmp_path, some_games(6))
    done = run(tmp_path, "correct", game, at, "withdraw", "--move", played)
    assert done.stdout.startswith("Withdrawn:")
    assert run(tmp_path, "record", ADA).stdout == before
    done = run(tmp_path, "correct", game, at, "withdraw", "--move", played)
    assert done.stdout.startswith("Nothing was said of")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("1", "1.", "strike", "why", "--move", "Ke3"), "Ke3"),
        (("1", "1.", "overrule", "why", "--move", "e4", "--outcome", "held"), "holds, falls"),
        (("1", "1.", "overrule", "why", "--outcome", "holds"), "an outcome is one of"),
        (("1", "99.", "strike", "why"), "no ply 197"),
        (("1", "move 3", "strike", "why"), "is no place in a game"),
        (("1", "1.", "strike"), "needs its reason"),
    ],
)
def test_a_bad_correction_is_told(tmp_path: Path, words: tuple[str, ...], message: str) -> None:
    bring(tmp_path, some_games(2), "--add")
    done = run(tmp_path, "correct", *words)
    assert done.returncode == 2
    assert message in done.stderr
    assert "Traceback" not in done.stderr
    assert "Your corrections" not in run(tmp_path, "record", ADA).stdout


def test_the_place_may_be_the_ply_or_the_move(tmp_path: Path) -> None:
    bring(tmp_path, some_games(2), "--add")
    for place, ply in (("3.", 5), ("3...", 6), ("6", 6), ("3...Nd4", 6)):
        done = run(tmp_path, "correct", "1", place, "comment", "look here")
        assert f"game 1, ply {ply}: comment" in done.stdout

"""`fastness compose` as it is used: positions printed, kept, refused."""

from pathlib import Path

import pytest

from fastness.cli import main
from fastness.exercises.encoding import from_json

DEMO = Path(__file__).parents[2] / "demo" / "millrace.pgn"


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as left:
        main(["compose", *words])
    told = capsys.readouterr()
    return int(left.value.code or 0), told.out, told.err


def test_positions_are_printed_and_written(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    out = tmp_path / "made.jsonl"
    status, told, _ = run(capsys, "--unit", "knight", "--count", "2", "--to", str(out))
    assert status == 0
    assert "2 of 2 found" in told
    fens = [from_json(line).fen for line in out.read_text("utf-8").splitlines()]
    assert len(fens) == 2
    assert all(fen in told for fen in fens)


def test_games_given_are_used_and_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    place = str(tmp_path / "club.store")
    words = ("--count", "1", "--shelf", "--store", place, "--language", "en")
    status, told, _ = run(capsys, str(DEMO), *words)
    assert status == 0
    assert "From " in told
    assert "millrace.pgn, game" in told


def test_nothing_found_is_status_one_and_says_how_near_it_came(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "one.pgn"
    path.write_text("1. e4 e5 2. Nf3 Nc6 *\n", "ascii")
    status, told, _ = run(capsys, str(path), "--unit", "king", "--language", "en")
    assert status == 1
    assert "0 of 6 found" in told
    assert "All positions were looked at." in told


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--unit", "king", "--mechanism", "unguarded"), "A king cannot fall by unguarded"),
        (("--least", "0"), "ask for 1 or more"),
        (("--ahead", "9"), "1 to 3 moves ahead"),
        (("no_such_file.pgn",), "no_such_file.pgn"),
    ],
)
def test_what_cannot_be_is_refused(
    capsys: pytest.CaptureFixture[str], words: tuple[str, ...], told: str
) -> None:
    status, _, error = run(capsys, *words)
    assert status == 2
    assert told in error

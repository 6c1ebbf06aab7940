"""No room left: told in a sentence with status 2, nothing half written, what was there stays."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from fastness.errors import FileError
from fastness.publish.writing import write_file, write_files
from fastness.store import open_store, shelf
from fastness.store.safekeeping import check, count
from tests.store.material import brought_in, some_games
from tests.store.test_shelf import entry

NO_ROOM = """
import resource, sys
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[1]),) * 2)
from fastness.cli import main
main(sys.argv[2:])
"""
"""A command that may make no file longer than so many bytes: what writes on meets an error of the
system, as on a full disk (Python leaves out the signal of setrlimit(2))."""


def crowded(room: int, *words: str) -> subprocess.CompletedProcess[str]:
    """A command with so much room for each file."""
    return subprocess.run(
        [sys.executable, "-c", NO_ROOM, str(room), *words],
        capture_output=True,
        text=True,
        check=False,
    )


def is_told(done: subprocess.CompletedProcess[str], *words: str) -> None:
    """One message, status 2, and no traceback."""
    assert done.returncode == 2, done.stderr
    assert "Traceback" not in done.stderr
    assert len(done.stderr.strip().splitlines()) <= 3, done.stderr
    assert any(word in done.stderr for word in words), done.stderr


def test_an_import_keeps_what_was_kept(tmp_path: Path) -> None:
    store, games = tmp_path / "store.sqlite", tmp_path / "games.pgn"
    games.write_text(some_games(24), encoding="utf-8")
    words = ("import", str(games), "--add", "--group", "Monday", "--reach", "1", "--no-offers")
    done = crowded(400_000, *words, "--store", str(store))
    is_told(done, "full", "no more")
    opened = open_store(store)
    assert check(opened) == []
    kept = count(opened)["game"]
    assert kept < 24
    assert sum(one.done_before for one in brought_in(opened, games)) <= kept
    assert (count(opened)["game"], check(opened)) == (24, [])
    opened.close()


@pytest.mark.parametrize("room", [2_000, 20_000])
def test_sheets_are_written_all_or_none(tmp_path: Path, room: int) -> None:
    opened = open_store(tmp_path / "store.sqlite")
    with opened.writing() as session:
        shelf.put(session, entry())
    opened.close()
    folder = tmp_path / "sheets"
    folder.mkdir()
    (folder / "exercises.epd").write_text("of last week", encoding="utf-8")
    words = ("sheet", "1", "--to", str(folder), "--store", str(tmp_path / "store.sqlite"))
    is_told(crowded(room, *words), "File too large", "full", "no more")
    assert [file.name for file in folder.iterdir()] == ["exercises.epd"]
    assert (folder / "exercises.epd").read_text(encoding="utf-8") == "of last week"


def test_files_are_written_all_or_none(tmp_path: Path) -> None:
    (tmp_path / "one").write_text("before", encoding="utf-8")
    (tmp_path / "two").mkdir()
    with pytest.raises(FileError, match=str(tmp_path)):
        write_files(tmp_path, {"one": b"after", "sub/three": "", "two/../missing/../one/x": b""})
    assert (tmp_path / "one").read_text(encoding="utf-8") == "before"
    assert not [file for file in tmp_path.rglob("*") if file.name.endswith(".part")]
    assert write_files(tmp_path, {"sub/one": "ä"}) == (tmp_path / "sub" / "one",)
    assert (tmp_path / "sub" / "one").read_bytes() == "ä".encode()
    write_file(tmp_path / "one", "after")
    assert (tmp_path / "one").read_text(encoding="utf-8") == "after"
    write_file(Path("/dev/null"), b"gone")
    assert Path("/dev/null").is_char_device()
    with pytest.raises(FileError, match="two"):
        write_file(tmp_path / "two", b"")

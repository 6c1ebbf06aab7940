"""`fastness group catch-up`: from a lesson or a class board to a sheet for those who were away."""

from pathlib import Path

import pytest

from fastness.classroom import keeping
from fastness.cli import main
from tests.classroom.boards import GUARDED, session, tried

Captured = pytest.CaptureFixture[str]


def said(capsys: Captured, store: Path, *words: str, status: int = 0) -> str:
    with pytest.raises(SystemExit) as stop:
        main([*words, "--store", str(store)])
    told = capsys.readouterr()
    assert stop.value.code == status, told
    return told.err if status else told.out


@pytest.fixture
def store(tmp_path: Path, capsys: Captured) -> Path:
    """A group of two with a lesson; a class board with a try."""
    place = tmp_path / "store.sqlite"
    said(capsys, place, "group", "add", "Monday")
    for name in ("Flourdust, Ivy", "Millpondle, Tom"):
        said(capsys, place, "student", "add", name, "--group", "Monday")
    theme = "Guarding, after Ivy's game"
    said(capsys, place, "group", "lesson", "Monday", theme, "--date", "2026-09-07")
    keeping.keep(tmp_path / keeping.NAME, [tried(session(GUARDED), "Re8")])
    return place


def test_from_a_class_board(store: Path, capsys: Captured, tmp_path: Path) -> None:
    words = ("group", "catch-up", "Monday", "--board", "monday", "--to", str(tmp_path / "out"))
    told = said(capsys, store, *words, "--language", "en")
    assert 'not noted. Note it: fastness group attended "Monday" --date 2026-09-07' in told
    page = (tmp_path / "out" / "catch-up.html").read_text(encoding="utf-8")
    assert "<h1>Catch-up: Guarding, after a student&#x27;s game</h1>" in page
    assert "The group tried Re8." in page
    assert "Ivy" not in page
    said(capsys, store, "group", "attended", "Monday", "Flourdust, Ivy")
    told = said(capsys, store, *words, "--language", "de", "--title", "Decken")
    assert told.splitlines()[-1] == "For Millpondle, Tom."
    page = (tmp_path / "out" / "catch-up.html").read_text(encoding="utf-8")
    assert "<h1>Zum Nachholen: Decken</h1>" in page
    assert "Die Gruppe hat Te8 versucht." in page
    said(capsys, store, "group", "attended", "Monday", "--everybody")
    assert "Nobody of Monday was away" in said(capsys, store, *words)


def test_from_a_lesson_file(store: Path, capsys: Captured, tmp_path: Path) -> None:
    lesson = tmp_path / "guard.md"
    with pytest.raises(SystemExit):
        main(["lesson", "new", str(lesson), "--language", "en"])
    capsys.readouterr()
    words = ("--lesson", str(lesson), "--to", str(tmp_path / "out"), "--language", "en")
    told = said(capsys, store, "group", "catch-up", "Monday", *words)
    assert told.splitlines()[:2] == [
        str(tmp_path / "out" / name) for name in ("catch-up.pdf", "catch-up.html")
    ]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "Say what was shown"),
        (("--board", "7", "--lesson", "x.md"), "Say what was shown"),
        (("--board", "Pins"), 'there is no class board "Pins"; there is 7 Monday'),
        (("--lesson", "none.md"), "none.md cannot be opened"),
        (("--board", "7", "--date", "2026-09-08"), "had no lesson on 2026-09-08"),
    ],
)
def test_what_cannot_be_made_is_told_and_writes_nothing(
    store: Path, capsys: Captured, tmp_path: Path, words: tuple[str, ...], told: str
) -> None:
    to = ("--to", str(tmp_path / "out"))
    assert told in said(capsys, store, "group", "catch-up", "Monday", *words, *to, status=2)
    assert not (tmp_path / "out").exists()

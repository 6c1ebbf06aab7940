"""Sessions kept in a file."""

from __future__ import annotations

from pathlib import Path

import pytest

from fastness.classroom import commands
from fastness.classroom.keeping import keep, kept_at
from fastness.errors import StoreError
from tests.classroom.boards import GUARDED, PINNED, session, tried, try_on


def test_a_session_comes_back_as_it_was(tmp_path: Path) -> None:
    started = tried(session(PINNED, GUARDED), "Nf6", "d5")
    started = commands.count_hands(started, try_on(started, "d5").number, 5)
    started = commands.play_on(started, try_on(started, "Nf6").number)
    place = tmp_path / "deep" / "classes.json"
    keep(place, [started])
    assert kept_at(place) == (started,)
    assert place.stat().st_mode & 0o077 == 0


def test_where_there_is_no_file_there_is_no_session(tmp_path: Path) -> None:
    assert kept_at(tmp_path / "classes.json") == ()


@pytest.mark.parametrize("text", ["", "{", "[1]", '[{"number": 1}]'])
def test_a_file_that_cannot_be_read_is_told_and_left(tmp_path: Path, text: str) -> None:
    place = tmp_path / "classes.json"
    place.write_text(text, "utf-8")
    with pytest.raises(StoreError, match="move the file away"):
        kept_at(place)
    assert place.read_text("utf-8") == text


def test_where_it_cannot_be_written_the_file_before_stays(tmp_path: Path) -> None:
    place = tmp_path / "classes.json"
    keep(place, [session()])
    (tmp_path / "classes.json.part").mkdir()
    with pytest.raises(StoreError):
        keep(place, [])
    assert kept_at(place) == (session(),)

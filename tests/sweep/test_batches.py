"""An archive cut into batches gives the games and the problems of the whole."""

import gzip
from pathlib import Path

import pytest
import zstandard

from fastness.intake import Problem
from fastness.sweep import batches as cutting
from tests.sweep.material import HISTORIC, archive, cut, game, read_in_batches, read_whole

NO_BLANK_LINES = game(1).replace("\n\n", "\n") * 7
ODD = (
    "\ufeff" + game(1) + game(2, "1. e4 {never closed\n\n1-0") + game(3)
    # Tags in another order, with an empty line among them.
    + '[Site "?"]\n\n[Event "late"]\n[Result "*"]\n\n1. e4 *\n\n'
    + game(4, "1. e4 (1. d4\n\n[%eval] 1-0")
    + "some text\n\n" + game(5, "1. e4 e5")
    + game(6).replace("\n", "\r\n")
    + '[Event "no moves"]\n\n' + game(7)
)  # fmt: skip


@pytest.mark.parametrize("games", [1, 2, 7, 500])
def test_games_and_problems_are_those_of_the_whole_file(games: int) -> None:
    assert read_in_batches(HISTORIC, games) == read_whole(HISTORIC)


@pytest.mark.parametrize("text", [NO_BLANK_LINES, ODD, "", "no game at all\n"])
@pytest.mark.parametrize("games", [1, 2, 3])
def test_odd_files(text: str, games: int, tmp_path: Path) -> None:
    file = tmp_path / "odd.pgn"
    file.write_bytes(text.encode())
    assert read_in_batches(file, games) == read_whole(file)


def test_a_batch_has_as_many_games_as_asked(tmp_path: Path) -> None:
    found = cut(archive(tmp_path / "a.pgn", 23), 5)
    assert [one.stretch.games for one in found] == [0, 5, 10, 15, 20]
    assert [one.name for one in found][:2] == ["0000-00000000", "0000-00000001"]
    assert [one.stretch.more for one in found] == [True] * 4 + [False]


@pytest.mark.parametrize("pack", [gzip.compress, zstandard.compress])
def test_a_packed_archive_that_is_cut_off_gives_what_comes_before(
    pack: type[bytes], tmp_path: Path
) -> None:
    file = tmp_path / "a.pgn.packed"
    whole = pack(HISTORIC.read_bytes())
    file.write_bytes(whole[: len(whole) * 2 // 3])
    found = read_in_batches(file, 10)
    assert found == read_whole(file)
    last = found[-1]
    assert isinstance(last, Problem)
    assert "cut off" in last.message


def test_without_tags_a_batch_ends_at_an_empty_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "bare.pgn"
    file.write_text("1. e4 e5 2. Nf3 Nc6 *\n\n" * 200, encoding="utf-8")
    monkeypatch.setattr(cutting, "LARGE", 500)
    found = cut(file, 10)
    assert len(found) > 5
    assert max(sum(map(len, one.stretch.text)) for one in found) < 600
    assert len(read_in_batches(file, 10)) == len(read_whole(file)) == 200


def test_no_batch_is_larger_than_allowed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "endless.pgn"
    file.write_text('[Event "a"]\n\n' + "{no end of words\n" * 500, encoding="utf-8")
    monkeypatch.setattr(cutting, "LARGE", 500)
    monkeypatch.setattr(cutting, "LARGEST", 1000)
    assert max(sum(map(len, one.stretch.text)) for one in cut(file, 10)) < 1100

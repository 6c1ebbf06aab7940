"""Files as lines: packed, cut, damaged, in other encodings, and not text at all."""

import gzip
import tracemalloc
from collections.abc import Callable
from pathlib import Path

import pytest
import zstandard

from fastness.intake import Game, Problem, measure, read_games
from fastness.intake.source import read_lines

HISTORIC = (Path(__file__).parents[1] / "data" / "historic.pgn").read_bytes()
GAMES = 211
LATIN = '[White "Müller, Jörg"]\n\n1. e4 {fünf} e5 *\n'


def zst(content: bytes) -> bytes:
    return zstandard.ZstdCompressor().compress(content)


def skippable(content: bytes) -> bytes:
    return b"\x52\x2a\x4d\x18" + len(content).to_bytes(4, "little") + content


def read(tmp_path: Path, content: bytes) -> tuple[list[Game], list[Problem]]:
    path = tmp_path / "games"
    path.write_bytes(content)
    items = list(read_games(path))
    games = [item for item in items if isinstance(item, Game)]
    return games, [item for item in items if isinstance(item, Problem)]


@pytest.mark.parametrize(
    ("content", "games"),
    [
        pytest.param(HISTORIC, GAMES, id="plain"),
        pytest.param(gzip.compress(HISTORIC), GAMES, id="gzip, told by content, not by name"),
        pytest.param(gzip.compress(HISTORIC) * 2, 2 * GAMES, id="gzip in two members"),
        pytest.param(zst(HISTORIC), GAMES, id="Zstandard"),
        pytest.param(zst(HISTORIC) * 2, 2 * GAMES, id="Zstandard in two frames"),
        pytest.param(skippable(b"abc") + zst(HISTORIC), GAMES, id="a frame to be passed over"),
        pytest.param(HISTORIC.replace(b"\n", b"\r\n"), GAMES, id="CRLF"),
        pytest.param(HISTORIC.replace(b"\n", b"\r"), GAMES, id="CR alone"),
        pytest.param(b"\xef\xbb\xbf" + HISTORIC, GAMES, id="byte order mark"),
        pytest.param(HISTORIC + b"\x1a", GAMES, id="the old end-of-file mark"),
    ],
)
def test_whole_files(tmp_path: Path, content: bytes, games: int) -> None:
    found, problems = read(tmp_path, content)
    assert len(found) == games
    assert not problems
    assert found[0].tags["Event"] == "New Orleans"
    assert found[0].line == 1


@pytest.mark.parametrize(
    ("content", "games", "words"),
    [
        pytest.param(b"", 0, "the file is empty", id="empty"),
        pytest.param(gzip.compress(b""), 0, "the file is empty", id="empty when unpacked"),
        pytest.param(b"\n\n{nothing}\n", 0, "the file holds no game", id="no game"),
        pytest.param(
            gzip.compress(HISTORIC)[:-9], GAMES, "is cut off: the packed", id="gzip, end missing"
        ),
        pytest.param(
            gzip.compress(HISTORIC)[:20_000], 135, "is cut off: the packed", id="gzip cut"
        ),
        pytest.param(zst(HISTORIC)[:20_000], 0, "is cut off: the packed", id="Zstandard cut"),
        pytest.param(
            zst(HISTORIC) + zst(HISTORIC)[:9],
            GAMES,
            "is cut off: the packed",
            id="second frame cut",
        ),
        pytest.param(zst(HISTORIC) + b"junk", GAMES, "is damaged", id="Zstandard, junk behind"),
        pytest.param(
            gzip.compress(HISTORIC) + b"junk", GAMES, "is damaged", id="gzip, junk behind"
        ),
        pytest.param(HISTORIC[:50_000] + b"\0\1\2" * 9, 97, "is not text", id="binary behind"),
        pytest.param(b"\x7fELF\x02\x01\x01" + b"\0" * 9, 0, "is not text", id="binary"),
        pytest.param(bytes(range(1, 32)) * 9, 0, "is not text", id="binary without zeros"),
        pytest.param(b"PK\x03\x04\x14\0", 0, "is a ZIP archive", id="ZIP"),
        pytest.param(HISTORIC.decode().encode("utf-16"), 0, "is UTF-16 text", id="UTF-16"),
        pytest.param(b"1. e4 " * 400_000, 0, "has a line of more than", id="one endless line"),
    ],
)
def test_bad_files(tmp_path: Path, content: bytes, games: int, words: str) -> None:
    found, problems = read(tmp_path, content)
    assert len(found) == games
    last = problems[-1]
    assert last.kind == "error"
    assert last.game is None
    assert words in last.message
    assert last.message.startswith(str(tmp_path / "games"))


def test_what_cannot_be_opened(tmp_path: Path) -> None:
    (missing,) = read_games(tmp_path / "nonesuch.pgn")
    (folder,) = read_games(tmp_path)
    assert isinstance(missing, Problem)
    assert isinstance(folder, Problem)
    assert "cannot be opened: no such file" in missing.message
    assert "is a folder; name the PGN files in it" in folder.message
    assert measure(tmp_path / "nonesuch.pgn") is None
    assert measure(tmp_path) is None


def test_latin_1_is_read_and_told_once(tmp_path: Path) -> None:
    games, problems = read(tmp_path, LATIN.encode("latin-1"))
    assert games[0].tags["White"] == "Müller, Jörg"
    assert [(problem.line, problem.kind) for problem in problems] == [(1, "notice")]
    assert "not UTF-8; lines like this one are read as Latin-1" in problems[0].message
    games, problems = read(tmp_path, LATIN.encode())
    assert games[0].tags["White"] == "Müller, Jörg"
    assert not problems


def test_half_a_move_at_a_cut_is_not_taken_for_a_move(tmp_path: Path) -> None:
    """Castling long, cut after "O-O", must not become castling short."""
    start = b'[FEN "r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1"]\n\n1. Rb1 O-O'
    games, problems = read(tmp_path, start + b"\0" * 9)
    assert games[0].moves == ("a1b1",)
    assert "cannot be read on" in problems[0].message


@pytest.mark.parametrize("pack", [bytes, gzip.compress, zst], ids=["plain", "gzip", "Zstandard"])
def test_progress_reaches_the_size_of_the_file(
    tmp_path: Path, pack: Callable[[bytes], bytes]
) -> None:
    path = tmp_path / "games"
    path.write_bytes(pack(HISTORIC))
    told: list[int] = []
    assert sum(isinstance(item, Game) for item in read_games(path, told.append)) == GAMES
    assert told == sorted(told)
    assert told[-1] == measure(path) == path.stat().st_size


def peak(path: Path) -> int:
    tracemalloc.start()
    try:
        for _ in read_lines(path):
            pass
        return tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize("pack", [bytes, gzip.compress, zst], ids=["plain", "gzip", "Zstandard"])
def test_memory_is_flat(tmp_path: Path, pack: Callable[[bytes], bytes]) -> None:
    """Games repeated pack extremely well, so that a few bytes stand for very many."""
    some, many = tmp_path / "some", tmp_path / "many"
    some.write_bytes(pack(HISTORIC * 50))
    many.write_bytes(pack(HISTORIC * 200))
    assert peak(many) < peak(some) * 1.3

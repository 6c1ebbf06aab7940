import gzip
import json
import os
import pty
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import zstandard

ROOT = Path(__file__).parents[2]
HISTORIC = ROOT / "tests" / "data" / "historic.pgn"
SCHEMA = json.loads((ROOT / "docs" / "schema" / "occasion.schema.json").read_text("utf-8"))
PROGRAM = str(Path(sys.executable).with_name("fastness"))
GAME = (
    '[Event "Club evening"]\n[Date "2024.01.02"]\n[White "Weber, Anna"]\n[Black "Lopez, Ben"]\n'
    '[Result "1-0"]\n\n1. d4 d5 2. Nf3 e6 3. Bg5 h6 4. Bxd8 {[%clk 0:10:00]} Kxd8 1-0\n\n'
)
ILLEGAL = GAME.replace("3. Bg5 h6", "3. Bg5 h6 4. Ke5 a6 5. e4")


def run(*words: str | Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [PROGRAM, "sift", *map(str, words)], capture_output=True, text=True, timeout=120
    )


def write(path: Path, content: str | bytes) -> Path:
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def rows(done: subprocess.CompletedProcess[str]) -> list[dict[str, Any]]:
    return [json.loads(line) for line in done.stdout.splitlines()]


def test_the_summary_stands_before_the_places(tmp_path: Path) -> None:
    file = write(tmp_path / "a.pgn", GAME)
    done = run(file)
    assert (done.returncode, done.stderr) == (0, "")
    text = done.stdout
    assert text.startswith("Lopez, Ben, 1 game\n")
    assert text.index("Weber, Anna, 1 game") < text.index(f"Places to look in {file}")
    assert "  3...h6  Lopez, Ben (Black)\n    Not safe: the queen on d8 (" in text
    assert "  4.Bxd8  Weber, Anna (White), 0:10:00 left\n" in text
    assert max(map(len, text.splitlines())) <= max(88, len(f"Places to look in {file}"))


def test_one_player(tmp_path: Path) -> None:
    file = write(tmp_path / "a.pgn", GAME)
    done = run(file, "--player", "anna weber", "--reach", "2")
    assert done.returncode == 0
    assert done.stdout.startswith("Weber, Anna, 1 game\n")
    assert "h6" not in [line.split()[0] for line in done.stdout.splitlines() if line.strip()]
    assert "1-0, playing White\n" in done.stdout


def test_json_lines_keep_the_contract(tmp_path: Path) -> None:
    file = write(tmp_path / "a.pgn", GAME)
    done = run(file, "--json", "--values", "kaufman")
    told = rows(done)
    assert (done.returncode, done.stderr) == (0, "")
    assert [(row["kind"], row["ply"]) for row in told] == [
        ("danger", 6),
        ("danger", 7),
        ("taking", 7),
        ("danger", 8),
    ]
    for row in told:
        assert list(row) == SCHEMA["required"]
        jsonschema.validate(row, SCHEMA, cls=jsonschema.Draft202012Validator)
    assert [row["clock"] for row in told] == [None, 600, 600, None]


@pytest.mark.parametrize(
    ("name", "pack"),
    [("a.pgn.gz", gzip.compress), ("a.pgn.zst", zstandard.ZstdCompressor().compress)],
)
def test_packed_files_say_the_same(tmp_path: Path, name: str, pack: Any) -> None:
    plain = write(tmp_path / "a.pgn", GAME)
    packed = write(tmp_path / name, pack(GAME.encode()))
    assert run(packed, "--json").stdout == run(plain, "--json").stdout != ""


BAD = [
    ("an empty file", b"", "file", "is empty"),
    ("a binary file", GAME.encode() + bytes(range(32)) * 90, "file", "is not text"),
    ("a cut gzip file", gzip.compress(GAME.encode() * 50)[:-30], "file", "is cut off"),
    ("a game without an end", GAME.replace("Kxd8 1-0", "Kxd8"), "game", "without a result"),
    ("an illegal move", ILLEGAL, "game", "Ke5"),
    ("no king", f'[FEN "8/8/8/8/8/8/8/K7 w - - 0 1"]\n\n1. Ka2 *\n\n{GAME}', "game", "no king"),
]


@pytest.mark.parametrize("row", BAD, ids=lambda row: str(row[0]))
def test_bad_input_is_told_and_costs_nothing_else(
    tmp_path: Path, row: tuple[str, str | bytes, str, str]
) -> None:
    _, content, code, words = row
    good = write(tmp_path / "good.pgn", GAME)
    bad = write(tmp_path / "bad.pgn", content)
    done = run(bad, good, "--json", "--reach", "1")
    told = rows(done)
    # A file that is cut off costs its last game too, which is told before.
    problems = [one for one in told if "error" in one]
    problem = problems[-1]
    assert done.returncode == 2
    assert list(problem) == ["file", "game", "line", "error"]
    assert problem["file"] == str(bad)
    assert problem["error"]["code"] == code
    assert words in problem["error"]["message"]
    from_good = [one for one in told if "kind" in one][-4:]
    assert [one["ply"] for one in from_good] == [6, 7, 7, 8]
    page = run(bad, good, "--reach", "1")
    assert page.returncode == 2
    assert page.stderr.splitlines() == [f"fastness: {one['error']['message']}" for one in problems]
    assert "3...h6" in page.stdout


def test_moves_before_an_illegal_one_are_sifted(tmp_path: Path) -> None:
    done = run(write(tmp_path / "a.pgn", ILLEGAL), "--json")
    problem, *told = rows(done)
    assert (problem["game"], problem["line"]) == (1, 7)
    assert "legal" in problem["error"]["message"]
    assert [row["played"]["san"] for row in told] == ["h6"]


def test_latin_1_is_read_and_said(tmp_path: Path) -> None:
    file = write(tmp_path / "a.pgn", GAME.replace("Lopez, Ben", "Löpez, Bén").encode("latin-1"))
    done = run(file, "--json", "--player", "Bén Löpez")
    assert done.returncode == 0
    assert "Latin-1" in done.stderr
    assert {row["player"] for row in rows(done)} == {"Löpez, Bén"}


def test_a_game_of_300_moves(tmp_path: Path) -> None:
    fen = "8/8/4k3/8/8/4K3/8/8 w - - 0 1"
    moves = " ".join(
        f"{number}. K{'e2' if number % 2 else 'e3'} K{'e7' if number % 2 else 'e6'}"
        for number in range(1, 301)
    )
    file = write(tmp_path / "a.pgn", f'[FEN "{fen}"]\n[White "A"]\n[Black "B"]\n\n{moves} *\n')
    done = run(file)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.count("Nothing was in danger, and nothing could be won.") == 2


def test_an_unknown_player_lists_the_near_names(tmp_path: Path) -> None:
    file = write(tmp_path / "a.pgn", GAME)
    for words in (["--json"], []):
        done = run(file, "--player", "Lopes", *words)
        assert (done.returncode, done.stdout) == (2, "")
        assert done.stderr == (
            'fastness: no game names a player "Lopes"; names like it: Lopez, Ben\n'
        )


@pytest.mark.parametrize(
    "words",
    [[], ["--reach", "9"], ["--values", "none"], ["--unknown"], ["a.pgn", "--player"]],
    ids=str,
)
def test_bad_usage(words: list[str]) -> None:
    done = run(*words)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("fastness: ")
    assert "Traceback" not in done.stderr


def test_a_closed_pipe_is_quiet() -> None:
    pipe = '"$0" sift "$1" --json --reach 1 | head -n 1 >/dev/null; echo ${PIPESTATUS[0]}'
    done = subprocess.run(
        ["bash", "-c", pipe, PROGRAM, str(HISTORIC)], capture_output=True, text=True, timeout=60
    )
    assert (done.stdout, done.stderr) == ("141\n", "")


@pytest.fixture
def heeded_interrupts() -> Iterator[None]:
    # A run started in the background of a shell ignores them, and so would what it starts.
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("heeded_interrupts")
@pytest.mark.parametrize("json_", [True, False])
def test_an_interrupt_leaves_at_once_with_what_was_done(json_: bool) -> None:
    words = ["--json"] if json_ else []
    with subprocess.Popen(
        [PROGRAM, "sift", str(HISTORIC), "--reach", "2", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as running:
        assert running.stdout is not None
        first = running.stdout.readline() if json_ else ""
        if not json_:
            time.sleep(5)
        running.send_signal(signal.SIGINT)
        begun = time.monotonic()
        out, said = running.communicate(timeout=60)
    assert time.monotonic() - begun < 20
    assert (running.returncode, said) == (130, "")
    if json_:
        assert {"game", "ply"} <= set(json.loads(first))
    else:
        assert out.startswith("Stopped after ")


def test_a_bar_is_shown_on_a_terminal_only(tmp_path: Path) -> None:
    file = write(tmp_path / "a.pgn", GAME + ILLEGAL)
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [PROGRAM, "sift", str(file)],
        stdout=subprocess.PIPE,
        stderr=theirs,
        env={**os.environ, "TERM": "xterm"},
    ) as running:
        os.close(theirs)
        out, _ = running.communicate(timeout=60)
    said = b""
    try:
        while piece := os.read(ours, 1 << 16):
            said += piece
    except OSError:
        pass  # the other end is closed
    finally:
        os.close(ours)
    assert running.returncode == 2
    assert b"Going through the games" in said
    assert b"fastness: " in said
    assert b"Going through" not in out
    assert b"Going through" not in run(file).stderr.encode()

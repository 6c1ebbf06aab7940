"""Runs the commands of the teacher's manual, one after another, as a reader would.

In a fenced block marked `console` each line that begins with `$ ` is a command, the others show
what it prints and are not compared. All chapters are one story: what a command writes is there for
those that follow. `monday.pgn` is the beginning of a game of
the invented club. `fastness serve` is started, asked
for its first page and the files that this names, and stopped.
"""

from __future__ import annotations

import io
import re
import shlex
import shutil
import socket
import subprocess
import time
import urllib.request
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import chess.pgn

from scripts.manual import ROOT, chapters

BLOCK = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)
GAMES = ROOT / "demo" / "millrace.pgn"
PLAYED = ('[Date "2026.10.19"]', '[Black "Flourdust, Ivy"]')
"""What the game says that is brought in."""
MOVES = 12
"""Moves of it that are brought in: a few places to look are enough to try the commands."""
SERVE = ["fastness", "serve"]
FILES = re.compile(r'(?:src|href)="(/[^"]+)"')
"""The files that a page names."""
PATIENCE = 60
"""Seconds until the workbench must have answered."""
LONGEST = 600
"""Seconds that a command may take."""


@dataclass(frozen=True, slots=True)
class Ran:
    """What a command of a chapter did."""

    chapter: str
    command: str
    status: int
    told: str


def commands() -> list[tuple[str, str]]:
    """The commands, each with its chapter."""
    return [
        (path.stem, line.removeprefix("$ "))
        for path in chapters()
        for block in BLOCK.findall(path.read_text(encoding="utf-8"))
        for line in block.splitlines()
        if line.startswith("$ ")
    ]


def monday() -> str:
    """The beginning of a game of the invented club, as PGN."""
    games = re.split(r"\n(?=\[Event )", GAMES.read_text(encoding="ascii"))
    text = next(game for game in games if all(tag in game for tag in PLAYED))
    game = chess.pgn.read_game(io.StringIO(text))
    assert game is not None
    last: chess.pgn.GameNode = game
    while last.variations and last.ply() < 2 * MOVES:
        last = last.variations[0]
    last.variations = []
    return f"{game}\n"


def tell(
    folder: Path, programs: Path, environment: Mapping[str, str], also: Sequence[str] = ()
) -> Iterator[Ran]:
    """Run all commands in a folder, with nothing on the path but the folder of the programs.

    `also` are paths that the workbench is asked for besides.
    """
    (folder / "monday.pgn").write_text(monday(), "ascii")
    own = {**environment, "PATH": str(programs)}
    for chapter, command in commands():
        words = shlex.split(command)
        if shutil.which(words[0], path=own["PATH"]) is None:
            yield Ran(chapter, command, 127, f"there is no {words[0]}")
        elif words[:2] == SERVE:
            yield _served(chapter, command, folder, own, also)
        else:
            yield _ran(chapter, command, folder, own)


def _ran(chapter: str, command: str, folder: Path, environment: Mapping[str, str]) -> Ran:
    done = subprocess.run(
        _found(command, environment),
        cwd=folder,
        env=environment,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=LONGEST,
        check=False,
    )
    return Ran(chapter, command, done.returncode, done.stdout + done.stderr)


def _found(command: str, environment: Mapping[str, str]) -> list[str]:
    """The words of a command, its program by its whole path."""
    first, *rest = shlex.split(command)
    return [shutil.which(first, path=environment["PATH"]) or first, *rest]


def _served(
    chapter: str, command: str, folder: Path, environment: Mapping[str, str], also: Sequence[str]
) -> Ran:
    with socket.socket() as tried:
        tried.bind(("127.0.0.1", 0))
        port = tried.getsockname()[1]
    program = subprocess.Popen(
        [*_found(command, environment), "--no-open", "--port", str(port)],
        cwd=folder,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        status, told = _visited(f"http://127.0.0.1:{port}", program, also)
    finally:
        program.terminate()
        printed = program.communicate()[0]
    return Ran(chapter, command, status, printed + told)


def _visited(place: str, program: subprocess.Popen[str], also: Sequence[str]) -> tuple[int, str]:
    """Whether a workbench that is starting answers with its page and all that this needs."""
    until = time.monotonic() + PATIENCE
    while program.poll() is None and time.monotonic() < until:
        try:
            page = _asked(place + "/")[1].decode()
            break
        except OSError:
            time.sleep(0.1)
    else:
        return 1, "it does not answer"
    wanted = [*FILES.findall(page), *also]
    if "<title>fastness</title>" not in page or not any(path.endswith(".js") for path in wanted):
        return 1, f"this is not its page: {page}"
    for path in wanted:
        try:
            kind, data = _asked(place + path)
        except OSError as error:
            return 1, f"{path}: {error}"
        # A path that is no file is answered with the page.
        if kind.startswith("text/html") or not data:
            return 1, f"{path} is not there"
    return 0, f"{len(wanted)} files of the page"


def _asked(address: str) -> tuple[str, bytes]:
    """What kind of file is at an address, and the file."""
    with urllib.request.urlopen(address, timeout=5) as answer:
        return answer.headers["content-type"], answer.read()

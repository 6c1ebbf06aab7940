"""How fast a sweep is, and how much memory it takes: by processes, and by the archive's size.

Usage: python -m scripts.measure_sweep [--games 1000] [--sizes 1 4] [--processes 1 2] [--reach 2]
[--archive GAMES.pgn]

The archive is made of the games given, over and over, each time with another event, round and
ratings, and packed with Zstandard. Processor seconds are those of all processes together, and say
more than the clock on a machine with other work to do. Memory is what the processes hold of their
own (unique set size), looked at five times a second; what they share is not counted twice.
Nothing in the program keeps what it found in a game for the next one; that games come again is held
against it by `--again`, which times the same games twice in one process.
"""

from __future__ import annotations

import argparse
import io
import itertools
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import chess.pgn
import psutil
import zstandard

from fastness.intake import Game, read_games
from fastness.workflows.sifting import SiftSettings, looks_at

ROOT = Path(__file__).parents[1]
HISTORIC = ROOT / "tests" / "data" / "historic.pgn"
RATINGS = (1250, 1550, 1950, 2350)
LOOK_EVERY = 0.2
"""Seconds between two looks at the memory."""


@dataclass(frozen=True, slots=True)
class Run:
    """One sweep: seconds by the clock and of the processors, megabytes at the most."""

    games: int
    processes: int
    clock: float
    processor: float
    parent: float
    worker: float
    together: float


def texts(path: Path) -> Iterator[tuple[dict[str, str], str]]:
    """The tags and the moves of each game."""
    with path.open(encoding="utf-8", errors="replace") as file:
        while (game := chess.pgn.read_game(file)) is not None:
            printer = chess.pgn.StringExporter(headers=False)
            yield dict(game.headers), game.accept(printer)


def make_archive(source: Path, to: Path, games: int) -> None:
    """Write so many games, those of the source over and over, each time with other tags."""
    known = list(texts(source))
    with (
        zstandard.ZstdCompressor(level=3).stream_writer(to.open("wb")) as packed,
        io.TextIOWrapper(packed, encoding="utf-8") as out,
    ):
        for number, (tags, moves) in enumerate(itertools.islice(itertools.cycle(known), games)):
            turn = number // len(known)
            changed = tags | {
                "Event": f"Millrace evening {turn + 1}",
                "Round": str(number + 1),
                "WhiteElo": str(RATINGS[number % 4] + turn % 50),
                "BlackElo": str(RATINGS[number // 4 % 4] + turn % 50),
            }
            out.writelines(f'[{name} "{value}"]\n' for name, value in changed.items())
            out.write(f"\n{moves}\n\n")


def sweep(archive: Path, games: int, processes: int, reach: int, out: Path) -> Run:
    """Sweep an archive by the command, watching its processes."""
    command = [Path(sys.executable).with_name("fastness"), "sweep", archive, "--out", out]
    command += ["--reach", str(reach), "--processes", str(processes)]
    begun = time.monotonic()
    done = psutil.Popen([str(word) for word in command], stdout=subprocess.DEVNULL)
    spent: dict[int, float] = {}
    parent = worker = together = 0.0
    while done.poll() is None:
        held = []
        for one in [done, *_children(done)]:
            try:
                times = one.cpu_times()
                spent[one.pid] = times.user + times.system
                held.append(one.memory_full_info().uss / 1e6)
            except psutil.Error:
                continue
        if held:
            parent, together = max(parent, held[0]), max(together, sum(held))
            worker = max([worker, *held[1:]])
        time.sleep(LOOK_EVERY)
    if done.returncode not in (0, 2):
        raise SystemExit(f"the sweep ended with status {done.returncode}")
    clock = time.monotonic() - begun
    return Run(games, processes, clock, sum(spent.values()), parent, worker, together)


def _children(process: psutil.Popen) -> list[psutil.Process]:
    try:
        found: list[psutil.Process] = process.children(recursive=True)
    except psutil.Error:
        return []
    return found


def again(source: Path, reach: int, most: int = 30) -> tuple[float, float]:
    """Processor seconds of the same games the first and the second time, in this process."""
    games = [item for item in read_games(source) if isinstance(item, Game)][:most]
    took = []
    for _ in range(2):
        begun = time.process_time()
        for game in games:
            looks_at(game, "both", SiftSettings(reach, "classical", 0))
        took.append(time.process_time() - begun)
    return took[0], took[1]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--archive", type=Path, default=HISTORIC)
    parser.add_argument("--games", type=int, default=1000)
    parser.add_argument("--sizes", type=int, nargs="+", default=[1, 4])
    parser.add_argument("--processes", type=int, nargs="+", default=[1, 2])
    parser.add_argument("--reach", type=int, default=2)
    parser.add_argument("--again", action="store_true")
    args = parser.parse_args()
    if args.again:
        first, second = again(args.archive, args.reach)
        print(f"the same games: {first:.2f} s the first time, {second:.2f} s the second")
    print("| games | processes | seconds | games a second | processor seconds a game |", end="")
    print(" MB: parent | a worker | all |\n|" + " --- |" * 8)
    with tempfile.TemporaryDirectory() as folder:
        for size, processes in itertools.product(args.sizes, args.processes):
            games = size * args.games
            archive = Path(folder) / f"{games}.pgn.zst"
            if not archive.exists():
                make_archive(args.archive, archive, games)
            out = Path(folder) / f"{games}-{processes}"
            run = sweep(archive, games, processes, args.reach, out)
            print(
                f"| {games:,} | {processes} | {run.clock:.1f} | {games / run.clock:.2f} |"
                f" {run.processor / games:.4f} | {run.parent:.0f} | {run.worker:.0f} |"
                f" {run.together:.0f} |",
                flush=True,
            )


if __name__ == "__main__":
    main()

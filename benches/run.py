"""Measure speed and check the answers: `make bench`.

Usage: python -m benches.run [--positions N] [--games FILE] [--record]

Each row gives the target, the median and the 95th percentile over positions, games or runs, and
the positions visited for each. Absolute times do not travel: read them beside the machine's rate
of move generation. Exit status 1 if an answer is not the recorded one.
"""

from __future__ import annotations

import argparse
import os
import platform
import statistics
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from benches import answers, material
from fastness import core
from fastness.core.shapes import Look
from fastness.errors import FastnessError, PositionError
from fastness.intake import Game, read_games
from fastness.sift import occasions

REACH = 3
GAME_COUNT = 20
DEEP_COUNT = 50
"""Reach 4 takes long: it is measured on the first of the positions only."""
RUNS = 20
SCREENED_A_SECOND = 2000
"""Positions that one core is to screen in a second, at the least."""


@dataclass(frozen=True, slots=True)
class Row:
    """One measured line: seconds of each run, and positions visited in each where counted."""

    work: str
    target: float | None
    seconds: Sequence[float]
    nodes: Sequence[int] = ()


def full_surveys(fens: Sequence[str]) -> Row:
    measured = core.measure(fens, reach=REACH)
    return _search_row("full survey, reach 3, exact nets", 0.015, measured)


def verdicts(fens: Sequence[str], reach: int, target: float) -> Row:
    """Only whether each legal move holds."""
    work = f"holds or falls of every legal move, reach {reach}"
    return _search_row(work, target, core.measure_holds(fens, reach=reach))


def _search_row(work: str, target: float, measured: Sequence[tuple[int, float]]) -> Row:
    return Row(work, target, [each[1] for each in measured], [each[0] for each in measured])


def sifted_games(games: Sequence[Game]) -> Row:
    """White's first 40 moves of each game."""
    spent = []
    for game in games:
        started = time.perf_counter()
        looks = _looks(game)
        occasions(game, looks)
        spent.append(time.perf_counter() - started)
    return Row("sift of a 40-move game, one player, reach 3", 0.5, spent)


def _looks(game: Game) -> list[Look]:
    moves = game.moves[: 2 * material.GAME_MOVES]
    return core.look(game.start_fen, moves, colours="white", reach=REACH)


def screened_games(games: Sequence[Game]) -> Row:
    """Every position of each game; seconds a position."""
    spent = []
    for game in games:
        started = time.perf_counter()
        reaches = _screened(game)
        spent.append((time.perf_counter() - started) / len(reaches))
    return Row("screening a position for exercises", 1 / SCREENED_A_SECOND, spent)


def _screened(game: Game) -> list[int]:
    (reaches,) = core.screen([(game.start_fen, game.moves)], threads=1)
    if isinstance(reaches, PositionError):
        raise reaches
    return reaches


def command_starts() -> Row:
    """The installed program, started afresh each time."""
    command = [str(Path(sys.executable).with_name("fastness")), "--help"]
    spent = []
    for _ in range(RUNS):
        started = time.perf_counter()
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        spent.append(time.perf_counter() - started)
    return Row("command start (--help)", 0.3, spent)


def read_files() -> Row:
    """The historic games, read from the file; seconds a game."""
    spent = []
    for _ in range(5):
        started = time.perf_counter()
        count = sum(isinstance(item, Game) for item in read_games(material.GAMES))
        spent.append((time.perf_counter() - started) / count)
    return Row("intake of a game", None, spent)


def print_row(row: Row) -> None:
    target = "-" if row.target is None else f"{1000 * row.target:g} ms"
    middle = 1000 * statistics.median(row.seconds)
    late = 1000 * _percentile(row.seconds, 95)
    nodes = f"{statistics.mean(row.nodes):14,.0f}" if row.nodes else f"{'-':>14}"
    print(f"{row.work:48} {target:>8} {middle:10.2f} {late:10.2f} {nodes}", flush=True)


def _percentile(values: Sequence[float], percent: int) -> float:
    """The smallest value that this percentage of the values does not exceed."""
    ordered = sorted(values)
    return ordered[-(-len(ordered) * percent // 100) - 1]


def current_answers(fens: Sequence[str], games: Sequence[Game]) -> dict[answers.Key, str]:
    """The answers now, by what was asked and where."""
    surveys = {
        ("survey", fen): answers.survey_answer(core.survey(fen, reach=REACH)) for fen in fens
    }
    sifts = {
        ("sift", f"game {game.number} white"): answers.sift_answer(_looks(game)) for game in games
    }
    screens = {
        ("screen", f"game {game.number}"): answers.screen_answer(_screened(game)) for game in games
    }
    return surveys | sifts | screens


def measure(fens: Sequence[str], games: Sequence[Game]) -> None:
    """Print every row."""
    print(f"Machine: {platform.machine()}, {os.cpu_count()} cores; times are on one core.")
    print(f"Move generation: {core.moves_a_second() / 1e6:,.0f} million moves a second.")
    deep = min(DEEP_COUNT, len(fens))
    print(f"{len(fens)} positions ({deep} at reach 4), {len(games)} games; milliseconds.\n")
    print(f"{'work':48} {'target':>8} {'median':>10} {'95th perc.':>10} {'nodes (mean)':>14}")
    print_row(full_surveys(fens))
    print_row(verdicts(fens, 3, 0.006))
    print_row(verdicts(fens[:DEEP_COUNT], 4, 0.090))
    print_row(sifted_games(games))
    screening = screened_games(games)
    print_row(screening)
    print_row(command_starts())
    reading = read_files()
    print_row(reading)
    print(f"\nIntake: {1 / statistics.median(reading.seconds):,.0f} games a second.")
    print(f"Screening: {1 / statistics.median(screening.seconds):,.0f} positions a second.")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--positions", type=int, default=200)
    parser.add_argument("--games", type=Path, help="measure the sift on this PGN file as well")
    parser.add_argument("--record", action="store_true", help="write benches/answers.csv anew")
    args = parser.parse_args()
    fens = material.positions(args.positions)
    games = material.games(material.GAMES, GAME_COUNT)
    if args.record:
        answers.record(current_answers(fens, games).items())
        return 0
    measure(fens, games)
    if args.games:
        print(f"\nOn {args.games.name}, the first games of 40 moves:")
        print_row(sifted_games(material.games(args.games, GAME_COUNT)))
    wrong = answers.differences(current_answers(fens, games), answers.read_recorded())
    print("\n" + "\n".join(wrong or ["Every answer is the recorded one."]))
    return 1 if wrong else 0


if __name__ == "__main__":
    try:
        sys.exit(main())
    except FastnessError as error:
        sys.exit(f"benches: {error}")

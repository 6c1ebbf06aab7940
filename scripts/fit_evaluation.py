"""Fit the weights of the evaluation to the results of games, and write weights.rs.

Usage: python scripts/fit_evaluation.py [--games N] [--nodes N] [--seed N] [--played FILE]

The games are those that the present evaluation plays against itself, and tests/data/historic.pgn.
The start values and their reasons stand in scripts/fit_evaluation_start.csv; docs/evaluation.md
explains the method. Needs cargo, and numpy beside the project's own packages.
"""

from __future__ import annotations

import argparse
import csv
import io
import subprocess
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import chess
import chess.pgn
import numpy as np
from numpy.typing import NDArray

ROOT = Path(__file__).parents[1]
HISTORIC = ROOT / "tests" / "data" / "historic.pgn"
START = ROOT / "scripts" / "fit_evaluation_start.csv"
WEIGHTS = ROOT / "crates" / "core" / "src" / "evaluation" / "weights.rs"

RESULTS = {"1-0": "1", "1/2-1/2": "0.5", "0-1": "0"}
FIXED = ("hunt",)
"""Features that keep their start value: games are over, as won, before these count."""

PAWN = 100.0
"""Centipawns: what a pawn is worth halfway between middle game and end game, by definition."""

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Samples:
    """Quiet positions: one row each, White's count minus Black's."""

    counts: Floats
    """Shape (positions, 2 * features): the counts by stage, middle game first, weighed."""
    results: Floats
    """Shape (positions,): 1, 0.5 or 0 for White."""
    games: NDArray[np.int64]
    """Shape (positions,): the number of the game each comes from."""

    def of_games(self, held_out: bool) -> Samples:
        """Every tenth game, held out to measure by, or the others, to fit on."""
        rows = (self.games % 10 == 0) == held_out
        return Samples(self.counts[rows], self.results[rows], self.games[rows])


@dataclass(frozen=True, slots=True)
class Fit:
    """What came of a fit."""

    weights: Floats
    """Shape (2, features): centipawns in the middle game and in the end game."""
    before: float
    """Loss on the games held out, with the start values."""
    after: float
    """The same with the fitted weights."""
    per_pawn: float
    """Rating points by which the expected score rises with a pawn, near an even position."""


def run_example(name: str, *arguments: str, given: str = "") -> str:
    """What an example of the core prints.

    Raises:
        subprocess.CalledProcessError: if it cannot be built or fails.
    """
    command = ["cargo", "run", "--quiet", "--release", "-p", "fastness-core", "--example", name]
    done = subprocess.run(
        [*command, "--", *arguments],
        cwd=ROOT,
        input=given,
        stdout=subprocess.PIPE,
        text=True,
        check=True,
    )
    return done.stdout


def historic_games() -> list[str]:
    """The historic games with a result, one line each as the example `play_games` prints them."""
    lines = []
    with HISTORIC.open(encoding="utf-8") as text:
        while (game := chess.pgn.read_game(text)) is not None:
            result = RESULTS.get(game.headers.get("Result", "*"))
            if result is not None and not game.errors:
                moves = " ".join(move.uci() for move in game.mainline_moves())
                lines.append(f"{result};{game.board().fen()};{moves}")
    return lines


def read_samples(printed: str, names: list[str]) -> Samples:
    """The samples that the example `samples` prints for features of these names, in order.

    Raises:
        ValueError: if its features are others.
    """
    head, *rows = printed.splitlines()
    if head.split(";") != names:
        raise ValueError(f"{START.name} does not list the features of the evaluation in order")
    counts = np.zeros((len(rows), 2 * len(names)))
    results, games = np.zeros(len(rows)), np.zeros(len(rows), dtype=np.int64)
    for at, row in enumerate(rows):
        game, result, middle, scale, *features = row.split()
        games[at], results[at] = int(game), float(result)
        share = float(middle)
        for feature in features:
            number, count = map(int, feature.split(":"))
            counts[at, number] = count * float(scale) * share
            counts[at, len(names) + number] = count * float(scale) * (1 - share)
    return Samples(counts, results, games)


def expected(centipawns: Floats, slope: float) -> Floats:
    """The expected score: Elo expectancy (FIDE Handbook B.02) of `slope` points a centipawn."""
    scores: Floats = 1 / (1 + 10 ** (-slope * centipawns / 400))
    return scores


def loss(samples: Samples, weights: Floats, slope: float) -> float:
    """The mean logarithmic loss of the expected scores, in nats."""
    scores = np.clip(expected(samples.counts @ weights, slope), 1e-9, 1 - 1e-9)
    losses = samples.results * np.log(scores) + (1 - samples.results) * np.log(1 - scores)
    return float(-losses.mean())


def best_slope(samples: Samples, weights: Floats) -> float:
    """The slope with the least loss, in rating points a centipawn, to a hundredth."""
    slopes = [step / 100 for step in range(10, 400)]
    return min(slopes, key=lambda slope: loss(samples, weights, slope))


def descend(
    samples: Samples, start: Floats, fixed: NDArray[np.bool_], slope: float, steps: int
) -> Floats:
    """Gradient descent with momentum and a pace of its own for each weight (Kingma and Ba 2015).

    Weights are drawn to their start values, the more the less the games say: a weight is thought
    to be within half of its start value (half a pawn at most) and 6 centipawns of it, and the
    positions of a game, which share one result, count together as one.
    """
    spread = np.minimum(0.5 * np.abs(start), PAWN / 2) + 6
    games = len(np.unique(samples.games))
    weights, drift, force = start.copy(), np.zeros_like(start), np.zeros_like(start)
    for step in range(1, steps + 1):
        surprise = expected(samples.counts @ weights, slope) - samples.results
        gradient = slope * np.log(10) / 400 * (samples.counts.T @ surprise) / len(surprise)
        gradient += (weights - start) / spread**2 / games
        gradient[fixed] = 0
        drift = 0.9 * drift + 0.1 * gradient
        force = 0.999 * force + 0.001 * gradient**2
        pace = np.sqrt(force / (1 - 0.999**step)) + 1e-12
        weights -= drift / (1 - 0.9**step) / pace * min(1.0, 2 * (1 - step / (steps + 1)))
    return weights


def fit(samples: Samples, names: list[str], start: Floats, steps: int) -> Fit:
    """Fit the weights, in units that make a pawn 100 centipawns."""
    fitted_on, held_out = samples.of_games(False), samples.of_games(True)
    slope = best_slope(fitted_on, start)
    fixed = np.isin(np.array(names * 2), FIXED)
    fitted = descend(fitted_on, start, fixed, slope, steps)
    by_stage = fitted.reshape(2, -1)
    unit = float(by_stage[:, 0].mean()) / PAWN
    return Fit(
        weights=by_stage / unit,
        before=loss(held_out, start, slope),
        after=loss(held_out, fitted, slope),
        per_pawn=slope * unit * PAWN,
    )


def source(names: list[str], outcome: Fit, origin: list[str]) -> str:
    """The text of weights.rs."""
    out = io.StringIO()
    for line in ["Written by `scripts/fit_evaluation.py`; `docs/evaluation.md` explains.", *origin]:
        out.write(f"//! {line}\n")
    out.write("\nuse super::feature::FEATURES;\nuse super::tally::{Weight, weight};\n\n")
    out.write("pub(super) const WEIGHTS: [Weight; FEATURES] = [\n")
    for name, middle, end in zip(names, *np.rint(outcome.weights).astype(int), strict=True):
        out.write(f"    weight({middle}, {end}), // {name}\n")
    out.write("];\n")
    return out.getvalue()


def start_values() -> tuple[list[str], Floats]:
    """The names of the features and their start values, shape (2 * features,)."""
    with START.open(encoding="utf-8", newline="") as text:
        rows = list(csv.DictReader(text))
    stages = [[float(row[stage]) for row in rows] for stage in ("middle", "end")]
    return [row["feature"] for row in rows], np.array(stages).ravel()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--games", type=int, default=900, help="games to play")
    parser.add_argument("--nodes", type=int, default=2000, help="nodes a move in them")
    parser.add_argument("--seed", type=int, default=7, help="seed of their openings")
    parser.add_argument("--played", type=Path, help="a file to keep these games in, or to take")
    parser.add_argument("--steps", type=int, default=1500, help="steps of the descent")
    args = parser.parse_args()

    if args.played and args.played.exists():
        played = args.played.read_text(encoding="utf-8")
    else:
        played = run_example("play_games", str(args.games), str(args.nodes), str(args.seed))
        if args.played:
            args.played.write_text(played, encoding="utf-8")
    own, historic = played.splitlines(), historic_games()
    names, start = start_values()
    printed = run_example("samples", given="".join(f"{game}\n" for game in own + historic))
    samples = read_samples(printed, names)
    outcome = fit(samples, names, start, args.steps)
    origin = [
        f"Fitted on {datetime.now(UTC):%Y-%m-%d} to {len(samples.results)} quiet positions of",
        f"{len(own)} games played by the evaluation against itself ({args.nodes} nodes a move,",
        f"seed {args.seed}) and {len(historic)} historic games (`tests/data/historic.pgn`).",
        f"Loss on every tenth game, held out: {outcome.before:.4f} with the start values,",
        f"{outcome.after:.4f} with these. A pawn is worth {outcome.per_pawn:.0f} rating points.",
    ]
    WEIGHTS.write_text(source(names, outcome, origin), encoding="utf-8")
    print("\n".join(origin))


if __name__ == "__main__":
    main()

"""Whether the estimate of difficulty rises with the failures of the invented students.

Usage: python -m scripts.check_difficulty FOLDER [--first N] [--clubs N] [--positions N]
       [--threads N]

FOLDER holds the sifted clubs of `scripts.check_planted` (club-1.jsonl and so on, from the first
seed on; those that are missing are passed over). A position counts where a student of a club had
something in danger, not in check and not in the middle of a trade, and at least one legal move
held. A failure is a move played that does not hold, whether it lost all that was in danger ("let
fall") or some of it ("lessened"). The estimate is that of the question "better way" about the
position: one move that holds is looked for.

Printed are Kendall's tau-b (Kendall 1945; scipy) of the estimate against the failure of each
single position, which is 0 or 1 and played once, so that chance alone keeps it far below 1; and
against the share of failures in bands: positions sorted by estimate and cut into so many bands
of equal size, the mean estimate of a band against its share of failures. The interval is of 1,000
bootstrap samples of games, since positions of one game are alike, with the bands made anew.
"""

from __future__ import annotations

import argparse
import json
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.stats import kendalltau

from fastness.core import survey_many
from fastness.errors import FastnessError
from fastness.exercises.difficulty import estimate

BANDS = 20
SAMPLES = 1000
SEED = 6
FAILED = ("let fall", "lessened")


@dataclass(frozen=True, slots=True)
class Tried:
    """A position that a student of a club had before them, and whether the move played failed."""

    game: str
    fen: str
    failed: bool


def positions(folder: Path, first: int, clubs: int) -> list[Tried]:
    """The positions of the clubs, in the order of their games."""
    found = []
    for seed in range(first, first + clubs):
        file = folder / f"club-{seed}.jsonl"
        if not file.exists():
            continue
        for row in map(json.loads, file.read_text("utf-8").splitlines()):
            game = f"{seed}/{row['number']}"
            found += [
                Tried(game, one["fen"], one["outcome"] in FAILED)
                for one in row["occasions"]
                if counts(one)
            ]
    return found


def counts(occasion: dict[str, Any]) -> bool:
    """Whether something bare was in danger, could be kept, and was kept or not."""
    return (
        occasion["kind"] == "danger"
        and occasion["danger"] is not None
        and occasion["owed"] == 0
        and not occasion["recapture"]
        and bool(occasion["holding"])
        and occasion["outcome"] in ("held", *FAILED)
    )


def in_bands(
    estimates: NDArray[np.float64], failures: NDArray[np.float64], bands: int = BANDS
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """The mean estimate and the share of failures of each band, the easiest first."""
    order = np.argsort(estimates, kind="stable")
    parts = np.array_split(order, bands)
    means = np.array([estimates[part].mean() for part in parts])
    shares = np.array([failures[part].mean() for part in parts])
    return means, shares


def tau(one: NDArray[np.float64], other: NDArray[np.float64]) -> float:
    """Kendall's tau-b."""
    return float(kendalltau(one, other).statistic)


def bootstrap(
    games: list[str], estimates: NDArray[np.float64], failures: NDArray[np.float64]
) -> tuple[list[float], list[float]]:
    """The tau of single positions and of bands, in so many samples of games."""
    places = defaultdict(list)
    for place, game in enumerate(games):
        places[game].append(place)
    by_game = [np.array(found) for found in places.values()]
    dice = np.random.default_rng(SEED)
    single, banded = [], []
    for _ in range(SAMPLES):
        drawn = dice.integers(len(by_game), size=len(by_game))
        chosen = np.concatenate([by_game[number] for number in drawn])
        single.append(tau(estimates[chosen], failures[chosen]))
        banded.append(tau(*in_bands(estimates[chosen], failures[chosen])))
    return single, banded


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--first", type=int, default=1, help="the seed of the first club")
    parser.add_argument("--clubs", type=int, default=20)
    parser.add_argument("--positions", type=int, default=0, help="only the first so many")
    parser.add_argument("--threads", type=int, default=0)
    args = parser.parse_args()
    tried = positions(args.folder, args.first, args.clubs)[: args.positions or None]
    surveys = survey_many([(one.fen, ()) for one in tried], threads=args.threads)
    kept, guesses = [], []
    for one, survey in zip(tried, surveys, strict=True):
        if isinstance(survey, FastnessError):
            raise SystemExit(f"{one.fen}: {survey}")
        kept.append(one)
        guesses.append(estimate(survey, "better way"))
    if len(kept) < BANDS:
        raise SystemExit(f"{args.folder} has {len(kept)} positions; at least {BANDS} are wanted")
    estimates = np.array(guesses)
    failures = np.array([float(one.failed) for one in kept])
    means, shares = in_bands(estimates, failures)
    for mean, share in zip(means, shares, strict=True):
        print(f"estimate {mean:5.2f}: {share:.3f} failed")
    single, banded = bootstrap([one.game for one in kept], estimates, failures)
    games = len({one.game for one in kept})
    print(f"{len(kept)} positions of {games} games, {int(failures.sum())} failures")
    _print("single positions", tau(estimates, failures), single)
    _print(f"{BANDS} bands of equal size", tau(means, shares), banded)


def _print(what: str, found: float, samples: list[float]) -> None:
    low, high = np.quantile(samples, [0.025, 0.975])
    print(f"Kendall's tau, {what}: {found:.3f} (95 % bootstrap {low:.3f} to {high:.3f})")


if __name__ == "__main__":
    main()

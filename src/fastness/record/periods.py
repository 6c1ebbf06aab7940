"""How a rate changes over the dates: a trend, and before and after a date side by side."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from fastness.record.episode import Episode
from fastness.record.rates import SEED, Counts, Rate, counts_by_game, draws, rate_of

PARTS = 4


@dataclass(frozen=True, slots=True)
class Period:
    """The episodes from the `first` date to the `last`, both included."""

    first: str
    last: str
    rate: Rate


@dataclass(frozen=True, slots=True)
class Change:
    """A rate in the earlier and the later games, side by side; it says nothing of a cause.

    `low` and `high` are a 95 % interval for the later share less the earlier one. `enough`: both
    sides have enough episodes; else it is too few to tell.
    """

    before: Rate
    after: Rate
    low: float
    high: float
    enough: bool


def dated(episodes: Sequence[Episode]) -> list[Episode]:
    """The episodes whose date is known in full, by date."""
    known = [one for one in episodes if "?" not in one.date]
    return sorted(known, key=lambda one: (one.date, one.game, one.ply))


def trend(episodes: Sequence[Episode], parts: int = PARTS) -> list[Period]:
    """The rates in up to `parts` periods with about as many days of play each, in their order.

    Episodes without a full date are left out.
    """
    known = [one for one in dated(episodes) if one.could_hold]
    days = sorted({one.date for one in known})
    parts = min(parts, len(days))
    cuts = [round(len(days) * part / parts) for part in range(parts + 1)] if parts else []
    periods = []
    for start, end in pairwise(cuts):
        inside = set(days[start:end])
        rate = rate_of(one for one in known if one.date in inside)
        periods.append(Period(days[start], days[end - 1], rate))
    return periods


def halves(episodes: Sequence[Episode]) -> Change | None:
    """The earlier and the later half of the days of play; None with fewer than two days."""
    days = sorted({one.date for one in dated(episodes) if one.could_hold})
    return before_and_after(episodes, days[len(days) // 2]) if len(days) > 1 else None


def before_and_after(episodes: Sequence[Episode], date: str) -> Change:
    """The rates before a PGN date and from it on. Episodes without a full date are left out."""
    known = dated(episodes)
    earlier = [one for one in known if one.date < date]
    later = [one for one in known if one.date >= date]
    before, after = rate_of(earlier), rate_of(later)
    low, high = _difference(counts_by_game(earlier), counts_by_game(later))
    return Change(before, after, low, high, before.enough and after.enough)


def _difference(before: Sequence[Counts], after: Sequence[Counts]) -> tuple[float, float]:
    """A 95 % interval for the difference of two shares, games drawn again on both sides.

    One game alone does not vary when it is drawn again: fewer than two a side tell nothing.
    """
    if min(len(before), len(after)) < 2:
        return -1.0, 1.0
    low, high = np.quantile(_shares(after, SEED + 1) - _shares(before, SEED), (0.025, 0.975))
    return float(low), float(high)


def _shares(games: Sequence[Counts], seed: int) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    drawn = draws(len(games), seed) @ np.array(sorted(games), dtype=np.float64)
    shares: np.ndarray[tuple[int], np.dtype[np.float64]] = drawn[:, 0] / drawn[:, 1]
    return shares

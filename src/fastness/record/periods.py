"""How a rate changes over the dates: a trend, and before and after a date side by side."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

from fastness.record.episode import Episode
from fastness.record.rates import Rate, rate_of

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
    low, high = _difference(before, after)
    return Change(before, after, low, high, before.enough and after.enough)


def _difference(before: Rate, after: Rate) -> tuple[float, float]:
    """A 95 % interval for the later share less the earlier one, from the intervals of the two.

    The distances from share to end are squared and added: Newcombe 1998, Interval Estimation for
    the Difference between Independent Proportions, Statistics in Medicine 17, method 10, here with
    the intervals shown for the rates, which allow for several episodes from one game.
    """
    if not (before.of and after.of):
        return -1.0, 1.0
    first, second = before.held / before.of, after.held / after.of
    low = second - first - hypot(second - after.low, before.high - first)
    high = second - first + hypot(after.high - second, first - before.low)
    return low, high

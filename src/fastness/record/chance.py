"""Which causes cost a student more than chance alone would make any of those looked at."""

from dataclasses import dataclass

import numpy as np

from fastness.record.excess import (
    LEAST_LEVEL,
    MOST_LEVEL,
    SMOOTH,
    Floats,
    Losses,
    causes_of_losses,
    table_of_losses,
)
from fastness.record.rates import SEED

Hands = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]
"""Which games are the student's, a row a deal and a column a game."""

DEALS = 2000
"""How often the games are dealt out."""
BY_CHANCE = 0.05
"""How often anything at all may be told of a student who is like the group."""


def beyond_chance(student: Losses, group: Losses) -> frozenset[str]:
    """The causes by which more is lost than chance explains, all causes looked at together.

    Whoever looks at thirty causes finds one that stands out by its own interval in the games of
    every seventh student, weakness or not. So all games, the student's and the group's, are dealt
    out at random `DEALS` times, each time as many to the student as before, and in each deal the
    clearest cause is taken. A cause is beyond chance if it is clearer in the student's own games
    than the clearest one is in all but `BY_CHANCE` of the deals, in both of two ways:

    - its excess (`fastness.record.excess`) against the standard error: more than this student
      would lose by it if it were like everything else;
    - the difference to the group against the standard error: more than the group loses. Without
      it, somebody strong in everything else would be told of what everybody loses.

    Whole games are dealt, since what happens in one hangs together. The clearest of all causes in
    each deal: Westfall and Young 1993, Resampling-Based Multiple Testing (single-step max T), which
    allows for causes that overlap. Against the standard error, so that it also serves where the
    student loses more or less in all: Chung and Romano 2013, Exact and Asymptotically Robust
    Permutation Tests, Annals of Statistics 41. Both ways at once: the intersection-union test of
    Berger 1982, Technometrics 24.
    """
    if not student.games or not group.games:
        return frozenset()
    causes = sorted({*causes_of_losses(student), *causes_of_losses(group)})
    if not causes:
        return frozenset()
    own, theirs = table_of_losses(student, causes), table_of_losses(group, causes)
    games = np.vstack([own, theirs])
    as_played = np.arange(len(games)) < len(own)
    dealt = np.random.default_rng(SEED).permuted(np.tile(as_played, (DEALS, 1)), axis=1)
    beyond = np.full(len(causes), fill_value=True)
    for found, by_chance in zip(
        clearness(as_played[np.newaxis], games), clearness(dealt, games), strict=True
    ):
        # Between two that are infinite there is nothing to take a mean of.
        limit = np.quantile(by_chance.max(axis=1), 1 - BY_CHANCE, method="higher")
        beyond &= found[0] > limit
    return frozenset(cause for cause, is_beyond in zip(causes, beyond, strict=True) if is_beyond)


@dataclass(frozen=True, slots=True)
class _Side:
    """Means over the games of one side, a row a deal and a column a cause, and how many games.

    `lost` is what was lost by a cause and `rest` by everything else; then their products.
    """

    games: int
    lost: Floats
    rest: Floats
    lost_lost: Floats
    lost_rest: Floats
    rest_rest: Floats

    def error(self, slope: Floats) -> Floats:
        """The squared standard error of the mean of lost - slope * rest."""
        squares: Floats = (
            self.lost_lost
            - self.lost**2
            - 2 * slope * (self.lost_rest - self.lost * self.rest)
            + slope**2 * (self.rest_rest - self.rest**2)
        )
        return np.maximum(squares, 0.0) / max(self.games - 1, 1)


def _side(hands: Hands, games: Floats) -> _Side:
    number = int(hands[0].sum())
    lost = games[:, :-1]
    rest = games[:, -1:] - lost
    columns = np.hstack([lost, rest, lost * lost, lost * rest, rest * rest])
    return _Side(number, *np.hsplit(hands.astype(np.float64) @ columns / number, 5))


def clearness(hands: Hands, games: Floats) -> tuple[Floats, Floats]:
    """Of every hand dealt, the excess and the difference of each cause in standard errors.

    The error of the excess is that of its linear part (the delta method): with G and R what the
    group loses by the cause and otherwise and k the level, excess = L - k G changes with a game of
    the student's as lost - s * rest, and with one of the group's as -k (lost - s * rest), where
    s = G / (R + `SMOOTH`); s is 0 where the level has reached a limit.
    """
    own, theirs = _side(hands, games), _side(~hands, games)
    unbent = (own.rest + SMOOTH) / (theirs.rest + SMOOTH)
    level = np.clip(unbent, LEAST_LEVEL, MOST_LEVEL)
    slope = np.where(level == unbent, theirs.lost / (theirs.rest + SMOOTH), 0.0)
    excess = own.lost - level * theirs.lost
    error = own.error(slope) + level**2 * theirs.error(slope)
    none = np.zeros_like(slope)
    return (
        _in_errors(excess, error),
        _in_errors(own.lost - theirs.lost, own.error(none) + theirs.error(none)),
    )


def _in_errors(found: Floats, squared_error: Floats) -> Floats:
    """Infinite where every game says the same."""
    with np.errstate(divide="ignore", invalid="ignore"):
        in_errors: Floats = np.where(found == 0, 0.0, found / np.sqrt(squared_error))
    return in_errors

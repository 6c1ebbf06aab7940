"""What a cause costs a student beyond what was to be expected, with its interval."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fastness.record.episode import Episode
from fastness.record.rates import SEED, draws

Floats = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
Side = tuple[str, str]
"""One side of a game: its key and the colour."""

SMOOTH = 20.0
"""Added to both sides of the level, in centipawns a game, so that nothing is divided by nothing."""
MARKED = 1.25
"""So many times what the group loses by a cause it must be, to stand out."""
LEAST_LEVEL, MOST_LEVEL = 0.25, 4.0
"""The level of a student against the group is taken to be no further off than this."""


@dataclass(frozen=True, slots=True)
class Losses:
    """One side each of all games, with or without a loss, and the episodes from them."""

    games: Sequence[Side]
    episodes: Sequence[Episode]


@dataclass(frozen=True, slots=True)
class Excess:
    """Of one cause, in centipawns a game: lost, lost by the group (None without one), and excess.

    `low` and `high` are its 95 % interval. `stands_out`: markedly more was
    lost than by the group, and the interval lies above 0.
    """

    name: str
    lost: float
    group: float | None
    excess: float
    low: float
    high: float
    stands_out: bool


def excesses(student: Losses, group: Losses) -> list[Excess]:
    """The excess of every cause by which the student lost material that could be kept.

    Of cause c, let L be what the student loses a game in episodes with c where a move that holds
    was there, and G what the group does. The student's level k is the same quotient over all
    episodes without c, each side plus `SMOOTH`, between `LEAST_LEVEL` and `MOST_LEVEL`. The excess
    is L - k G: what c costs beyond what it would if it cost this student as much more than the
    group as everything else does. So what is lost by everybody does not stand out, nor does a
    common cause in the games of someone who loses more by every cause.

    The interval is excess +- 1.96 standard errors, from whole games drawn again on both sides (the
    cluster bootstrap, as for the rates). The method is this project's own: a difference in
    differences on the scale of ratios; indirect standardisation as in Breslow and Day 1987,
    Statistical Methods in Cancer Research II, is its model. Without a group, G is 0 and nothing
    stands out.
    """
    names = causes_of_losses(student)
    if not names:
        return []
    own = table_of_losses(student, names)
    theirs = table_of_losses(group, names) if group.games else np.zeros((1, len(names) + 1))
    excess = _excess(own.mean(axis=0), theirs.mean(axis=0))
    drawn = _excess(
        draws(len(own)) @ own / len(own),
        draws(len(theirs), SEED + 1) @ theirs / len(theirs),
    )
    error = drawn.std(axis=0)
    found = []
    for index, name in enumerate(names):
        lost, low = float(own[:, index].mean()), float(excess[index] - 1.96 * error[index])
        common = float(theirs[:, index].mean()) if group.games else None
        found.append(
            Excess(
                name=name,
                lost=lost,
                group=common,
                excess=float(excess[index]),
                low=low,
                high=float(excess[index] + 1.96 * error[index]),
                stands_out=common is not None and lost > MARKED * common and low > 0,
            )
        )
    return found


def causes_of_losses(losses: Losses) -> list[str]:
    """The causes by which something was lost that could be kept, by name."""
    return sorted({name for one in losses.episodes if _counts(one) for name in one.causes})


def _excess(own: Floats, theirs: Floats) -> Floats:
    """The excess of each cause; the last column of both sides is what was lost in all."""
    lost, common = own[..., :-1], theirs[..., :-1]
    without = own[..., -1:] - lost + SMOOTH
    level = np.clip(without / (theirs[..., -1:] - common + SMOOTH), LEAST_LEVEL, MOST_LEVEL)
    excess: Floats = lost - level * common
    return excess


def table_of_losses(losses: Losses, names: Sequence[str]) -> Floats:
    """What was lost in each game, in centipawns: a column a cause, and one for everything."""
    row = {game: [0.0] * (len(names) + 1) for game in losses.games}
    for episode in losses.episodes:
        if _counts(episode):
            cells = row[side_of(episode)]
            cells[-1] += episode.lost
            for index, name in enumerate(names):
                cells[index] += episode.lost * (name in episode.causes)
    # In order of the losses, so that the order of the games changes no interval.
    return np.array(sorted(row.values()), dtype=np.float64)


def side_of(episode: Episode) -> Side:
    """Whose side of which game the episode is from."""
    return episode.game, episode.occasion["colour"]


def _counts(episode: Episode) -> bool:
    return episode.could_hold and not episode.held

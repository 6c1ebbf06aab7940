"""The held rate split by one kind of cause: mechanism, reach, unit, phase, and so on."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Literal

from fastness.record.causes import HABITS, OWN_CAUSES
from fastness.record.episode import PHASES, Episode
from fastness.record.pooling import pooled
from fastness.record.rates import Counts, Rate, rate_of, rate_of_counts

By = Literal["mechanism", "danger", "reach", "unit", "phase", "hurried"]
_UNITS = ("pawn", "knight", "bishop", "rook", "queen", "king", "none")


def rates_by(
    by: By, episodes: Sequence[Episode], group: Sequence[Sequence[Episode]] = ()
) -> dict[str, Rate]:
    """The held rate of each name of one kind of cause, in a fixed order.

    An episode with several mechanisms counts under each. `group` are the episodes of each other
    student, to draw the shares towards. Where no clock was recorded, nothing is said of hurry.
    """
    name_all = _NAMES[by]
    split = _split(episodes, name_all)
    others = [_split(member, name_all) for member in group]
    found = {}
    for name in sorted(split, key=_place):
        students = [_counts(member.get(name, ())) for member in others]
        found[name] = pooled(rate_of(split[name]), students)
    return found


def ways_used(episodes: Iterable[Episode]) -> dict[str, Rate]:
    """By which way dangers were held: of all episodes held with a known way, the share of each.

    Here `held` of a rate is how often it was this way, `of` how often any.
    """
    games: dict[str, list[str]] = {}
    for episode in episodes:
        if episode.could_hold and episode.way is not None:
            games.setdefault(episode.game, []).append(episode.way)
    ways = sorted({way for used in games.values() for way in used})
    return {
        way: rate_of_counts([(used.count(way), len(used)) for used in games.values()])
        for way in ways
    }


def _split(
    episodes: Iterable[Episode], names: Callable[[Episode], Iterable[str]]
) -> Mapping[str, list[Episode]]:
    split: dict[str, list[Episode]] = {}
    for episode in episodes:
        if episode.could_hold:
            for name in names(episode):
                split.setdefault(name, []).append(episode)
    return split


def _counts(episodes: Iterable[Episode]) -> Counts:
    known = list(episodes)
    return sum(one.held for one in known), len(known)


def _place(name: str) -> tuple[int, str]:
    order = (*_UNITS, *PHASES, *OWN_CAUSES)
    return (order.index(name) if name in order else len(order)), name


def _mechanisms(episode: Episode) -> list[str]:
    return [name for name in episode.causes if name not in OWN_CAUSES]


def _dangers(episode: Episode) -> list[str]:
    return [name for name in episode.causes if name in OWN_CAUSES and name not in HABITS]


def _hurry(episode: Episode) -> list[str]:
    return [] if episode.hurried is None else ["hurried" if episode.hurried else "with time"]


_NAMES: Mapping[By, Callable[[Episode], Iterable[str]]] = {
    "mechanism": _mechanisms,
    "danger": _dangers,
    "reach": lambda episode: [str(episode.reach)],
    "unit": lambda episode: [episode.unit],
    "phase": lambda episode: [episode.phase],
    "hurried": _hurry,
}

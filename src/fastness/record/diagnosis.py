"""The diagnosis: which causes cost a student material, set against what the group loses anyway."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import Literal

from fastness.core.shapes import Side
from fastness.record.causes import HABITS, HURRIED, OWN_CAUSES
from fastness.record.chance import beyond_chance
from fastness.record.corrections import Said, corrected_games
from fastness.record.episode import Episode, all_episodes
from fastness.record.examples import EXAMPLES, best_examples, held_examples
from fastness.record.excess import Excess, Losses, excesses
from fastness.record.pooling import pooled
from fastness.record.rates import Rate, counts_by_game, rate_of
from fastness.record.student_game import StudentGame

FEWEST_EPISODES = 5
FEWEST_GAMES = 3
"""A cause stands out only if so many episodes fell by it, in so many games."""
ALIKE = 2 / 3
"""A finding is alike to one before it that has this share of its losses."""

Kind = Literal["mechanism", "danger", "habit"]


@dataclass(frozen=True, slots=True)
class Finding:
    """A cause, and what it cost where a move that holds was there.

    `lost_per_game` and `group_per_game` (None without a group) are centipawns a game, `excess` is
    what was lost beyond what was to be expected, with its 95 % interval from `low` to `high`.
    `fell` counts episodes and `games` the games they are from. `rate` is None for a habit, which is
    seen in the move played. `stands_out`: it is markedly more than the group's, and the interval
    lies above 0. `told`: that is so beyond chance, with all causes looked at. `alike` is the
    finding told before it that has most of the same losses. `losses` are the student's own, the
    clearest first.
    """

    name: str
    kind: Kind
    rate: Rate | None
    lost_per_game: float
    group_per_game: float | None
    excess: float
    low: float
    high: float
    fell: int
    games: int
    stands_out: bool
    told: bool
    alike: str | None
    losses: tuple[Episode, ...]

    @property
    def examples(self) -> tuple[Episode, ...]:
        """The clearest of the losses."""
        return self.losses[:EXAMPLES]


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """What a student's games show: findings, those that stand out first, and dangers held.

    `games` and `episodes` count what it rests on, `compared` tells whether there was a group.
    """

    games: int
    episodes: int
    held: Rate
    compared: bool
    causes: tuple[Finding, ...]
    held_examples: tuple[Episode, ...]

    @property
    def told(self) -> tuple[Finding, ...]:
        """The findings that stand out and are no other side of one before them."""
        return tuple(one for one in self.causes if one.told and one.alike is None)


def diagnose(
    games: Sequence[StudentGame],
    group: Sequence[Sequence[StudentGame]] = (),
    corrections: Sequence[Said] = (),
) -> Diagnosis:
    """The diagnosis of one student.

    Args:
        games: the student's games.
        group: the games of each student of the group; one who has a game of the student's own (on
            the same side) is the student, and is left out.
        corrections: the teacher's, of anybody's games; they come first.

    What an excess is stands at `fastness.record.excess.excesses`, when it is told at
    `fastness.record.chance.beyond_chance`.
    """
    own = looked_through(games, corrections)
    others = [looked_through(member, corrections) for member in group]
    return diagnose_among(own, others)


@dataclass(frozen=True, slots=True)
class LookedThrough:
    """A student's games as the teacher has corrected them, and their episodes."""

    games: tuple[StudentGame, ...]
    episodes: tuple[Episode, ...]

    @property
    def sides(self) -> set[tuple[str, Side]]:
        """The sides of games that were the student's."""
        return {(game.game, game.colour) for game in self.games}


def looked_through(games: Sequence[StudentGame], corrections: Sequence[Said] = ()) -> LookedThrough:
    """A student's games for `diagnose_among`, so that a whole group's are gone through once."""
    own = corrected_games(games, corrections)
    return LookedThrough(tuple(own), tuple(all_episodes(own)))


def diagnose_among(own: LookedThrough, group: Sequence[LookedThrough]) -> Diagnosis:
    """As `diagnose`, from games that were looked through."""
    mine = own.sides
    others = [one for one in group if one.games and mine.isdisjoint(one.sides)]
    episodes, of_others = list(own.episodes), [list(one.episodes) for one in others]
    student = Losses([(game.game, game.colour) for game in own.games], episodes)
    rest_games = [(game.game, game.colour) for one in others for game in one.games]
    rest = Losses(rest_games, list(chain(*of_others)))
    found = [_finding(one, episodes, of_others) for one in excesses(student, rest)]
    beyond = beyond_chance(student, rest)
    findings = [replace(one, told=one.stands_out and one.name in beyond) for one in found]
    return Diagnosis(
        games=len(own.games),
        episodes=len(episodes),
        held=_pooled_rate(episodes, of_others),
        compared=bool(others),
        causes=tuple(_with_likeness(_ranked(findings), episodes)),
        held_examples=held_examples(episodes),
    )


def kind_of(name: str) -> Kind:
    """Whether a cause is a mechanism, another property of the danger, or a habit."""
    if name in HABITS:
        return "habit"
    return "danger" if name in OWN_CAUSES else "mechanism"


def _finding(one: Excess, episodes: list[Episode], group: list[list[Episode]]) -> Finding:
    kind = kind_of(one.name)
    with_cause = [episode for episode in episodes if one.name in episode.causes]
    fallen = [episode for episode in with_cause if episode.could_hold and not episode.held]
    games = len({episode.game for episode in fallen})
    rate = None
    if kind != "habit" or one.name == HURRIED:
        same = [[other for other in member if one.name in other.causes] for member in group]
        rate = _pooled_rate(with_cause, same)
    return Finding(
        name=one.name,
        kind=kind,
        rate=rate,
        lost_per_game=one.lost,
        group_per_game=one.group,
        excess=one.excess,
        low=one.low,
        high=one.high,
        fell=len(fallen),
        games=games,
        stands_out=one.stands_out and _often(len(fallen), games),
        told=False,
        alike=None,
        losses=best_examples(fallen, len(fallen)),
    )


def _pooled_rate(episodes: list[Episode], group: list[list[Episode]]) -> Rate:
    students = [
        (sum(held for held, _ in games), sum(of for _, of in games))
        for games in map(counts_by_game, group)
    ]
    return pooled(rate_of(episodes), students)


def _ranked(findings: list[Finding]) -> list[Finding]:
    """Those that stand out first, each by the low end of the excess: what one can be sure of.

    Then those with an excess, then the rest: in each the causes of a few losses last, and the
    others by the excess in standard errors. The low end would put a cause of one loss before one
    of many, since where little was lost little of it is unsure. Without a group, by what was lost.
    """

    def place(one: Finding) -> tuple[bool, bool, bool, float, float, str]:
        by = one.low if one.stands_out else _clearness(one)
        seldom = not _often(one.fell, one.games)
        return not one.stands_out, one.excess <= 0, seldom, -by, -one.lost_per_game, one.name

    return sorted(findings, key=place)


def _often(fell: int, games: int) -> bool:
    return fell >= FEWEST_EPISODES and games >= FEWEST_GAMES


def _clearness(one: Finding) -> float:
    """The excess against the width of its interval; what was lost where there is no group."""
    if one.group_per_game is None:
        return one.lost_per_game
    width = one.high - one.low
    return one.excess / width if width else one.excess


def _with_likeness(ranked: list[Finding], episodes: list[Episode]) -> list[Finding]:
    """The findings with each put after a narrower one that has most of its losses and excess.

    The excess counts too: what is lost in a hurry is mostly unguarded, and yet it is the hurry that
    sets these games apart.
    """

    def shared(one: Finding, other: Finding) -> float:
        both = sum(e.lost for e in episodes if _fell(e, one.name) and _fell(e, other.name))
        return both / max(1, sum(e.lost for e in episodes if _fell(e, one.name)))

    order: list[Finding] = []
    for one in ranked:
        wider = [
            index
            for index, before in enumerate(order)
            if one.stands_out
            and before.stands_out
            and one.lost_per_game < before.lost_per_game
            and shared(before, one) >= ALIKE
            and one.excess >= ALIKE * before.excess
        ]
        order.insert(wider[0] if wider else len(order), one)
    marked: list[Finding] = []
    for one in order:
        alike = next(
            (before.name for before in marked if before.told and shared(one, before) >= ALIKE), None
        )
        marked.append(replace(one, alike=alike) if one.told else one)
    return marked


def _fell(episode: Episode, cause: str) -> bool:
    return episode.could_hold and not episode.held and cause in episode.causes

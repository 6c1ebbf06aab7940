"""What the occasions of many games come to, player by player, as data."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from fastness.core.shapes import Way
from fastness.sift.occasion import Occasion
from fastness.sift.outcome import Outcome, gap

COSTLIEST = 5
"""How many of the costliest occasions a summary keeps."""
KEPT = 3
"""How many of the dangers met a summary keeps, the hardest first."""


@dataclass(frozen=True, slots=True)
class Tally:
    """Episodes `held` out of those `faced` in which a move that holds was there."""

    faced: int = 0
    held: int = 0

    def counted(self, *, held: bool) -> "Tally":
        """The tally with one more episode."""
        return Tally(self.faced + 1, self.held + held)


@dataclass(frozen=True, slots=True)
class PlayerSummary:
    """One player's games in numbers; recaptures are kept out of all of them.

    `outcomes` counts episodes, each by the outcome of its first occasion (what was offered counts
    nowhere else), and `takings` the
    occasions of taking. `held` is the tally of all episodes, `mechanisms` and `reaches` split it
    (an episode with several mechanisms counts under each). `ways` counts how episodes were held.
    `costliest` has the occasions at which the move played was furthest from the best, `kept` the
    dangers met where the fewest moves would do.
    """

    player: str
    games: int
    outcomes: Mapping[Outcome, int]
    takings: Mapping[Outcome, int]
    held: Tally
    mechanisms: Mapping[str, Tally]
    reaches: Mapping[int, Tally]
    ways: Mapping[Way, int]
    costliest: tuple[Occasion, ...]
    kept: tuple[Occasion, ...]


class Summaries:
    """Gathers the occasions of game after game; memory grows with the players, not the games."""

    def __init__(self, *, one_player: bool = False) -> None:
        """Begin with no games; `one_player`: all names are spellings of the first one."""
        self.games = 0
        self._one_player = one_player
        self._counts: dict[str, _Count] = {}

    def add(self, players: Iterable[str], found: Iterable[Occasion]) -> None:
        """Add one game: the players whose moves were looked at in it, and what was found."""
        self.games += 1
        for player in dict.fromkeys(map(self._key, players)):
            self._counts.setdefault(player, _Count()).games += 1
        seen: set[tuple[str, int]] = set()
        for occasion in found:
            count = self._counts.setdefault(self._key(occasion["player"]), _Count())
            if occasion["recapture"]:
                continue
            episode = occasion["episode"]
            if episode is None:
                count.taking(occasion)
            elif (occasion["colour"], episode) not in seen:
                seen.add((occasion["colour"], episode))
                count.episode(occasion)

    def players(self) -> list[PlayerSummary]:
        """A summary of each player so far, in order of their names."""
        return [self._counts[player].summary(player) for player in sorted(self._counts)]

    def _key(self, player: str) -> str:
        if self._one_player and self._counts:
            return next(iter(self._counts))
        return " ".join(player.split())


@dataclass(slots=True)
class _Count:
    games: int = 0
    outcomes: Counter[Outcome] = field(default_factory=Counter)
    takings: Counter[Outcome] = field(default_factory=Counter)
    held: Tally = field(default_factory=Tally)
    mechanisms: dict[str, Tally] = field(default_factory=dict)
    reaches: dict[int, Tally] = field(default_factory=dict)
    ways: Counter[Way] = field(default_factory=Counter)
    costliest: list[Occasion] = field(default_factory=list)
    kept: list[Occasion] = field(default_factory=list)
    let_off: Occasion | None = None

    def taking(self, occasion: Occasion) -> None:
        self.takings[occasion["outcome"]] += 1
        if occasion["outcome"] == "let off":
            # What is let off move after move is shown once.
            if not _follows(self.let_off, occasion):
                self.costliest = _foremost([*self.costliest, occasion])
            self.let_off = occasion

    def episode(self, occasion: Occasion) -> None:
        held = occasion["outcome"] == "held"
        self.outcomes[occasion["outcome"]] += 1
        if occasion["outcome"] == "offered":
            # A sacrifice is no fault and no danger met: it counts in no rate.
            return
        if held and occasion["way"] is not None:
            self.ways[occasion["way"]] += 1
        if held:
            self.kept = sorted([*self.kept, occasion], key=_ease)[:KEPT]
        elif cost(occasion) > 0:
            self.costliest = _foremost([*self.costliest, occasion])
        if not occasion["holding"]:
            return
        self.held = self.held.counted(held=held)
        for name in occasion["mechanisms"]:
            self.mechanisms[name] = self.mechanisms.get(name, Tally()).counted(held=held)
        reach = occasion["reach"]
        if reach is not None:
            self.reaches[reach] = self.reaches.get(reach, Tally()).counted(held=held)

    def summary(self, player: str) -> PlayerSummary:
        return PlayerSummary(
            player,
            self.games,
            dict(self.outcomes),
            dict(self.takings),
            self.held,
            dict(self.mechanisms),
            dict(sorted(self.reaches.items())),
            dict(self.ways),
            tuple(self.costliest),
            tuple(self.kept),
        )


def cost(occasion: Occasion) -> float:
    """How much less the move played brings than the best one, in centipawns; a mate is inf."""
    best = occasion["best_net"]
    return 0.0 if best is None else gap(best, occasion["net"])


def _follows(before: Occasion | None, occasion: Occasion) -> bool:
    """Whether the one is at the own move after the other, in the same game."""
    return (
        before is not None
        and before["game"] == occasion["game"]
        and before["ply"] + 2 == occasion["ply"]
    )


def _foremost(occasions: list[Occasion]) -> list[Occasion]:
    """The costliest, one for each move of a game."""
    moves: dict[tuple[int, str], Occasion] = {}
    for occasion in sorted(occasions, key=lambda one: -cost(one)):
        moves.setdefault((occasion["game"]["number"], occasion["fen"]), occasion)
    return list(moves.values())[:COSTLIEST]


def _ease(occasion: Occasion) -> tuple[bool, bool, int, int]:
    # Where few moves hold, at a long reach, a danger is the hardest to meet; but in check there
    # are few moves anyway, and in a trade the move is looked for.
    return (
        occasion["danger"] is None,
        occasion["owed"] > 0,
        len(occasion["holding"]),
        -(occasion["reach"] or 0),
    )

"""What came of an import, counted; for those who see no line for every game."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path

from fastness.intake import Game, Problem
from fastness.store import Store
from fastness.workflows.importing import BroughtIn, Event, NobodysGame, WhoIsWho, bring_in
from fastness.workflows.looking_over import PROBLEMS
from fastness.workflows.sifting import SiftSettings


@dataclass(slots=True)
class ImportSummary:
    """What was done.

    Games that were `new`, there `before`, `again` gone through with other settings, `completed`
    by another copy, or `nobodys`. `places` are new occasions. `played` are the games of students.
    """

    new: int = 0
    before: int = 0
    again: int = 0
    completed: int = 0
    nobodys: int = 0
    places: int = 0
    problems: list[str] = field(default_factory=list)
    more_problems: int = 0
    played: list[Game] = field(default_factory=list)

    def take(self, event: Event) -> None:
        """Count one event of the import."""
        if isinstance(event, Problem):
            if len(self.problems) < PROBLEMS:
                self.problems.append(event.message)
            else:
                self.more_problems += 1
        elif isinstance(event, NobodysGame):
            self.nobodys += 1
        else:
            self._count(event)

    def _count(self, event: BroughtIn) -> None:
        self.new += event.new
        self.before += event.done_before
        self.completed += event.completed
        self.again += not (event.new or event.done_before or event.completed)
        self.places += event.occasions
        self.played.append(event.game)

    @property
    def games(self) -> int:
        """The games gone through so far."""
        return len(self.played) + self.nobodys


def bring_in_all(
    store: Store,
    paths: Iterable[Path],
    settings: SiftSettings,
    on_game: Callable[[ImportSummary], None],
) -> ImportSummary:
    """Bring in the games of students that are known already; `on_game` hears after every game.

    What `on_game` raises ends the import; games brought in before stay.
    """
    summary = ImportSummary()
    who = WhoIsWho(store, _nobody, None, add=False, dry_run=False)
    with closing(bring_in(store, paths, who, settings)) as events:
        for event in events:
            summary.take(event)
            on_game(summary)
    return summary


def _nobody(_name: str, _alike: Sequence[str]) -> None:
    """Nobody is asked: names were settled before."""

"""`fastness week`: from the games of a club evening to the sheets for the lesson."""

from __future__ import annotations

import datetime
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from fastness import core
from fastness.cli.bar import Bar
from fastness.cli.importing import Asker
from fastness.cli.places import StorePlace, opened
from fastness.errors import InputError
from fastness.intake import Game, Problem
from fastness.publish.document import Paper
from fastness.publish.sheet import Layout
from fastness.sift import counted
from fastness.store import Store
from fastness.survey import page
from fastness.workflows.importing import BroughtIn, WhoIsWho, bring_in
from fastness.workflows.sifting import SiftSettings
from fastness.workflows.week import (
    POSITIONS,
    TWINS,
    Place,
    Proposal,
    Proposals,
    TwinProposal,
    check_games,
    own_position,
    places_of,
    twin_of,
)
from fastness.workflows.week_folder import write_week
from fastness.workflows.writable import check_writable

ANSWERS = "[y]es, [n]o, [o]ther position, [s]how the page, [e]nough: "
OTHER = "The position as FEN, or nothing to go back: "
LAST_TWINS = 4
"""Positions in which a twin is looked for, until there are enough."""


def week(
    *file: str,
    group: str,
    to: Path | None = None,
    yes: Annotated[bool, Parameter(negative=())] = False,
    add: Annotated[bool, Parameter(negative=())] = False,
    offers: bool = True,
    paper: Paper = "a4",
    large: bool = False,
    store: StorePlace = None,
) -> int:
    """Bring in a club evening's games and make the week's sheets from them.

    Six positions are proposed from the group's games, something well done among them, two with a
    twin; you say yes or no to each, or give another position for it. Then sheets at three levels
    are written, with their answers.

    Args:
        file: PGN files, plain, .gz or .zst.
        group: the group of students whose week it is.
        to: the folder to write; by default week-DATE here.
        yes: take what is proposed, without asking.
        add: make a student of every name that is nobody's yet, in this group.
        offers: tell sacrifices and gambits from faults, which takes longer.
        paper: a4 or us-letter.
        large: large print.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    if not file:
        raise InputError("No file given. Give one PGN file or more.")
    if not (yes or sys.stdin.isatty()):
        raise InputError("Nobody is there to be asked. Say --yes to take what is proposed.")
    day = datetime.datetime.now(tz=datetime.UTC).astimezone().date()
    folder = to or Path(f"week-{day.isoformat()}")
    check_writable(folder, folder=True)
    settings = SiftSettings(offer_nodes=core.OFFER_NODES if offers else 0)
    with opened(store) as place:
        games = _brought_in(place, file, group, settings, add=add, yes=yes)
        check_games(games)
        chosen = _chosen(places_of(place, group, games), yes=yes)
        if not chosen:
            print("No position of these games was taken; nothing was written.")
            return 0
        twins = _twins(chosen)
        layout = Layout(paper=paper, large=large)
        written = write_week(folder, f"{group}, {day.isoformat()}", chosen, twins, layout, place)
    for path in written:
        print(path)
    return 0


def _brought_in(
    store: Store,
    files: tuple[str, ...],
    group: str,
    settings: SiftSettings,
    *,
    add: bool,
    yes: bool,
) -> list[Game]:
    """The games of the group's students in the files, brought in or there before."""
    games = []
    with Bar(files, shown=sys.stderr.isatty()) as bar:
        who = WhoIsWho(store, Asker(bar, yes=yes), group, add=add, dry_run=False)
        with closing(bring_in(store, files, who, settings, on_progress=bar.advance)) as events:
            for event in events:
                if isinstance(event, Problem):
                    bar.say(event.message)
                elif isinstance(event, BroughtIn):
                    games.append(event.game)
    print(f"{counted(len(games), 'game')} of the group's students.")
    return games


def _chosen(places: list[Place], *, yes: bool) -> list[Proposal]:
    """The positions that the teacher takes, of those proposed one after another."""
    chosen: list[Proposal] = []
    for proposal in Proposals(places):
        _show(proposal, len(chosen) + 1)
        answer, taken = ("y", proposal) if yes else _taken(proposal)
        if answer == "e":
            break
        if taken is not None:
            chosen.append(taken)
        if len(chosen) == POSITIONS:
            break
    if len(chosen) < POSITIONS:
        print(f"{counted(len(chosen), 'position')} taken; there are no more to propose.")
    return chosen


def _show(proposal: Proposal, number: int) -> None:
    place = proposal.place
    dots = "." if place.ply % 2 else "..."
    how = "held by" if place.held else f"{place.outcome}:"
    print(f"\n{number}. {place.student} ({place.game}), move {(place.ply + 1) // 2}{dots}")
    causes = ", ".join(place.mechanisms) or "no cause named"
    print(f"   {how} {place.played}; {causes}")
    print(f"   {proposal.proved.fen}")


def _taken(proposal: Proposal) -> tuple[str, Proposal | None]:
    """The answer to a proposal, and the position taken for it, if one is."""
    while True:
        answer = _answer(proposal)
        if answer != "o":
            return answer, proposal if answer == "y" else None
        own = _other()
        if own is not None:
            return answer, own


def _answer(proposal: Proposal) -> str:
    while True:
        told = input(ANSWERS).strip().casefold()[:1]
        if told == "s":
            print(page(proposal.proved.survey))
        elif told in ("y", "n", "e", "o"):
            return told


def _other() -> Proposal | None:
    """A position of the teacher's own; None where none is given after all."""
    while text := input(OTHER).strip():
        try:
            return own_position(text)
        except InputError as error:
            print(f"   {error}")
    return None


def _twins(chosen: list[Proposal]) -> list[TwinProposal]:
    found: list[TwinProposal] = []
    for twin in _searched(chosen[:LAST_TWINS]):
        found.append(twin)
        print(f"\nA twin of position {chosen.index(twin.of) + 1}: {twin.told}")
        print(f"   {twin.twin.fen}")
        if len(found) == TWINS:
            break
    if len(found) < TWINS:
        print(f"{counted(len(found), 'twin')} found in the time.")
    return found


def _searched(chosen: list[Proposal]) -> Iterator[TwinProposal]:
    for proposal in chosen:
        twin = twin_of(proposal)
        if twin is not None:
            yield twin

"""`fastness week`: from the games of a club evening to the sheets for the lesson."""

from __future__ import annotations

import datetime
import re
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from fastness import core
from fastness.cli.bar import Bar
from fastness.cli.importing import Asker
from fastness.cli.languages import TextLanguage, chosen
from fastness.cli.places import StorePlace, opened
from fastness.errors import InputError
from fastness.intake import Game, Problem
from fastness.language import Language, marked
from fastness.publish.document import Paper
from fastness.publish.sheet import Layout
from fastness.store import Store
from fastness.survey import page
from fastness.survey.lines import notation
from fastness.workflows.importing import BroughtIn, WhoIsWho, bring_in
from fastness.workflows.remarks import OUTCOMES
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

ANSWERS = marked("[y]es, [n]o, [o]ther position, [s]how the page, [e]nough: ")
"""Yes, no, another position, the page, enough: the letter in brackets is the answer."""
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
    language: TextLanguage = None,
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
        language: the language of the text; that of LANG if there are texts in it, else English.
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
    words = chosen(language)
    with opened(store) as place:
        games = _brought_in(place, file, group, settings, words, add=add, yes=yes)
        check_games(games)
        taken = _taken_of(places_of(place, group, games), words, yes=yes)
        if not taken:
            print(words.say("No position of these games was taken; nothing was written."))
            return 0
        twins = _twins(taken, words)
        layout = Layout(paper=paper, large=large, language=words)
        written = write_week(folder, f"{group}, {day.isoformat()}", taken, twins, layout, place)
    for path in written:
        print(path)
    return 0


def _brought_in(
    store: Store,
    files: tuple[str, ...],
    group: str,
    settings: SiftSettings,
    language: Language,
    *,
    add: bool,
    yes: bool,
) -> list[Game]:
    """The games of the group's students in the files, brought in or there before."""
    games = []
    doing = language.say("Going through the games")
    with Bar(files, shown=sys.stderr.isatty(), doing=doing) as bar:
        who = WhoIsWho(store, Asker(bar, language, yes=yes), group, add=add, dry_run=False)
        with closing(bring_in(store, files, who, settings, on_progress=bar.advance)) as events:
            for event in events:
                if isinstance(event, Problem):
                    bar.say(event.message)
                elif isinstance(event, BroughtIn):
                    games.append(event.game)
    print(
        language.say_many(
            "{number:,} game of the group's students.",
            "{number:,} games of the group's students.",
            len(games),
        )
    )
    return games


def _taken_of(places: list[Place], language: Language, *, yes: bool) -> list[Proposal]:
    """The positions that the teacher takes, of those proposed one after another."""
    kept: list[Proposal] = []
    for proposal in Proposals(places):
        print(_proposal_in_words(proposal, len(kept) + 1, language))
        answer, taken = ("y", proposal) if yes else _taken(proposal, language)
        if answer == "e":
            break
        if taken is not None:
            kept.append(taken)
        if len(kept) == POSITIONS:
            break
    if len(kept) < POSITIONS:
        print(
            language.say_many(
                "{number} position taken; there are no more to propose.",
                "{number} positions taken; there are no more to propose.",
                len(kept),
            )
        )
    return kept


def _proposal_in_words(proposal: Proposal, number: int, language: Language) -> str:
    place, say = proposal.place, language.say
    causes = ", ".join(map(say, place.mechanisms)) or say("no cause named")
    move = notation(place.played, language)
    if place.held:
        how = say("held by {move}; {causes}", move=move, causes=causes)
    else:
        outcome = language.say_as(*OUTCOMES[place.outcome])
        how = say("{outcome}: {move}; {causes}", outcome=outcome, move=move, causes=causes)
    head = say(
        "{number}. {student} ({game}), move {at}",
        number=number,
        student=place.student,
        game=place.game,
        at=f"{(place.ply + 1) // 2}{'.' if place.ply % 2 else '...'}",
    )
    return f"\n{head}\n   {how}\n   {proposal.proved.fen}"


def _taken(proposal: Proposal, language: Language) -> tuple[str, Proposal | None]:
    """The answer to a proposal, and the position taken for it, if one is."""
    while True:
        answer = _answer(proposal, language)
        if answer != "o":
            return answer, proposal if answer == "y" else None
        own = _other(language)
        if own is not None:
            return answer, own


def _answer(proposal: Proposal, language: Language) -> str:
    """The letter of the English prompt that the answer stands for."""
    prompt = language.say(ANSWERS)
    letters = dict(zip(answer_letters(prompt), answer_letters(ANSWERS), strict=True))
    while True:
        told = letters.get(input(prompt).strip().casefold()[:1])
        if told == "s":
            print(page(proposal.proved.survey, language=language))
        elif told is not None:
            return told


def answer_letters(prompt: str) -> list[str]:
    """The letters in brackets."""
    return re.findall(r"\[(\w)\]", prompt)


def _other(language: Language) -> Proposal | None:
    """A position of the teacher's own; None where none is given after all."""
    prompt = language.say("The position as FEN, or nothing to go back: ")
    while text := input(prompt).strip():
        try:
            return own_position(text)
        except InputError as error:
            print(f"   {error}")
    return None


def _twins(taken: list[Proposal], language: Language) -> list[TwinProposal]:
    found: list[TwinProposal] = []
    for twin in _searched(taken[:LAST_TWINS]):
        found.append(twin)
        number, told = taken.index(twin.of) + 1, twin.told(language)
        head = language.say("A twin of position {number}: {told}", number=number, told=told)
        print(f"\n{head}\n   {twin.twin.fen}")
        if len(found) == TWINS:
            break
    if len(found) < TWINS:
        print(
            language.say_many(
                "{number} twin found in the time.",
                "{number} twins found in the time.",
                len(found),
            )
        )
    return found


def _searched(taken: list[Proposal]) -> Iterator[TwinProposal]:
    for proposal in taken:
        twin = twin_of(proposal)
        if twin is not None:
            yield twin

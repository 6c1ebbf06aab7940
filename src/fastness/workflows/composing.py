"""Positions on request: from games given or generated, proved, with what was found in words."""

from __future__ import annotations

import time
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from chess import STARTING_FEN

from fastness import core
from fastness.errors import PositionError
from fastness.exercises.change_words import change_in_words
from fastness.exercises.composing import Composed, Start, Tally, compose
from fastness.exercises.exercise import Source
from fastness.exercises.playout import generated_games, starts_in
from fastness.exercises.request import Request, check_request
from fastness.intake import Game, Problem
from fastness.language import ENGLISH, Language, marked
from fastness.survey.lines import wrapped
from fastness.survey.one_line import in_one_line
from fastness.workflows.mining import candidates, named
from fastness.workflows.sifting import read_in_turn

SCREENED = 2
"""Opponent moves that the screen looks ahead; a danger that shows later may stand anywhere."""


def composed(
    request: Request,
    tally: Tally,
    *,
    files: Sequence[str | Path] = (),
    seed: int = 1,
    seconds: float = 60,
    rank_nodes: int = core.RANK_NODES,
    on_problem: Callable[[Problem], None] = lambda _: None,
    clock: Callable[[], float] = time.monotonic,
) -> Generator[Composed, None, None]:
    """Positions that meet `request`, from the games of PGN files, or from generated ones.

    The same seed gives the same generated games. `tally` tells how the search went. `clock` is
    asked often; what it raises ends the search.

    Raises OptionError for a request that no position can meet.
    """
    check_request(request)
    found = from_files(files, request, on_problem) if files else generated(seed, request)
    return compose(found, request, tally, seconds=seconds, rank_nodes=rank_nodes, clock=clock)


def from_files(
    files: Iterable[str | Path], request: Request, on_problem: Callable[[Problem], None]
) -> Iterator[Start]:
    """The positions of games that are worth a look; what is wrong with a file is told."""
    for number, item in enumerate(read_in_turn(files, None)):
        if isinstance(item, Problem):
            on_problem(item)
        elif _late(request):
            for ply, fen in starts_in(item.moves, item.start_fen):
                yield Start(fen, Source("game", named(item), ply), number)
        else:
            yield from _screened(item, number, request)


def _screened(game: Game, number: int, request: Request) -> Iterator[Start]:
    for one in candidates([game]):
        if one.reach and request.reach in (None, one.reach):
            yield Start(one.fen, Source("game", named(one.game), one.ply), number)


def generated(seed: int, request: Request) -> Iterator[Start]:
    """The positions of generated games that are worth a look; without end."""
    for number, moves in enumerate(generated_games(seed)):
        (reaches,) = core.screen([(STARTING_FEN, moves)])
        if isinstance(reaches, PositionError):
            continue
        for ply, fen in starts_in(moves):
            shows = reaches[ply - 1]
            if _late(request) or (shows and request.reach in (None, shows)):
                yield Start(fen, Source("composed", "", ply), number)


def _late(request: Request) -> bool:
    return request.reach is not None and request.reach > SCREENED


_PARTS = {
    "danger": marked("nothing was in danger"),
    "side": marked("the other side was to move"),
    "mechanism": marked("it fell by another cause"),
    "unit": marked("another unit was in danger"),
    "reach": marked("it showed sooner or later"),
    "holding": marked("more or fewer moves kept it"),
    "ways": marked("it was kept in other ways"),
    "firm": marked("the answers were not firm"),
    "level": marked("it was of another level"),
}


def composed_in_words(number: int, one: Composed, language: Language = ENGLISH) -> str:
    """A position found, in a few lines: the FEN, what stands in it, and where it came from."""
    source, say = one.proved.source, language.say
    rows = [
        f"{number}. {one.proved.fen}",
        wrapped(in_one_line(one.proved.survey, language=language), 3),
    ]
    if one.edit is not None:
        changed = change_in_words(one.edit, language)
        rows.append(wrapped(say("{change}; before: {fen}", change=changed, fen=source.of), 3))
    if source.game:
        rows.append(wrapped(say("From {game}, ply {ply}.", game=source.game, ply=source.ply), 3))
    return "\n".join(rows)


@dataclass(frozen=True, slots=True)
class ComposedTold:
    """A position found, for a page: what stands in it, what was changed, where it is from."""

    fen: str
    line: str
    changed: str
    before: str
    game: str
    kinds: tuple[str, ...]


def told_composed(one: Composed, language: Language = ENGLISH) -> ComposedTold:
    """A position found, in words."""
    source = one.proved.source
    return ComposedTold(
        fen=one.proved.fen,
        line=in_one_line(one.proved.survey, language=language),
        changed=change_in_words(one.edit, language) if one.edit else "",
        before=source.of,
        game=source.game,
        kinds=tuple(exercise.kind for exercise in one.exercises),
    )


def tally_in_words(tally: Tally, found: int, wanted: int, language: Language = ENGLISH) -> str:
    """How the search went; with too few found, what was missing most where one part was."""
    say = language.say
    told = say(
        "{found} of {wanted} found; {looked} positions looked at, {proved} proved.",
        found=found,
        wanted=wanted,
        looked=tally.looked,
        proved=tally.proved,
    )
    if found >= wanted:
        return told
    ended = (
        say("All positions were looked at.")
        if tally.ended
        else say("The time was up: give more seconds, or ask for less.")
    )
    near = [
        say("{number} times {part}", number=number, part=say(_PARTS[part]))
        for part, number in tally.missing.most_common(3)
    ]
    if near:
        told += " " + say("What alone was missing: {parts}.", parts=", ".join(near))
    return f"{told} {ended}"

"""The teacher's week: from the games of a club evening to six positions for the lesson."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import select

from fastness import core
from fastness.errors import InputError, TwinError
from fastness.exercises.admission import exercises_of
from fastness.exercises.change_words import twin_in_words
from fastness.exercises.exercise import Exercise, Proved, Source
from fastness.exercises.patterns import pattern_key
from fastness.exercises.proving import prove
from fastness.exercises.twin import Twin
from fastness.exercises.twins import find_twins
from fastness.intake import Game
from fastness.language import ENGLISH, Language
from fastness.store import Store, tables
from fastness.store.games import find_game
from fastness.store.students import group_named
from fastness.survey.danger import has_danger
from fastness.workflows.surveying import read_position

POSITIONS = 6
TWINS = 2
"""Positions that get a twin."""
TWIN_SECONDS = 15.0
TRIED = 4
"""Positions tried for each that is wanted, before one says that there are no more."""
LEAST_HOLDING, MOST_HOLDING = 1, 6
HELD, FELL = "held", ("let fall", "lessened")
OWN = "own"
"""The outcome of a position that the teacher gives: nobody played anything there."""
HELD_ONE_IN = 3
"""One position in so many is one where the student held it."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place in a game of the group: whose it was, what was played, and how it went."""

    student: str
    game: str
    ply: int
    fen: str
    played: str
    outcome: str
    mechanisms: tuple[str, ...]
    lost: int

    @property
    def held(self) -> bool:
        """Whether the student kept it."""
        return self.outcome == HELD


@dataclass(frozen=True, slots=True)
class Proposal:
    """A position for the week: where it is from, and the exercises that it admits."""

    place: Place
    proved: Proved
    exercises: tuple[Exercise, ...]


@dataclass(slots=True)
class Proposals:
    """Positions one after another, no two of one pattern, proved as they are asked for."""

    places: Sequence[Place]
    threads: int = 0
    seen: set[str] = field(default_factory=set)

    def __iter__(self) -> Iterator[Proposal]:
        """The next best, proved ahead on all cores; nothing where there are no more."""
        size = self.threads or os.cpu_count() or 1
        pool = ThreadPoolExecutor(size, thread_name_prefix="week")
        try:
            waiting = list(self.places)
            while waiting:
                batch, waiting = waiting[:size], waiting[size:]
                for proposal in pool.map(proposed, batch):
                    if proposal is not None and self._is_new(proposal):
                        yield proposal
        finally:
            pool.shutdown(wait=False, cancel_futures=True)

    def _is_new(self, proposal: Proposal) -> bool:
        keys = {pattern_key(one) for one in proposal.exercises}
        if keys & self.seen:
            return False
        self.seen |= keys
        return True


def places_of(store: Store, group: str, games: Sequence[Game]) -> list[Place]:
    """The places in these games where a student of the group had something to keep, best first.

    In turn what was let fall and what was held, from one student after another, so that the
    lesson is about the whole group and shows something done well.

    Raises StudentError where there is no such group.
    """
    with store.reading() as session:
        members = {student.id for student in group_named(session, group).students}
        found: list[Place] = []
        for game in games:
            stored = find_game(session, game)
            if stored is None:
                continue
            seats = select(tables.Seat).where(tables.Seat.game_id == stored.id)
            for seat in session.scalars(seats):
                if seat.student_id in members:
                    found += _places(seat)
    return _in_turn(found)


def _places(seat: tables.Seat) -> Iterator[Place]:
    """The occasions of a side that make an exercise: the first of each episode, outside trades."""
    episodes: set[int] = set()
    for row in seat.occasions:
        told: dict[str, Any] = row.told
        holding = len(told["holding"])
        fresh = told["kind"] == "danger" and told["episode"] not in episodes
        if not fresh or told["recapture"] or told["owed"] or told["reach"] is None:
            continue
        episodes.add(told["episode"])
        if told["outcome"] not in (HELD, *FELL) or not LEAST_HOLDING <= holding <= MOST_HOLDING:
            continue
        label = told["game"]
        yield Place(
            student=seat.student.name,
            game=f"{label['white']} - {label['black']}, {label['date']}",
            ply=told["ply"],
            fen=told["fen"],
            played=told["played"]["san"],
            outcome=told["outcome"],
            mechanisms=tuple(told["mechanisms"]),
            lost=_centipawns(told["best_net"]) - _centipawns(told["net"]),
        )


def _centipawns(net: object) -> int:
    """A net in centipawns; a mate counts like a queen and more."""
    if isinstance(net, int):
        return net
    return {"mates": 1500, "mated": -1500}.get(str(net), 0)


def _in_turn(places: list[Place]) -> list[Place]:
    """One held in so many; otherwise what cost most, from the student who had least so far."""
    held = [place for place in places if place.held]
    fell = sorted((place for place in places if not place.held), key=lambda place: -place.lost)
    ordered: list[Place] = []
    had: dict[str, int] = {}
    shown: dict[str, int] = {}
    while held or fell:
        wants_held = len(ordered) % HELD_ONE_IN == 0
        pool = held if (wants_held and held) or not fell else fell
        best = min(pool, key=lambda place: (had.get(place.student, 0), _repeats(place, shown)))
        pool.remove(best)
        ordered.append(best)
        had[best.student] = had.get(best.student, 0) + 1
        for name in best.mechanisms:
            shown[name] = shown.get(name, 0) + 1
    return ordered


def _repeats(place: Place, shown: dict[str, int]) -> float:
    counts = [shown.get(name, 0) for name in place.mechanisms]
    return sum(counts) / len(counts) if counts else 0


def proposed(place: Place) -> Proposal | None:
    """A place as a proposal; None where its answers are not firm or it makes no good question."""
    source = Source("composed") if place.outcome == OWN else Source("game", place.game, place.ply)
    proved = prove(place.fen, source)
    exercises = tuple(exercises_of(proved))
    if not any(one.kind in ("every move", "better way") for one in exercises):
        return None
    return Proposal(place, proved, exercises)


def own_position(text: str) -> Proposal:
    """A position of the teacher's own (FEN or EPD) as a proposal.

    Raises:
        PositionError: the position cannot be read or cannot stand on a board.
        InputError: it makes no exercise, with the reason.
    """
    fen = read_position(text)
    found = proposed(Place("", "", 0, fen, "", OWN, (), 0))
    if found is not None:
        return found
    quick = core.survey(fen)
    if not has_danger(quick):
        raise InputError("Nothing is in danger in this position: give one in which something is.")
    if not any(move["holds"] for move in quick["moves"]):
        raise InputError("No move keeps the material in this position: give one where some do.")
    raise InputError(
        "The answers of this position are not firm one move deeper, or too many moves keep the"
        " material: give another one."
    )


@dataclass(frozen=True, slots=True)
class TwinProposal:
    """A twin of a position of the week: proved, with its exercises."""

    of: Proposal
    twin: Twin
    exercises: tuple[Exercise, ...]

    def told(self, language: Language = ENGLISH) -> str:
        """What the change does."""
        return twin_in_words(self.twin, language)


def twin_of(proposal: Proposal, seconds: float = TWIN_SECONDS) -> TwinProposal | None:
    """The first twin that makes an exercise of its own; None where none is found in the time."""
    try:
        search = find_twins(proposal.proved.survey, count=2, seconds=seconds)
    except TwinError:
        return None
    for twin in search.twins:
        source = Source("twin", proposal.place.game, proposal.place.ply, proposal.proved.fen)
        exercises = tuple(exercises_of(prove(twin.fen, source)))
        if any(one.kind in ("every move", "better way") for one in exercises):
            return TwinProposal(proposal, twin, exercises)
    return None


def check_games(games: Sequence[Game]) -> None:
    """Raise InputError where there is no game to work with."""
    if not games:
        raise InputError("no game of the group was found in the files; see fastness import --help")

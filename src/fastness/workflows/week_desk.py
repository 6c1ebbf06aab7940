"""The teacher's week step by step: proposed, answered, twins looked for, written."""

from __future__ import annotations

import datetime
import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import chess

from fastness.errors import InputError, MissingError
from fastness.exercises.change_words import change_in_words
from fastness.intake import Game
from fastness.language import ENGLISH, Language
from fastness.publish.answers import ringed
from fastness.publish.sheet import Layout
from fastness.store import Store
from fastness.store.browsing import Asked, games_of
from fastness.store.games import as_game
from fastness.store.students import group_named
from fastness.survey import in_one_line
from fastness.survey.lines import notation
from fastness.workflows.remarks import OUTCOMES
from fastness.workflows.week import (
    OWN,
    POSITIONS,
    TWINS,
    Proposal,
    Proposals,
    TwinProposal,
    own_position,
    places_of,
    twin_of,
)
from fastness.workflows.week_folder import write_week

LOOKED_AT = 4
"""Positions in which a twin is looked for, until there are enough."""
MOST_GAMES = 1000
"""Games of a group that a week is made from."""

Check = Callable[[int, int], None]
"""Told how many there are, and of how many; what it raises ends the work."""


@dataclass(slots=True)
class _Position:
    proposal: Proposal
    taken: bool = True
    twin: TwinProposal | None = None
    twin_taken: bool = True

    @property
    def has_twin(self) -> bool:
        """Whether there is a twin for the sheets."""
        return self.taken and self.twin is not None and self.twin_taken


@dataclass(frozen=True, slots=True)
class TwinTold:
    """A twin of a position of the week: what was changed, and what the change does."""

    fen: str
    changed: str
    told: str
    squares: tuple[str, ...]
    taken: bool


@dataclass(frozen=True, slots=True)
class PositionTold:
    """A position of the week: where it is from, how it went, what stands in it.

    `number` stays its own while it is proposed. `own`: the teacher gave it, and nobody played
    there. `line` is the survey in one line. `kinds` are the
    questions that it admits.
    """

    number: int
    student: str
    game: str
    ply: int
    at: str
    fen: str
    ringed: tuple[str, ...]
    played: str
    own: bool
    held: bool
    outcome: str
    causes: tuple[str, ...]
    line: str
    kinds: tuple[str, ...]
    taken: bool
    twin: TwinTold | None


@dataclass(frozen=True, slots=True)
class WeekTold:
    """How far a week is.

    `games` are those of the group's students that it is made from. `more`: another position can be
    proposed. `files` are there once it is written.
    """

    group: str
    day: datetime.date
    games: int
    positions: tuple[PositionTold, ...]
    more: bool
    files: tuple[str, ...]


class WeekDesk:
    """One week as the teacher works on it; its methods may be called from any thread.

    Those that work long wait for each other; answers are taken at any time.
    """

    def __init__(self, store: Store, group: str, games: Sequence[Game]) -> None:
        """Of a group, from games in the store. Raises StudentError if there is no such group."""
        self.store, self.group, self.games = store, group, len(games)
        self.day = datetime.date.today()
        self.files: tuple[str, ...] = ()
        self._working, self._lock = threading.Lock(), threading.Lock()
        self._positions: dict[int, _Position] = {}
        self._next = 1
        self._more = True
        self._proposed: Iterator[Proposal] = iter(Proposals(places_of(store, group, games)))

    def propose(self, check: Check) -> None:
        """Propose positions until there are six, or no more."""
        with self._working:
            while len(self._positions) < POSITIONS:
                check(len(self._positions), POSITIONS)
                if not self._one_more():
                    return

    def another(self, number: int, check: Check) -> None:
        """Put another position in the place of one. Raises MissingError where it is not there."""
        with self._working:
            self._at(number)
            check(len(self._positions) - 1, POSITIONS)
            self._one_more(instead_of=number)

    def own(self, number: int, text: str) -> None:
        """Put a position of the teacher's own (FEN or EPD) in the place of one.

        Raises MissingError where that is not there; PositionError and InputError as
        `week.own_position` does.
        """
        with self._working:
            self._at(number)
            self._put(own_position(text), number)

    def _one_more(self, instead_of: int | None = None) -> bool:
        proposal = next(self._proposed, None)
        if proposal is None:
            self._more = False
            return False
        self._put(proposal, instead_of)
        return True

    def _put(self, proposal: Proposal, instead_of: int | None) -> None:
        with self._lock:
            before = [one for one in self._positions.items() if one[0] != instead_of]
            place = list(self._positions).index(instead_of) if instead_of else len(before)
            before.insert(place, (self._next, _Position(proposal)))
            self._positions = dict(before)
            self._next += 1
            self.files = ()

    def take(self, number: int, *, taken: bool) -> None:
        """Say yes or no to a position. Raises MissingError where it is not there."""
        with self._lock:
            self._at(number).taken = taken
            self.files = ()

    def take_twin(self, number: int, *, taken: bool) -> None:
        """Say yes or no to the twin of a position. Raises MissingError where there is none."""
        with self._lock:
            position = self._at(number)
            if position.twin is None:
                raise MissingError(f"Position {number} of the week has no twin.")
            position.twin_taken = taken
            self.files = ()

    def find_twins(self, check: Check) -> None:
        """Look for twins of the positions taken, until there are two that were not refused."""
        with self._working:
            taken = [one for one in self._positions.values() if one.taken]
            for position in taken[:LOOKED_AT]:
                found = sum(one.has_twin for one in self._positions.values())
                check(found, TWINS)
                if found >= TWINS:
                    return
                if position.twin is None:
                    position.twin = twin_of(position.proposal)
                    self.files = ()

    def write(self, folder: Path, layout: Layout) -> list[Path]:
        """Write the sheets and the answers, and put the exercises on the shelf; the files.

        Raises InputError where no position was taken, FileError where it cannot be written.
        """
        with self._working:
            taken = [one for one in self._positions.values() if one.taken]
            if not taken:
                raise InputError("no position of the week was taken; say yes to one at least")
            twins = [one.twin for one in taken if one.twin is not None and one.has_twin]
            title = f"{self.group}, {self.day.isoformat()}"
            proposals = [one.proposal for one in taken]
            written = write_week(folder, title, proposals, twins, layout, self.store)
            self.files = tuple(path.name for path in written)
            return written

    def told(self, language: Language = ENGLISH) -> WeekTold:
        """How far it is."""
        positions = tuple(
            _told(number, one, language) for number, one in list(self._positions.items())
        )
        return WeekTold(self.group, self.day, self.games, positions, self._more, self.files)

    def _at(self, number: int) -> _Position:
        found = self._positions.get(number)
        if found is None:
            raise MissingError(f"The week has no position {number}; it may have been replaced.")
        return found


def games_since(store: Store, group: str, since: str) -> list[Game]:
    """The games in the store that students of a group played since a PGN date, all if empty.

    Raises StudentError where there is no such group.
    """
    with store.reading() as session:
        asked = Asked(group=group_named(session, group).id, since=since)
        _, found = games_of(session, asked, most=MOST_GAMES)
        return [as_game(one) for one in found]


def _told(number: int, one: _Position, language: Language) -> PositionTold:
    place, proved = one.proposal.place, one.proposal.proved
    board, own = chess.Board(proved.fen), place.outcome == OWN
    return PositionTold(
        number=number,
        student=place.student,
        game=place.game,
        ply=place.ply,
        at=f"{board.fullmove_number}{'.' if board.turn else '...'}",
        fen=proved.fen,
        ringed=ringed(one.proposal.exercises[0]),
        played=notation(place.played, language),
        own=own,
        held=place.held,
        outcome="" if own else language.say_as(*OUTCOMES[place.outcome]),
        causes=tuple(language.say(name) for name in place.mechanisms),
        line=in_one_line(proved.survey, moves_given=True, language=language),
        kinds=tuple(exercise.kind for exercise in one.proposal.exercises),
        taken=one.taken,
        twin=_twin(one, language) if one.twin else None,
    )


def _twin(one: _Position, language: Language) -> TwinTold | None:
    if one.twin is None:
        return None
    twin = one.twin.twin
    return TwinTold(
        fen=twin.fen,
        changed=change_in_words(twin.edit, language),
        told=one.twin.told(language),
        squares=tuple(unit.now for unit in twin.edit.units if unit.now),
        taken=one.twin_taken,
    )

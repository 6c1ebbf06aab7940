"""Games gone through without being kept: the places to look in them, told as they are found."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor, as_completed
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from fastness import core
from fastness.core.shapes import Look, Side
from fastness.errors import InputError, MoveError, PositionError
from fastness.intake import Game, Problem
from fastness.language import ENGLISH, Language
from fastness.record import StudentGame
from fastness.record.episode import FELL
from fastness.sift import Names, Occasion, occasions
from fastness.workflows.places import Place, PlaceGroup, PlayedSide, grouped, places_of_side
from fastness.workflows.sifting import Colours, SiftSettings, colours_of, read_in_turn
from fastness.workflows.stretches import SIDES, Weighed, stretches, weighed

Stage = Literal["looking", "weighing"]
"""Every move is looked at first; then each move that fell is weighed, whether it was an offer."""


@dataclass(frozen=True, slots=True)
class SoFar:
    """How far it is: at which stage, moves `done` of `of`, and the places found by now."""

    stage: Stage
    done: int
    of: int
    places: int


@dataclass(frozen=True, slots=True)
class Unkept:
    """What was found in games that are not kept: who played, and the places grouped.

    `players` are the names that are known.
    """

    games: int
    players: tuple[str, ...]
    groups: tuple[PlaceGroup, ...]
    problems: tuple[str, ...]


class _Gone:
    """A game that is gone through: whose moves, the looks so far, and what was weighed."""

    def __init__(self, game: Game, number: int, colours: Colours, language: Language) -> None:
        self.game, self.number, self.colours = game, number, colours
        self.parts = stretches(game, colours)
        self._language = language
        self._looks: dict[int, Look] = {}
        self._better: dict[int, tuple[str, ...]] = {}
        self._places: list[Place] | None = None

    @property
    def own_moves(self) -> int:
        """How many moves there are to look at."""
        return sum(len(part.own_moves) for part in self.parts)

    def add(self, looks: Sequence[Look]) -> None:
        """Take more looks."""
        self._looks |= {look["ply"]: look for look in looks}
        self._places = None

    def weigh(self, found: Weighed) -> None:
        """Take what was weighed."""
        self._looks[found.ply] = {**self._looks[found.ply], "offered": found.offered}
        self._better[found.ply] = found.better
        self._places = None

    def fallen(self) -> list[int]:
        """The plies at which something fell that a move would have held."""
        return [one["ply"] for one in self._occasions() if one["outcome"] in FELL]

    def places(self) -> list[Place]:
        """The places found by now."""
        if self._places is None:
            sides = self._sides()
            self._places = [one for side in sides for one in places_of_side(side, self._language)]
        return self._places

    def players(self) -> list[str]:
        """The names of the players looked at, those that are known."""
        return [name for side in self._colours() if (name := self._name(side)) != "?"]

    def _occasions(self) -> list[Occasion]:
        return occasions(self.game, [self._looks[ply] for ply in sorted(self._looks)])

    def _colours(self) -> list[Side]:
        return [side for side in SIDES if self.colours in ("both", side)]

    def _name(self, side: Side) -> str:
        return self.game.tags.get("White" if side == "white" else "Black", "?")

    def _sides(self) -> Iterator[PlayedSide]:
        """The sides looked at; who played one without a name is told by its colour."""
        game, found = self.game, self._occasions()
        white, black = self._name("white"), self._name("black")
        plain = {"white": self._language.say("White"), "black": self._language.say("Black")}
        for side in self._colours():
            yield PlayedSide(
                student=plain[side] if self._name(side) == "?" else self._name(side),
                student_id=None,
                white=white,
                black=black,
                start_fen=game.start_fen,
                moves=game.moves,
                found=StudentGame(
                    game=str(self.number),
                    date=game.tags.get("Date", "????.??.??"),
                    colour=side,
                    moves=len(game.moves),
                    opponent_rating=None,
                    rating=None,
                    occasions=tuple(one for one in found if one["colour"] == side),
                    start_clock=None,
                    score=None,
                ),
                better=self._better,
            )


def places_in_files(
    paths: Iterable[Path],
    player: str | None = None,
    language: Language = ENGLISH,
    *,
    most: int,
    offers: bool = False,
    held: bool = False,
    on_progress: Callable[[SoFar, Callable[[], Unkept]], None],
) -> Unkept:
    """The places of one player, or of both sides, in PGN files; games are numbered from 1.

    The cores share the moves of a game. `on_progress` hears how far it is, with a function that
    gives what was found by then; what it raises ends it. With `offers` every move that fell is
    weighed afterwards, whether it was an offer and which ways were better: the places are the same
    ones, but for what was offered.

    Raises:
        PlayerError: no game names the player.
        InputError: there are more than `most` games.
    """
    gone, problems = _read(paths, player, language, most)
    settings = SiftSettings(offer_nodes=0)
    pool = ThreadPoolExecutor(os.cpu_count() or 1, thread_name_prefix="unkept")
    stage: Stage = "looking"

    def found() -> Unkept:
        return _found(gone, problems, language, held=held)

    def tell(done: int, of: int) -> None:
        fell = sum(place.fell for one in gone for place in one.places())
        on_progress(SoFar(stage, done, of, fell), found)

    try:
        done, of = 0, sum(one.own_moves for one in gone)
        tell(done, of)
        for one, looks in _looked(pool, gone, settings):
            if isinstance(looks, Exception):
                game = one.game
                where = f"{game.file}, game {game.number}, line {game.line}"
                problems.append(f"{where}: {looks}")
                continue
            one.add(looks)
            done += len(looks)
            tell(done, of)
        if offers:
            stage = "weighing"
            settings = replace(settings, offer_nodes=core.OFFER_NODES)
            todo = [(one, ply) for one in gone for ply in one.fallen()]
            waiting = {pool.submit(weighed, one.game, ply, settings): one for one, ply in todo}
            for done, future in enumerate(as_completed(waiting), 1):
                waiting[future].weigh(future.result())
                tell(done, len(todo))
    finally:
        # Whoever stops in the middle waits for nothing that has not begun.
        pool.shutdown(wait=False, cancel_futures=True)
    return found()


def _read(
    paths: Iterable[Path], player: str | None, language: Language, most: int
) -> tuple[list[_Gone], list[str]]:
    """The games to go through, and what is wrong with the files."""
    names = None if player is None else Names(player)
    gone: list[_Gone] = []
    problems: list[str] = []
    for item in read_in_turn(paths, None):
        if isinstance(item, Problem):
            problems.append(item.message)
        elif colours := colours_of(item, names):
            gone.append(_Gone(item, len(gone) + 1, colours, language))
            if len(gone) > most:
                raise InputError(f"There are more than {most} games; bring them in to keep them.")
    if names is not None:
        names.check()
    return gone, problems


def _looked(
    pool: ThreadPoolExecutor, gone: list[_Gone], settings: SiftSettings
) -> Iterator[tuple[_Gone, list[Look] | Exception]]:
    """The looks at each stretch of the games, in their order, and what cannot be gone through."""
    waiting: list[tuple[_Gone, Future[list[Look]]]] = [
        (one, pool.submit(stretch.look, settings)) for one in gone for stretch in one.parts
    ]
    for one, future in waiting:
        try:
            yield one, future.result()
        except (PositionError, MoveError) as error:
            yield one, error


def _found(gone: list[_Gone], problems: list[str], language: Language, *, held: bool) -> Unkept:
    players = dict.fromkeys(name for one in gone for name in one.players())
    places = [place for one in gone for place in one.places()]
    groups = tuple(grouped(places, language, held=held))
    return Unkept(len(gone), tuple(players), groups, tuple(problems))

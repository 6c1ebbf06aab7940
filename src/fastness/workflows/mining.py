"""Mining games for exercises: a cheap screen of every position, then proof of the few that fit."""

from __future__ import annotations

import os
from collections.abc import Callable, Container, Generator, Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import TypeVar

import chess

from fastness import core
from fastness.errors import OptionError, PositionError
from fastness.exercises.admission import exercises_of
from fastness.exercises.difficulty import is_unsafe
from fastness.exercises.exercise import Exercise, Kind, Proved, Source
from fastness.exercises.proving import REACH, prove, unsafe_squares
from fastness.intake import Game, Problem
from fastness.survey.position import position_key
from fastness.workflows.sifting import read_in_turn

T = TypeVar("T")

BATCH = 64
"""Games screened at once."""
QUIET_ONE_IN = 12
"""Of the positions where nothing is in danger one in so many is taken, so that guessing that
something must be unsafe does not pay."""
FIRST_PLY = 8
"""Plies of a game that are opening moves and no exercise."""
MOST_HOLDING = 8
"""Holding moves at a short reach beyond which a position is not proved at all."""
QUICK_REACH = 2


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which exercises are wanted; what is None or empty is not asked for.

    `mechanisms` and `units` name what one of the unsafe units must have or be, `ways` the main way
    of one of the right moves, `reaches` the smallest reach at which the danger shows. `most` is
    the largest number of moves that hold, `least` the smallest.
    """

    kinds: frozenset[Kind] = frozenset()
    mechanisms: frozenset[str] = frozenset()
    units: frozenset[str] = frozenset()
    ways: frozenset[str] = frozenset()
    reaches: frozenset[int] = frozenset()
    least: int = 1
    most: int = MOST_HOLDING
    quiet: bool = True

    def check(self) -> None:
        """Raise OptionError where nothing can be what is asked for."""
        if not 1 <= self.least <= self.most:
            raise OptionError(
                f"no position has at least {self.least} and at most {self.most} moves that keep"
                " it; the least must be 1 or more, and the most no less than that"
            )
        far = sorted(reach for reach in self.reaches if not 1 <= reach <= REACH)
        if far:
            raise OptionError(
                f"exercises look 1 to {REACH} moves ahead, so that no danger shows {far[0]} ahead"
            )


@dataclass(frozen=True, slots=True)
class Mined:
    """A proved position and the exercises that it admits."""

    proved: Proved
    exercises: tuple[Exercise, ...]


@dataclass(frozen=True, slots=True)
class Candidate:
    """A position of a game in which something shows, or nothing at all (`reach` 0)."""

    game: Game
    ply: int
    fen: str
    reach: int


def mine_files(
    paths: Iterable[str | Path],
    wanted: Wanted | None = None,
    *,
    reach: int = REACH,
    values: str = "classical",
    rank_nodes: int = core.RANK_NODES,
    threads: int = 0,
    only: Container[str] | None = None,
    known: Container[str] = (),
    on_known: Callable[[str], None] | None = None,
    on_nothing: Callable[[str], None] | None = None,
    on_progress: Callable[[int], None] | None = None,
    on_looked: Callable[[int, int], None] | None = None,
) -> Generator[Mined | Problem, None, None]:
    """The exercises in the games of PGN files, in the order of the games.

    `only` are the positions (`position_key`) that are looked at, without a screen, where they are
    chosen already; None chooses by the screen. `known` are those that are not looked at again, so
    that a run that was stopped goes on where it was; `on_known` is told which, `on_nothing` those
    that gave nothing, `on_progress` the bytes read, and `on_looked` how many positions were looked
    at of how many.

    The core works outside Python's lock, so `threads` of them (0: one a core) keep as many cores
    busy as processes would. Whoever closes the generator early loses nothing that was yielded.

    Raises OptionError where nothing can be what is wanted.
    """
    wanted = wanted or Wanted()
    wanted.check()
    seen: set[str] = set()
    done = of = 0

    def new(one: Candidate) -> bool:
        key = position_key(one.fen)
        if key in known and on_known is not None:
            on_known(key)
        return key not in known

    size = threads or os.cpu_count() or 1
    pool = ThreadPoolExecutor(size, thread_name_prefix="mine")
    try:
        for items in batches(read_in_turn(paths, on_progress)):
            yield from (item for item in items if isinstance(item, Problem))
            games = [item for item in items if isinstance(item, Game)]
            looked = (
                candidates(games, values=values, threads=size)
                if only is None
                else chosen(games, only)
            )
            fresh = [one for one in _unseen(looked, seen, quiet=wanted.quiet) if new(one)]
            of += len(fresh)

            def work(one: Candidate) -> Mined | None:
                return mined(one, wanted, reach=reach, values=values, rank_nodes=rank_nodes)

            for one, found in zip(fresh, pool.map(work, fresh), strict=True):
                done += 1
                if on_looked is not None:
                    on_looked(done, of)
                if found is not None:
                    yield found
                elif on_nothing is not None:
                    on_nothing(position_key(one.fen))
    finally:
        pool.shutdown(wait=False, cancel_futures=True)


def _unseen(found: Iterable[Candidate], seen: set[str], *, quiet: bool) -> Iterator[Candidate]:
    """Each position once; those where nothing shows only if they are wanted."""
    for one in found:
        key = position_key(one.fen)
        if key not in seen and (one.reach > 0 or quiet):
            seen.add(key)
            yield one


def batches(items: Iterable[Game | Problem]) -> Iterator[list[Game | Problem]]:
    """What was read from files, so many games and problems at a time."""
    rest = iter(items)
    while batch := list(islice(rest, BATCH)):
        yield batch


def candidates(
    games: Sequence[Game], *, values: str = "classical", threads: int = 0
) -> Iterator[Candidate]:
    """The positions worth a closer look, by the screen alone, in order.

    A position right after a capture may be the middle of a trade, which a bare position does not
    tell, so it is passed over.
    """
    rows = [(game.start_fen, game.moves) for game in games]
    for game, reaches in zip(games, core.screen(rows, values=values, threads=threads), strict=True):
        if isinstance(reaches, PositionError):
            continue
        board, traded, quiet = chess.Board(game.start_fen), False, 0
        for ply, (uci, reach) in enumerate(zip(game.moves, reaches, strict=True), 1):
            quiet += reach == 0
            shows = reach > 0 or quiet % QUIET_ONE_IN == 0
            if ply > FIRST_PLY and shows and not traded and not board.is_check():
                yield Candidate(game, ply, board.fen(), reach)
            move = chess.Move.from_uci(uci)
            traded = board.is_capture(move)
            board.push(move)


def chosen(games: Iterable[Game], only: Container[str]) -> Iterator[Candidate]:
    """The positions of games that were chosen (`position_key`), in order.

    Where a trade has cost the side to move something, which a bare position does not tell, it is
    passed over.
    """
    for game in games:
        board, begun = chess.Board(game.start_fen), 0
        start = board.fen()
        for ply, uci in enumerate(game.moves, 1):
            if position_key(board.fen()) in only:
                since = game.moves[begun : ply - 1]
                if not core.survey(start, moves=since, reach=1)["owed"]:
                    yield Candidate(game, ply, board.fen(), 1)
            move = chess.Move.from_uci(uci)
            traded = board.is_capture(move)
            board.push(move)
            if not traded:
                start, begun = board.fen(), ply


def mined(
    one: Candidate,
    wanted: Wanted,
    *,
    reach: int = REACH,
    values: str = "classical",
    rank_nodes: int = core.RANK_NODES,
) -> Mined | None:
    """The exercises of a candidate that are wanted, proved; None where there are none."""
    if not _worth_proving(one, wanted, values):
        return None
    source = Source("game", named(one.game), one.ply)
    proved = prove(one.fen, source, reach=reach, values=values, rank_nodes=rank_nodes)
    if not is_wanted(proved, wanted):
        return None
    exercises = tuple(
        exercise
        for exercise in exercises_of(proved)
        if not wanted.kinds or exercise.kind in wanted.kinds
    )
    return Mined(proved, exercises) if exercises else None


def _worth_proving(one: Candidate, wanted: Wanted, values: str) -> bool:
    """Whether a quick survey leaves hope for what is wanted."""
    quick = core.survey(one.fen, reach=QUICK_REACH, values=values)
    holding = sum(move["holds"] for move in quick["moves"])
    if one.reach == 0:
        return holding > 0 and not unsafe_squares(quick)
    return wanted.least <= holding <= wanted.most


def is_wanted(proved: Proved, wanted: Wanted) -> bool:
    """Whether a proved position has what the filters ask for."""
    survey = proved.survey
    unsafe = [unit for unit in survey["units"] if is_unsafe(unit)]
    if not unsafe:
        return wanted.quiet and not (wanted.mechanisms or wanted.units or wanted.reaches)
    holding = [move for move in survey["moves"] if move["holds"]]
    if not wanted.least <= len(holding) <= wanted.most:
        return False
    return (
        _some(wanted.mechanisms, {name for unit in unsafe for name in unit["mechanisms"]})
        and _some(wanted.units, {unit["unit"] for unit in unsafe})
        and _some(wanted.ways, {move["ways"][0] for move in holding if move["ways"]})
        and _some(wanted.reaches, {unit["reach"] for unit in unsafe})
    )


def _some(asked: frozenset[T], there: AbstractSet[T]) -> bool:
    """Whether one of what is asked for is there, or nothing is asked."""
    return not asked or bool(asked & there)


def named(game: Game) -> str:
    """The game for the teacher: players and date as far as they are known, file and number."""
    names = [" ".join(game.tags.get(tag, "?").split()) for tag in ("White", "Black")]
    date = game.tags.get("Date", "").partition(".?")[0].strip("?")
    known = [" - ".join(names) if set(names) != {"?"} else "", date]
    played, place = ", ".join(filter(None, known)), f"{Path(game.file).name}, game {game.number}"
    return f"{played} ({place})" if played else place

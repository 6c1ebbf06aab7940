"""Twins of many positions, of files or of the shelf, looked for in several processes."""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Container, Generator, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import chess

from fastness import core
from fastness.errors import FileError, PositionError, TwinError, WorkerError
from fastness.exercises.exercise import Proved, Source
from fastness.exercises.pairs import Pair, pair_of
from fastness.exercises.proving import proved
from fastness.exercises.remedy import wants_answer
from fastness.exercises.shelving import as_exercise
from fastness.exercises.twins import REACH, find_twins
from fastness.intake import Game, Problem
from fastness.intake.source import read_lines
from fastness.store import Store, shelf
from fastness.survey.position import position_key
from fastness.workflows.mining import batches, candidates, named
from fastness.workflows.sifting import read_in_turn
from fastness.workflows.surveying import read_position

POSITIONS = (".epd", ".fen")
"""How files end that hold a position a line; `PACKED` may follow."""
GAMES = (".pgn",)
PACKED = (".gz", ".zst")
AHEAD = 2
"""Positions waiting for each process, so that none is idle."""


@dataclass(frozen=True, slots=True)
class Place:
    """A position that a twin is looked for, where it came from, and its proof if there is one."""

    fen: str
    source: Source
    proved: Proved | None = None


@dataclass(frozen=True, slots=True)
class Looked:
    """What came of one place: its pairs, none where no twin was found or no question is firm."""

    place: Place
    pairs: tuple[Pair, ...]


def is_file(word: str) -> bool:
    """Whether a word names a file of games or positions by its end."""
    return _ending(word) in (*GAMES, *POSITIONS)


def _ending(path: str | Path) -> str:
    kinds = [suffix.lower() for suffix in Path(path).suffixes]
    while kinds and kinds[-1] in PACKED:
        kinds.pop()
    return kinds[-1] if kinds else ""


def places_in(
    paths: Iterable[str | Path],
    *,
    values: str = "classical",
    on_progress: Callable[[int], None] | None = None,
) -> Iterator[Place | Problem]:
    """The places in files, in order: every position of a line, and what the screen picks of games.

    Of games those positions are taken where something is in danger by a short look, outside trades
    and checks. What cannot be read is told, and the rest goes on.
    """
    before = 0
    for path in paths:
        taken = 0

        def tell(so_far: int) -> None:
            nonlocal taken
            taken = so_far
            if on_progress is not None:
                on_progress(before + so_far)  # noqa: B023  # called before the next file begins

        if _ending(path) in POSITIONS:
            yield from _positions(path, tell)
        else:
            yield from _of_games(path, values, tell)
        before += taken


def _of_games(
    path: str | Path, values: str, tell: Callable[[int], None]
) -> Iterator[Place | Problem]:
    for items in batches(read_in_turn([path], tell)):
        yield from (item for item in items if isinstance(item, Problem))
        games = [item for item in items if isinstance(item, Game)]
        for one in candidates(games, values=values):
            if one.reach:
                yield Place(one.fen, Source("game", named(one.game), one.ply))


def _positions(path: str | Path, tell: Callable[[int], None]) -> Iterator[Place | Problem]:
    number = 0
    try:
        for number, line in read_lines(path, tell):
            text = line.decode("utf-8", "replace").strip()
            if not text or text.startswith("#"):
                continue
            try:
                fen = read_position(text)
                core.unsafe_units(fen, reach=1)
            except PositionError as error:
                yield _problem(path, number, f"line {number}: {error}")
            else:
                yield Place(chess.Board(fen).fen(), Source("composed"))
    except FileError as error:
        yield _problem(path, number, str(error))


def _problem(path: str | Path, line: int, sentence: str) -> Problem:
    return Problem(str(path), None, line, f"{path}: {sentence}", "error")


def places_on_shelf(store: Store) -> list[Place]:
    """Every position of the shelf that is no twin itself, with its proof."""
    with store.reading() as session:
        found = {
            row.fen: as_exercise(row).proved for row in shelf.find(session) if row.made != "twin"
        }
    return [Place(fen, one.source, one) for fen, one in found.items()]


def twins_of_many(
    places: Iterable[Place | Problem],
    *,
    count: int = 1,
    seconds: float = 20,
    values: str = "classical",
    processes: int = 0,
    known: Container[str] = (),
) -> Generator[Looked | Problem, None, None]:
    """What comes of each place, in order, and what is wrong with the input where it stood.

    Positions that are `known` (`position_key`), or came before, are passed over. The work is done
    in so many `processes`, 0 for one a core. Whoever closes the generator early ends them, and
    loses nothing that was yielded. Raises WorkerError where one of them is killed.
    """
    size = processes or os.cpu_count() or 1
    work = partial(paired, count=count, seconds=seconds, values=values)
    children = set(multiprocessing.active_children())
    pool = ProcessPoolExecutor(
        size, multiprocessing.get_context("spawn"), initializer=_leave_ctrl_c_to_the_parent
    )
    waiting: deque[Problem | Future[Looked]] = deque()
    ended = False
    try:
        for item in _fresh(places, known):
            waiting.append(item if isinstance(item, Problem) else pool.submit(work, item))
            while waiting and (len(waiting) > AHEAD * size or _is_done(waiting[0])):
                yield _answer(waiting.popleft())
        while waiting:
            yield _answer(waiting.popleft())
        ended = True
    except BrokenProcessPool as error:
        raise WorkerError(
            "A process that looked for twins was ended from outside, perhaps for want of memory."
            " What was found before is kept: give the same again, and it goes on where it was."
        ) from error
    finally:
        pool.shutdown(wait=ended, cancel_futures=True)
        if not ended:
            for child in set(multiprocessing.active_children()) - children:
                child.terminate()


def _leave_ctrl_c_to_the_parent() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _fresh(places: Iterable[Place | Problem], known: Container[str]) -> Iterator[Place | Problem]:
    seen: set[str] = set()
    for place in places:
        if isinstance(place, Place):
            key = position_key(place.fen)
            if key in seen or key in known:
                continue
            seen.add(key)
        yield place


def _is_done(item: Problem | Future[Looked]) -> bool:
    return isinstance(item, Problem) or item.done()


def _answer(item: Problem | Future[Looked]) -> Looked | Problem:
    return item if isinstance(item, Problem) else item.result()


def paired(place: Place, *, count: int, seconds: float, values: str) -> Looked:
    """The pairs of a place, on one core."""
    if place.proved is not None:
        survey = place.proved.survey
    else:
        if not wants_answer(core.survey(place.fen, reach=REACH, values=values)):
            return Looked(place, ())
        survey = core.survey(
            place.fen, reach=REACH, firm=True, values=values, rank_nodes=core.RANK_NODES
        )
    try:
        search = find_twins(survey, count=count, seconds=seconds, threads=1)
    except TwinError:
        return Looked(place, ())
    if not search.twins:
        return Looked(place, ())
    first = place.proved or proved(survey, place.source)
    source = Source("twin", place.source.game, place.source.ply, place.fen)
    pairs = (pair_of(first, twin, proved(twin.survey, source)) for twin in search.twins)
    return Looked(place, tuple(pair for pair in pairs if pair))

"""Sweeping archives: what is unsafe in millions of games, as tables, with shares by rating."""

from __future__ import annotations

import csv
import dataclasses
import io
import os
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from fastness import __version__, core
from fastness.errors import InputError, SweepError
from fastness.exercises.exercise import Exercise
from fastness.intake import Game, Problem, read_stretch
from fastness.publish.plots import unsafe_by_band
from fastness.sift import SIFT_VERSION, occasions
from fastness.sweep.batches import GAMES, Batch, batches
from fastness.sweep.cluster import on_scheduler
from fastness.sweep.columns import parquet
from fastness.sweep.folder import SweepFolder, told_plainly
from fastness.sweep.pool import Done, Tables, in_processes
from fastness.sweep.rows import exercise_row, game_row, occasion_row, problem_row
from fastness.sweep.views import Share, counted, errors, make_views, shares
from fastness.workflows.mining import Wanted, candidates, mined
from fastness.workflows.sifting import SiftSettings, looks_at

REACH = 2
"""A third move ahead costs some sixteen times as much (docs/sweep.md)."""
TABLE = "share.csv"
PLOT = "share.svg"


@dataclass(frozen=True, slots=True)
class SweepSettings:
    """How the games of archives are gone through; all parts of a folder are made with the same."""

    reach: int = REACH
    values: str = "classical"
    offers: bool = False
    exercises: bool = False
    batch: int = GAMES
    sift: int = SIFT_VERSION
    program: str = __version__

    @property
    def looking(self) -> SiftSettings:
        """The same for the sift."""
        return SiftSettings(self.reach, self.values, core.OFFER_NODES if self.offers else 0)

    @property
    def tables(self) -> list[str]:
        """The tables that each part has."""
        return ["games", "occasions", "problems", *(["exercises"] if self.exercises else [])]


@dataclass(frozen=True, slots=True)
class Swept:
    """What stands in the folder of a sweep when it is done.

    `rows` counts the rows of each table. `units` and `moves` are the shares of unsafe units, and
    of own moves before which one was unsafe. `left_out` tells of batches that could not be done.
    """

    rows: dict[str, int]
    errors: int
    units: list[Share]
    moves: list[Share]
    left_out: tuple[str, ...] = ()


def sweep(
    archives: Sequence[Path],
    out: Path,
    settings: SweepSettings | None = None,
    *,
    processes: int = 0,
    scheduler: str | None = None,
    on_progress: Callable[[int], None] | None = None,
    on_batch: Callable[[str], None] | None = None,
) -> Swept:
    """Go through archives of games and keep what is found in the folder `out`.

    What is there already is passed over, so that a sweep that was stopped goes on, and none of it
    is there twice; without archives only the views and the shares are made anew. The work is done
    in so many `processes` (0: one a core), or by the workers of a Dask `scheduler`. `on_progress`
    is told the bytes read of all archives, `on_batch` each batch that is kept.

    Raises:
        InputError: nothing can be done with these settings, archives or this folder.
        SweepError: the sweep cannot go on; what is done is kept.
    """
    asked = settings or SweepSettings()
    asked.looking.check()
    folder = SweepFolder(out)
    left_out: list[str] = []
    with folder.opened(dataclasses.asdict(asked) if archives else None):
        there = asked if archives else SweepSettings(**folder.settings)
        before = 0
        for path in archives:
            number = folder.archive(path)
            if not folder.is_done(number):
                source = _Archive(path, number, there.batch, folder.parts(), before, on_progress)
                work = partial(look_through, settings=there)
                done = (
                    in_processes(source.batches(), work, processes or os.cpu_count() or 1)
                    if scheduler is None
                    else on_scheduler(source.batches(), work, scheduler)
                )
                missing = _keep(folder, done, on_batch)
                left_out += missing
                if not missing:
                    folder.finish(number, source.count)
            before += path.stat().st_size
        return _told(folder, there, left_out)


class _Archive:
    """The batches of an archive that are not there yet, and how many there are in all."""

    def __init__(
        self,
        path: Path,
        number: int,
        games: int,
        there: set[str],
        before: int,
        on_progress: Callable[[int], None] | None,
    ) -> None:
        self.path, self.number, self.games, self.there = path, number, games, there
        self.before, self.on_progress = before, on_progress
        self.count = 0

    def batches(self) -> Iterator[Batch]:
        for batch in batches(self.path, self.number, games=self.games, on_progress=self._tell):
            self.count += 1
            if batch.name not in self.there:
                yield batch

    def _tell(self, so_far: int) -> None:
        if self.on_progress is not None:
            self.on_progress(self.before + so_far)


def _keep(folder: SweepFolder, done: Done, on_batch: Callable[[str], None] | None) -> list[str]:
    """Keep what is done, and tell which batches could not be."""
    missing = []
    try:
        for batch, tables in done:
            if tables is None:
                first = batch.stretch.games + 1
                missing.append(f"{batch.stretch.file}: the batch from game {first} on")
                continue
            folder.keep(batch.name, tables)
            if on_batch is not None:
                on_batch(batch.name)
    finally:
        done.close()
    return missing


def look_through(batch: Batch, settings: SweepSettings) -> Tables:
    """The tables of a batch, each as a Parquet file. This is what a worker does.

    Raises SweepError where the program of the worker is another version.
    """
    mine = SweepSettings()
    if (mine.program, mine.sift) != (settings.program, settings.sift):
        raise SweepError(
            f"A worker has fastness {mine.program} (sift {mine.sift}), and {settings.program} (sift"
            f" {settings.sift}) is needed: install the same version on every machine."
        )
    rows: dict[str, list[dict[str, Any]]] = {table: [] for table in settings.tables}
    games: list[Game] = []
    for item in read_stretch(batch.stretch):
        found = item if isinstance(item, Problem) else looks_at(item, "both", settings.looking)
        if isinstance(found, Problem):
            rows["problems"].append(problem_row(batch, found))
        if isinstance(item, Problem) or isinstance(found, Problem):
            continue
        games.append(item)
        rows["games"].append(game_row(batch, item, found))
        rows["occasions"] += [occasion_row(batch, item, one) for one in occasions(item, found)]
    if settings.exercises:
        rows["exercises"] = [
            exercise_row(batch, game, one) for game, one in _exercises(games, settings.values)
        ]
    return {table: parquet(table, found) for table, found in rows.items()}


def _exercises(games: Sequence[Game], values: str) -> Iterator[tuple[Game, Exercise]]:
    for one in candidates(games, values=values, threads=1):
        found = mined(one, Wanted(), values=values)
        for exercise in found.exercises if found is not None else ():
            yield one.game, exercise


def _told(folder: SweepFolder, settings: SweepSettings, left_out: Sequence[str]) -> Swept:
    """Make the views, count, and write the shares as a table and as a plot."""
    if not folder.parts():
        raise InputError(f"{folder.place} holds no part yet: give its archives again.")
    make_views(folder.place, settings.tables)
    units, moves = shares(folder.place, "units"), shares(folder.place, "moves")
    told = Swept(
        counted(folder.place, settings.tables),
        errors(folder.place),
        units,
        moves,
        tuple(left_out),
    )
    rated = [(one.band, one.count / one.of, one.low, one.high) for one in units if one.of]
    plot = unsafe_by_band(rated)
    with told_plainly(folder.place):
        (folder.place / TABLE).write_text(_csv({"units": units, "moves": moves}), "utf-8")
        (folder.place / PLOT).write_text(plot.svg, "utf-8")
    return told


def _csv(told: dict[str, list[Share]]) -> str:
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(("of", *[field.name for field in dataclasses.fields(Share)]))
    for what, found in told.items():
        rows.writerows((what, *dataclasses.astuple(one)) for one in found)
    return text.getvalue()

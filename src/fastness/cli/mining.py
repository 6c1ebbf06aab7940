"""`fastness mine`: exercises out of games."""

from __future__ import annotations

import dataclasses
import os
import sys
from contextlib import closing
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter
from cyclopts.validators import Number

from fastness.cli import INTERRUPTED
from fastness.cli.bar import Bar
from fastness.cli.places import StorePlace, opened
from fastness.core.shapes import Mechanism, UnitName, Way
from fastness.errors import InputError
from fastness.exercises.exercise import Kind
from fastness.intake import Problem
from fastness.sift import counted
from fastness.workflows.looked_at import LookedAt
from fastness.workflows.mining import MOST_HOLDING, Wanted, mine_files
from fastness.workflows.mining_to import ExerciseFile, Shelf
from fastness.workflows.writable import check_writable


def mine(
    *file: str,
    kind: tuple[Kind, ...] = (),
    mechanism: tuple[Mechanism, ...] = (),
    unit: tuple[UnitName, ...] = (),
    way: tuple[Way, ...] = (),
    ahead: tuple[int, ...] = (),
    least: int = 1,
    most: int = MOST_HOLDING,
    quiet: bool = True,
    limit: Annotated[int, Parameter(validator=Number(gte=0))] = 0,
    to: Path | None = None,
    threads: Annotated[int, Parameter(validator=Number(gte=0))] = 0,
    store: StorePlace = None,
) -> int:
    """Look through games for exercises, prove them, and put them on the shelf.

    Every position is looked at quickly; what is worth it is searched one move deeper than the
    answers need. What is on the shelf already, or gave nothing to the same wishes, is passed over,
    so that a stopped run goes on.

    Args:
        file: PGN files, plain, .gz or .zst.
        kind: only these questions.
        mechanism: only where a unit falls by one of these causes.
        unit: only where one of these units is not safe.
        way: only where one of these ways keeps it.
        ahead: only where the danger shows looking so many moves ahead.
        least: at least so many moves keep it.
        most: at most so many moves keep it.
        quiet: also positions where nothing is in danger.
        limit: stop after so many positions; 0 goes through all games.
        to: write a file of JSON lines instead of the shelf.
        threads: how many cores to use; 0 for all.
        store: the store's file or PostgreSQL URL; by default one of your own.
    """
    if not file:
        raise InputError("No file given. Give one PGN file or more.")
    wanted = Wanted(
        kinds=frozenset(kind),
        mechanisms=frozenset(mechanism),
        units=frozenset(unit),
        ways=frozenset(way),
        reaches=frozenset(ahead),
        least=least,
        most=most,
        quiet=quiet,
    )
    wanted.check()
    if to is not None:
        check_writable(to, folder=False)
        return _mine(file, wanted, ExerciseFile(to), limit, threads)
    with opened(store) as place:
        return _mine(file, wanted, Shelf(place), limit, threads)


def _mine(
    files: tuple[str, ...], wanted: Wanted, into: ExerciseFile | Shelf, limit: int, threads: int
) -> int:
    status = positions = exercises = 0
    with Bar(files, shown=sys.stderr.isatty()) as bar:
        looked_at = LookedAt("mine", dataclasses.asdict(wanted), known=into.known())
        found = mine_files(
            files,
            wanted,
            threads=threads,
            known=looked_at,
            on_nothing=looked_at.add,
            on_progress=bar.advance,
        )
        try:
            with closing(found) as items:
                for item in items:
                    if isinstance(item, Problem):
                        bar.say(item.message)
                        status = 2 if item.kind == "error" else status
                        continue
                    exercises += into.keep(item)
                    positions += 1
                    if positions == limit:
                        break
        except KeyboardInterrupt:
            bar.close()
            _tell(positions, exercises)
            sys.stdout.flush()
            # A usual exit would wait for the positions that are still being proved.
            os._exit(INTERRUPTED)
    _tell(positions, exercises)
    return status


def _tell(positions: int, exercises: int) -> None:
    print(f"{counted(positions, 'position')} with {counted(exercises, 'new exercise')}.")

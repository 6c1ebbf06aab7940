"""`fastness sweep`: archives of millions of games to tables."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter
from cyclopts.validators import Number

from fastness.cli import INTERRUPTED
from fastness.cli.bar import Bar
from fastness.cli.survey import ValuesName
from fastness.errors import OptionError
from fastness.sift import counted
from fastness.sweep.batches import GAMES
from fastness.sweep.views import Share
from fastness.workflows.sweeping import REACH, SweepSettings, Swept
from fastness.workflows.sweeping import sweep as sweep_archives


def sweep(
    *archive: Path,
    out: Path,
    reach: Annotated[int, Parameter(validator=Number(gte=1, lte=5))] = REACH,
    values: ValuesName = "classical",
    offers: bool = False,
    exercises: bool = False,
    batch: Annotated[int, Parameter(validator=Number(gte=1, lte=10_000))] = GAMES,
    processes: Annotated[int, Parameter(validator=Number(gte=0))] = 0,
    scheduler: str | None = None,
) -> int:
    """Go through archives of games and keep what is found as tables, with shares by rating.

    Games, occasions, problems and, if asked for, exercises are kept as Parquet files in a folder,
    with a DuckDB database of views over them. A sweep that was stopped, whatever stopped it, goes
    on by the same command; no game is kept twice. Without an archive the views and the shares of a
    folder are made anew.

    Args:
        archive: PGN files, plain, .gz or .zst.
        out: the folder for the tables; one folder holds what was made with the same options.
        reach: how many of the opponent's moves to look ahead, 1 to 5.
        values: the table of unit values to count with.
        offers: tell sacrifices and gambits from faults, which takes much longer.
        exercises: prove exercises too, which takes longer still.
        batch: how many games a part holds; a worker that is killed loses as many.
        processes: how many processes to use here; 0 for one a core.
        scheduler: address of a Dask scheduler whose workers are to do the work (tcp://HOST:PORT).
    """
    if scheduler is not None and processes:
        raise OptionError("--processes are those of this machine; leave it out with --scheduler.")
    settings = SweepSettings(reach, values, offers, exercises, batch)
    files = [str(path) for path in archive]
    try:
        with Bar(files, shown=sys.stderr.isatty()) as bar:
            done = sweep_archives(
                archive,
                out,
                settings,
                processes=processes,
                scheduler=scheduler,
                on_progress=bar.advance,
            )
    except KeyboardInterrupt:
        print("fastness: Stopped; the same command goes on with the rest.", file=sys.stderr)
        sys.stderr.flush()
        os._exit(INTERRUPTED)
    _print(done, out)
    return 2 if done.errors or done.left_out else 0


def _print(done: Swept, out: Path) -> None:
    rows = done.rows
    found = [counted(rows["games"], "game"), counted(rows["occasions"], "occasion")]
    if "exercises" in rows:
        found.append(counted(rows["exercises"], "exercise"))
    print(f"{', '.join(found)} in {out}.\n")
    _print_shares("Units that are not safe, of all units before an own move", done.units)
    _print_shares("Own moves before which a unit is not safe", done.moves)
    if done.errors:
        what = counted(done.errors, "problem")
        print(f"fastness: {what} with the games; see the table problems.", file=sys.stderr)
    for batch in done.left_out:
        print(
            f"fastness: {batch}: the work on it ended its process again and again, perhaps for lack"
            " of memory. It is left out; the same command tries it again.",
            file=sys.stderr,
        )


def _print_shares(title: str, shares: Sequence[Share]) -> None:
    print(f"{title} (outside check; 95 % intervals by game):")
    for one in shares:
        interval = (
            f"{100 * one.count / one.of:6.2f} %  ({100 * one.low:.2f} to {100 * one.high:.2f})"
            if one.enough and one.of
            else "too few to tell"
        )
        print(f"  {one.band:14}  {one.count:>13,} of {one.of:>15,}  {interval}")
    print()

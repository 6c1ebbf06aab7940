"""DuckDB over the parts of a sweep: views of the tables, and the shares of unsafe units."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from fastness.errors import SweepError
from fastness.record.rates import ENOUGH, Sums, interval_of_sums
from fastness.sweep.bands import NAMES
from fastness.sweep.folder import PARTS

if TYPE_CHECKING:
    import duckdb

DATABASE = "sweep.duckdb"
SCRIPT = "views.sql"
MEMORY = "512MB"
"""The most memory that DuckDB may take; what needs more goes by way of the disk."""

# Each side of each game, one row a side.
_SIDES = "\nunion all\n".join(
    f"select archive, batch, game, '{side}' as colour, {side} as player, {side}_rating as rating,"
    f" {side}_band as band, {side}_moves as moves, {side}_moves_unsafe as moves_unsafe,"
    f" {side}_units as units, {side}_units_unsafe as units_unsafe from games"
    for side in ("white", "black")
)
# The first occasion of each episode, whose outcome is the episode's.
_EPISODES = """select * from occasions where episode is not null and not recapture
qualify row_number() over (partition by archive, batch, game, episode order by ply) = 1"""
# Both sides of a game in one band are one cluster, told in a single pass over the games.
_BY_GAME = """select white_band as band, 1 + (black_band = white_band)::int as sides,
 {white} + if(black_band = white_band, {black}, 0) as count,
 {white_of} + if(black_band = white_band, {black_of}, 0) as total from games
union all
select black_band, 1, {black}, {black_of} from games where black_band <> white_band"""
_SUMS = """select band, sum(sides), count(*), sum(count), sum(total), sum(count * count),
 sum(count * total), sum(total * total) from ({by_game}) group by band"""


@dataclass(frozen=True, slots=True)
class Share:
    """In one band: `count` out of `of`, with a 95 % interval for the share, between 0 and 1.

    The interval allows for all that hangs together in one of the `games`. Without `enough` of them
    it is too few to tell.
    """

    band: str
    sides: int
    games: int
    count: int
    of: int
    low: float
    high: float
    enough: bool


def make_views(place: Path, tables: list[str]) -> None:
    """Write the database of a sweep with its views, and the script that makes them elsewhere.

    The views of the database name the folder where it stands; the script is to be run in the folder
    itself. Raises SweepError where they cannot be written.
    """
    import duckdb

    fresh = place / f"{DATABASE}.new"
    fresh.unlink(missing_ok=True)
    try:
        with duckdb.connect(str(fresh)) as made:
            made.execute(_views(tables, str(place.resolve())))
        fresh.replace(place / DATABASE)
        (place / SCRIPT).write_text(_views(tables, "."), "utf-8")
    except (duckdb.Error, OSError) as error:
        raise SweepError(f"{place / DATABASE} cannot be written: {error}") from error


def shares(place: Path, what: str = "units") -> list[Share]:
    """The share of unsafe units, or of `moves` before which one was unsafe, band by band.

    Raises SweepError where a part cannot be read.
    """
    names = {
        "white": f"white_{what}_unsafe",
        "black": f"black_{what}_unsafe",
        "white_of": f"white_{what}",
        "black_of": f"black_{what}",
    }
    with _opened(place) as opened:
        rows = opened.execute(_SUMS.format(by_game=_BY_GAME.format(**names))).fetchall()
    found = {band: (int(sides), Sums(*map(int, sums))) for band, sides, *sums in rows}
    return [_share(name, *found[name]) for name in NAMES if name in found]


def counted(place: Path, tables: list[str]) -> dict[str, int]:
    """How many rows each table has."""
    with _opened(place) as opened:
        return {
            table: int(opened.execute(f"select count(*) from {table}").fetchall()[0][0])
            for table in tables
        }


def errors(place: Path) -> int:
    """How many problems have cost something: moves, a game, the rest of an archive."""
    with _opened(place) as opened:
        found = opened.execute("select count(*) from problems where kind = 'error'").fetchall()
    return int(found[0][0])


@contextlib.contextmanager
def _opened(place: Path) -> Iterator[duckdb.DuckDBPyConnection]:
    import duckdb

    try:
        with duckdb.connect(str(place / DATABASE), read_only=True) as opened:
            opened.execute(f"set memory_limit = '{MEMORY}'")
            yield opened
    except duckdb.Error as error:
        raise SweepError(f"The tables in {place} cannot be read: {error}") from error


def _share(band: str, sides: int, sums: Sums) -> Share:
    low, high = interval_of_sums(sums)
    return Share(
        band, sides, sums.games, sums.held, sums.of, low, high, enough=sums.games >= ENOUGH
    )


def _views(tables: list[str], place: str) -> str:
    quoted = place.replace("'", "''")
    views = {table: f"from read_parquet('{quoted}/{PARTS}/*/{table}.parquet')" for table in tables}
    views |= {"sides": _SIDES, "episodes": _EPISODES}
    return "".join(f"create or replace view {name} as\n{text};\n" for name, text in views.items())

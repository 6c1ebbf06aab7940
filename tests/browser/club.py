"""The invented club in a store: the games of some evenings, and a few exercises from them."""

from __future__ import annotations

import re
from contextlib import closing
from itertools import islice
from pathlib import Path

from fastness.store import open_store
from fastness.workflows.importing import WhoIsWho, bring_in
from fastness.workflows.mining import Mined, mine_files
from fastness.workflows.mining_to import Shelf
from tests.store.material import QUICK, nobody

GAMES = Path(__file__).parents[2] / "demo" / "millrace.pgn"
GROUP = "Monday"
EXERCISES = 3
"""Positions from which exercises are made."""


def evening(day: str) -> str:
    """The games of a day, such as "2026.09.14", as PGN."""
    games = re.split(r"\n(?=\[Event )", GAMES.read_text(encoding="ascii"))
    played = [game for game in games if f'[Date "{day}"]' in game]
    assert played, f"nobody played on {day}"
    return "\n".join(played)


def fill(folder: Path) -> Path:
    """A store with two evenings of the club in it."""
    games, place = folder / "games.pgn", folder / "filled.sqlite"
    games.write_text(evening("2026.09.14") + "\n" + evening("2026.09.28"), "ascii")
    with closing(open_store(str(place))) as store:
        who = WhoIsWho(store, nobody, GROUP, add=True, dry_run=False)
        for _ in bring_in(store, [games], who, QUICK, threads=2):
            pass
        with closing(mine_files([games])) as items:
            mined = (item for item in items if isinstance(item, Mined))
            shelf = Shelf(store)
            for one in islice(mined, EXERCISES):
                shelf.keep(one)
    return place

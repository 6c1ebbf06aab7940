"""The invented club: its games brought into a store of its own, to try everything on."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import closing
from itertools import islice
from pathlib import Path

from fastness.store import Store
from fastness.workflows.import_summary import bring_in_all
from fastness.workflows.looking_over import Meant, look_over, settle_names
from fastness.workflows.mining import Mined, mine_files
from fastness.workflows.mining_to import Shelf
from fastness.workflows.sifting import SiftSettings

GAMES = Path(__file__).with_name("millrace-terms.pgn")
"""Two terms of games."""
GROUP = "Evening group"
MINED = 12
"""Positions that are put on the shelf."""
MOST = 1000


def fill_with_demo(store: Store, on_progress: Callable[[int, int], None]) -> None:
    """Bring the invented club's games in, and put exercises from them on the shelf.

    `on_progress` is told how much is done, of how much; what it raises ends it.
    """
    found = look_over(store, [GAMES], most=MOST)
    meant: dict[str, Meant] = {one.name: "new" for one in found.names if one.student is None}
    settle_names(store, meant, GROUP)
    steps = found.games + MINED
    bring_in_all(
        store, [GAMES], SiftSettings(offer_nodes=0), lambda so_far: on_progress(so_far.games, steps)
    )
    shelf = Shelf(store)
    with closing(mine_files([GAMES], known=shelf.known())) as items:
        mined = (item for item in items if isinstance(item, Mined))
        for number, one in enumerate(islice(mined, MINED), 1):
            shelf.keep(one)
            on_progress(found.games + number, steps)

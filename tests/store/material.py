"""Games for the tests of the store, and stores with them in; all invented."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from fastness.store import Store
from fastness.workflows.importing import BroughtIn, WhoIsWho, bring_in
from fastness.workflows.sifting import SiftSettings

QUICK = SiftSettings(reach=1, offer_nodes=0)
ADA, IVY, TOM = "Weirwater, Ada", "Flourdust, Ivy", "Millpondle, Tom"
MOVES = (
    "1. e4 e5 2. Nf3 Nc6 3. Bc4 Nd4 4. Nxe5 Qg5 5. Nxf7 Qxg2 6. Rf1 Qxe4+",
    "1. d4 d5 2. Nf3 e6 3. Bg5 Nc6 4. Bxd8 Nxd8 5. e3 Nf6",
    "1. e4 d5 2. exd5 Qxd5 3. Nc3 Qa5 4. b4 Qxb4 5. Rb1 Qd6",
    "1. e4 e5 2. Nf3 Nc6 3. d4 exd4 4. Nxd4 Nf6 5. Nc3 Bb4",
)


def pgn(
    white: str, black: str, moves: str, *, date: str = "2026.09.07", event: str = "Club evening"
) -> str:
    """One game as PGN."""
    tags = {"Event": event, "Date": date, "White": white, "Black": black, "Result": "*"}
    head = "\n".join(f'[{key} "{tag}"]' for key, tag in tags.items())
    return f"{head}\n\n{moves} *\n\n"


def some_games(count: int = 6) -> str:
    """So many different games among three students."""
    pairs = ((ADA, IVY), (IVY, TOM), (TOM, ADA))
    games = []
    for number in range(count):
        white, black = pairs[number % 3]
        date = f"2026.09.{number // 4 + 1:02}"
        games.append(pgn(white, black, MOVES[number % 4], date=date))
    return "".join(games)


def nobody(_name: str, _alike: Sequence[str]) -> None:
    """An answer to who is meant: nobody known."""


def brought_in(store: Store, file: Path, *, add: bool = True) -> list[BroughtIn]:
    """Bring in a file; what was brought in."""
    who = WhoIsWho(store, nobody, "Monday" if add else None, add=add, dry_run=False)
    events = list(bring_in(store, [file], who, QUICK, threads=1))
    return [event for event in events if isinstance(event, BroughtIn)]

"""How often something is unsafe, and how often a move lets material fall, by the player's rating.

Usage: python -m scripts.rating_bands GAMES.pgn OCCASIONS.jsonl

OCCASIONS.jsonl is what `fastness sift GAMES.pgn --json` printed. Both shares are of the moves
played: before how many something of the mover's was unsafe, and how many lost half a pawn or more
that another move would have kept (what was offered, and taking back, apart). The intervals are
Jeffreys', which take the moves to be independent; those of one game are not quite.
"""

from __future__ import annotations

import argparse
import json
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from fastness.intake import Game, read_games
from fastness.record.rates import jeffreys
from fastness.sift.outcome import THRESHOLD, number
from fastness.sweep.bands import NAMES, band

LETS_FALL = ("lessened", "let fall", "exposed")

Side = tuple[int, str]
"""The number of a game, and the colour."""


def sides(games: Iterable[Game]) -> Iterator[tuple[Side, str, int]]:
    """Each side of each game, the player's band, and the number of own moves."""
    for game in games:
        for first, tag in ((1, "White"), (0, "Black")):
            own = (len(game.moves) + first) // 2
            yield (game.number, tag.lower()), band(game.tags.get(f"{tag}Elo", "")), own


def is_unsafe(occasion: dict[str, Any]) -> bool:
    """Whether something of the mover's was unsafe before the move."""
    danger = occasion["danger"]
    return bool(danger is not None and number(danger) >= THRESHOLD and occasion["units"])


def rows(games: Iterable[Game], occasions: Iterable[dict[str, Any]]) -> Iterator[list[str]]:
    """A row a band: players' sides, moves, and both counts with their shares."""
    players, moves, unsafe, fell = Counter[str](), Counter[str](), Counter[str](), Counter[str]()
    bands: dict[Side, str] = {}
    for side, name, own in sides(games):
        bands[side] = name
        players[name] += 1
        moves[name] += own
    for occasion in occasions:
        name = bands[occasion["game"]["number"], occasion["colour"]]
        if occasion["kind"] == "danger" and not occasion["recapture"]:
            unsafe[name] += is_unsafe(occasion)
            fell[name] += occasion["outcome"] in LETS_FALL
    for name in NAMES:
        shares = [_share(count[name], moves[name]) for count in (unsafe, fell)]
        yield [name, f"{players[name]:,}", f"{moves[name]:,}", *shares]


def _share(count: int, of: int) -> str:
    if not of:
        return "-"
    low, high = jeffreys(count, of)
    return f"{count:,}: {100 * count / of:.1f} % ({100 * low:.1f} to {100 * high:.1f})"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("games", type=Path)
    parser.add_argument("occasions", type=Path)
    args = parser.parse_args()
    games = [item for item in read_games(args.games) if isinstance(item, Game)]
    with args.occasions.open(encoding="utf-8") as lines:
        found = (json.loads(line) for line in lines)
        occasions = (one for one in found if "error" not in one)
        print("| rating | sides | moves | something unsafe before | lets material fall |")
        print("| --- | --- | --- | --- | --- |")
        for row in rows(games, occasions):
            print(f"| {' | '.join(row)} |")


if __name__ == "__main__":
    main()

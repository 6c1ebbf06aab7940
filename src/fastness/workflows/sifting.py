"""Sifting games: the occasions in many PGN files, game by game, with flat memory."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from fastness import core
from fastness.core.shapes import Look
from fastness.errors import MoveError, PositionError
from fastness.intake import Game, Problem, read_games
from fastness.sift import Names, Occasion, occasions

AHEAD = 4
"""Games read ahead of the one that is waited for, for each thread."""

Colours = Literal["white", "black", "both"]


@dataclass(frozen=True, slots=True)
class Sifted:
    """A game that was gone through, the one or two players looked at, and what was found."""

    game: Game
    players: tuple[str, ...]
    occasions: tuple[Occasion, ...]


@dataclass(frozen=True, slots=True)
class SiftSettings:
    """How games are gone through: the reach, the values, and nodes to tell offers (0 for not)."""

    reach: int = 3
    values: str = "classical"
    offer_nodes: int = core.OFFER_NODES

    def check(self) -> None:
        """Raise OptionError where the reach or the table of values does not exist."""
        core.look(_SHORTEST, (), reach=self.reach, values=self.values)


def sift_files(
    paths: Iterable[str | Path],
    player: str | None = None,
    *,
    reach: int = 3,
    values: str = "classical",
    offers: bool = True,
    threads: int = 0,
    on_progress: Callable[[int], None] | None = None,
) -> Generator[Sifted | Problem, None, None]:
    """The games of PGN files in order, each with its occasions, and what is wrong with them.

    Args:
        paths: PGN files, plain, gzip or Zstandard.
        player: the name of the player to look at, in either order ("Weber, Anna" or "anna
            weber"); games of others are passed over. None looks at both sides of every game.
        reach: the number of opponent moves searched, 1 to 5.
        values: the name of a table of unit values.
        offers: tell sacrifices and gambits from faults, which takes longer.
        threads: how many games are looked at at once, 0 for one a core.
        on_progress: told the bytes taken from the disk so far, of all files together.

    A problem comes before the game it is about. Bad input raises nothing; the player's name is
    tried last, when everything has been read. Memory does not grow with the files.

    Raises:
        OptionError: the reach or the table of values does not exist.
        PlayerError: no game names the player.
    """
    settings = SiftSettings(reach, values, core.OFFER_NODES if offers else 0)
    settings.check()
    names = None if player is None else Names(player)
    size = threads or os.cpu_count() or 1
    pool = ThreadPoolExecutor(size, thread_name_prefix="sift")
    waiting: deque[Problem | Future[Sifted | Problem]] = deque()
    try:
        for item in read_in_turn(paths, on_progress):
            if isinstance(item, Problem):
                waiting.append(item)
            elif colours := colours_of(item, names):
                waiting.append(pool.submit(sift_game, item, colours, settings))
            while waiting and (len(waiting) > AHEAD * size or _is_done(waiting[0])):
                yield _answer(waiting.popleft())
        while waiting:
            yield _answer(waiting.popleft())
    finally:
        # Whoever stops in the middle does not wait for the games read ahead.
        pool.shutdown(wait=False, cancel_futures=True)
    if names is not None:
        names.check()


_SHORTEST = "8/8/8/3Kp3/4Pk2/8/8/8 w - - 0 1"


def read_in_turn(
    paths: Iterable[str | Path], on_progress: Callable[[int], None] | None
) -> Iterator[Game | Problem]:
    """The games of several files; `on_progress` is told the bytes read so far of all together."""
    before = 0
    for path in paths:
        taken = 0

        def tell(so_far: int) -> None:
            nonlocal taken
            taken = so_far
            if on_progress is not None:
                on_progress(before + so_far)  # noqa: B023  # called before the next file begins

        yield from read_games(path, tell)
        before += taken


def colours_of(game: Game, names: Names | None) -> Colours | None:
    """Whose moves of the game are to be looked at."""
    if names is None:
        return "both"
    white = names.is_meant(game.tags.get("White", "?"))
    black = names.is_meant(game.tags.get("Black", "?"))
    if white and black:
        return "both"
    return "white" if white else "black" if black else None


def sift_game(game: Game, colours: Colours, settings: SiftSettings) -> Sifted | Problem:
    """The occasions of a game for one side or both; a problem where it cannot be gone through."""
    looks = looks_at(game, colours, settings)
    if isinstance(looks, Problem):
        return looks
    tags = {"white": ("White",), "black": ("Black",), "both": ("White", "Black")}[colours]
    players = tuple(game.tags.get(tag, "?") for tag in tags)
    return Sifted(game, players, tuple(occasions(game, looks)))


def looks_at(game: Game, colours: Colours, settings: SiftSettings) -> list[Look] | Problem:
    """The look at each own move; a problem where the game cannot be gone through."""
    try:
        return core.look(
            game.start_fen,
            game.moves,
            colours=colours,
            reach=settings.reach,
            values=settings.values,
            offer_nodes=settings.offer_nodes,
        )
    except (PositionError, MoveError) as error:
        where = f"{game.file}, game {game.number}, line {game.line}"
        return Problem(game.file, game.number, game.line, f"{where}: {error}", "error")


def _is_done(item: Problem | Future[Sifted | Problem]) -> bool:
    return isinstance(item, Problem) or item.done()


def _answer(item: Problem | Future[Sifted | Problem]) -> Sifted | Problem:
    return item if isinstance(item, Problem) else item.result()

"""A game gone through in stretches: on several cores, and told of while it goes on.

The looks are those of the whole game. A stretch begins after a quiet move, so that no trade is cut
in two, and ends with a move of the other side, so that the answer to the last own move is known.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import chess

from fastness import core
from fastness.core.shapes import Look, Side
from fastness.intake import Game
from fastness.workflows.sifting import Colours, SiftSettings

PLIES = 8
"""Plies of a stretch, at least, where the game is as long as that."""
SIDES: tuple[Side, ...] = ("white", "black")


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a game: the position it begins with, after so many plies, and the moves (UCI).

    The own moves of `side` are looked at.
    """

    fen: str
    before: int
    moves: tuple[str, ...]
    side: Side

    @property
    def own_moves(self) -> tuple[str, ...]:
        """The moves that are looked at."""
        own = (self.fen.split()[1] == "w") == (self.side == "white")
        return self.moves[0 if own else 1 :: 2]

    def look(self, settings: SiftSettings) -> list[Look]:
        """The looks at its own moves, their plies counted in the game. Raises as `core.look`."""
        looks = core.look(
            self.fen,
            self.moves,
            colours=self.side,
            reach=settings.reach,
            values=settings.values,
            offer_nodes=settings.offer_nodes,
        )
        for look in looks:
            look["ply"] += self.before
        return looks


def stretches(game: Game, colours: Colours) -> list[Stretch]:
    """The stretches of a game of legal moves, in its order."""
    starts = _starts(game)
    ends = [*(before for _, before in starts[1:]), len(game.moves)]
    return [
        one
        for (fen, before), end in zip(starts, ends, strict=True)
        for side in SIDES
        if colours in ("both", side)
        for one in _of_side(game, fen, before, end, side)
    ]


def _starts(game: Game) -> list[tuple[str, int]]:
    """Where stretches begin: the position and the plies before it."""
    board = chess.Board(game.start_fen)
    found = [(game.start_fen, 0)]
    for plies, uci in enumerate(game.moves, 1):
        move = chess.Move.from_uci(uci)
        quiet = not board.is_capture(move)
        board.push(move)
        if quiet and plies - found[-1][1] >= PLIES and plies < len(game.moves):
            found.append((board.fen(), plies))
    return found


def _of_side(game: Game, fen: str, before: int, end: int, side: Side) -> Iterator[Stretch]:
    own = (fen.split()[1] == "w") == (side == "white")
    first = before if own else before + 1
    last = first + (end - 1 - first) // 2 * 2
    if first < end:
        # One move more is the other side's, and looked at in the next stretch.
        yield Stretch(fen, before, tuple(game.moves[before : last + 2]), side)


@dataclass(frozen=True, slots=True)
class Weighed:
    """A move that fell, weighed: whether it is an offer, and if not the better ways (SAN)."""

    ply: int
    offered: bool
    better: tuple[str, ...]


def weighed(game: Game, ply: int, settings: SiftSettings) -> Weighed:
    """Tell an offer from a fault where the move at this ply falls, and rank what held instead.

    `settings` say by how many nodes. The offer is the one that a look at the whole game tells, and
    the better ways are those of the survey, by rank.
    """
    fen, before = _before_trade(game, ply)
    since = game.moves[before : ply - 1]
    side: Side = "white" if chess.Board(fen).turn == (len(since) % 2 == 0) else "black"
    until = tuple(game.moves[before : ply + 1])
    look = Stretch(fen, before, until, side).look(settings)[-1]
    if look["offered"] or not look["holding"]:
        return Weighed(ply, bool(look["offered"]), ())
    survey = core.survey(
        fen,
        moves=since,
        reach=settings.reach,
        values=settings.values,
        rank_nodes=core.RANK_NODES,
    )
    better = [move for move in survey["moves"] if move["advised"]]
    better.sort(key=lambda move: (move["rank"] or 0, move["san"]))
    return Weighed(ply, offered=False, better=tuple(move["san"] for move in better))


def _before_trade(game: Game, ply: int) -> tuple[str, int]:
    """The position before the run of captures that led to a ply, and the plies before it."""
    board, begun = chess.Board(game.start_fen), (game.start_fen, 0)
    for plies, uci in enumerate(game.moves[: ply - 1], 1):
        move = chess.Move.from_uci(uci)
        quiet = not board.is_capture(move)
        board.push(move)
        if quiet:
            begun = board.fen(), plies
    return begun

"""The teacher's last word on a place in a stored game, said and taken back by its number."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import chess

from fastness.errors import MissingError, MoveError
from fastness.store import Store, corrections, tables
from fastness.store.browsing import game_numbered
from fastness.workflows.games import CorrectionTold, correction_told


@dataclass(frozen=True, slots=True)
class Corrected:
    """A correction that was made, and those that it took the place of."""

    made: CorrectionTold
    replaced: tuple[CorrectionTold, ...]


def correct(
    store: Store,
    game: int,
    ply: int,
    action: corrections.Action,
    reason: str,
    *,
    kind: Literal["danger", "taking"] = "danger",
    outcome: str | None = None,
    move: str | None = None,
) -> Corrected:
    """Keep a correction of a place, or of one move there (SAN or UCI).

    Raises:
        MissingError: there is no such game.
        InputError: it has no such ply, no reason is given, or an overruling has no outcome.
        MoveError: the move is not legal there.
    """
    with store.writing() as session:
        found = game_numbered(session, game)
        before = {one.id: correction_told(one) for one in corrections.of_game(session, found)}
        san = None if move is None else _as_san(corrections.before_ply(found, ply), move)
        made = corrections.correct(
            session, found, ply, action, reason, kind=kind, outcome=outcome, move=san
        )
        session.flush()
        left = {one.id for one in corrections.of_game(session, found)}
        replaced = tuple(told for number, told in before.items() if number not in left)
        return Corrected(correction_told(made), replaced)


def _as_san(board: chess.Board, move: str) -> str:
    for read in (board.parse_uci, board.parse_san):
        try:
            return board.san(read(move))
        except ValueError:
            continue
    raise MoveError(f'"{move}" is no legal move in {board.fen()}; write it as Nf3 or g1f3.')


def take_back(store: Store, game: int, number: int) -> CorrectionTold:
    """Remove a correction; what it said is given, so that it can be said again.

    Raises MissingError where there is no such game or correction.
    """
    with store.writing() as session:
        game_numbered(session, game)
        found = session.get(tables.Correction, number)
        if found is None or found.game_id != game:
            raise MissingError(f"Game {game} has no correction {number}.")
        told = correction_told(found)
        session.delete(found)
        return told

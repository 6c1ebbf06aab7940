"""The teacher's corrections, kept on the game so that they outlast every recomputation."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from typing import Literal, get_args

import chess
from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.errors import InputError
from fastness.intake.san import play
from fastness.record import MoveVerdict
from fastness.sift import Outcome
from fastness.store.tables import Correction, Game

Action = Literal["strike", "overrule", "comment"]
"""Strike: it is not counted, or the move not judged. Overrule: it has another outcome, or the move
holds or falls after all. Comment: only a remark."""
Kind = Literal["danger", "taking"]


def correct(
    session: Session,
    game: Game,
    ply: int,
    action: Action,
    reason: str,
    *,
    kind: Kind = "danger",
    outcome: str | None = None,
    move: str | None = None,
) -> Correction:
    """Keep a correction; one of the same kind on the same place or move is replaced.

    `ply` counts from 1. `move`, in SAN, is a legal move there: then the correction is of that move
    alone, and an overruling's `outcome` is "holds" or "falls". Raises InputError where the game has
    no such ply, MoveError where the move is not legal, InputError where an overruling names no
    outcome, or no reason is given.
    """
    board = before_ply(game, ply)
    if not reason.strip():
        raise InputError("a correction needs its reason: it is printed with it")
    known = get_args(Outcome) if move is None else get_args(MoveVerdict)
    if action == "overrule" and outcome not in known:
        of = "an outcome" if move is None else "what is said of a move"
        raise InputError(f"{of} is one of {', '.join(known)}, not {outcome}")
    uci = None if move is None else play(board, move).uci()
    for old in _at(session, game, ply, kind, uci):
        # A move is either struck or overruled: what is said of it last stands.
        if old.action == action or (uci is not None and "comment" not in (old.action, action)):
            session.delete(old)
    made = Correction(
        game=game,
        ply=ply,
        kind=kind,
        action=action,
        outcome=outcome if action == "overrule" else None,
        move=uci,
        reason=reason.strip(),
        made=datetime.date.today(),
    )
    session.add(made)
    session.flush()
    return made


def withdraw(
    session: Session, game: Game, ply: int, *, kind: Kind = "danger", move: str | None = None
) -> int:
    """Take back what was said of a place, or of one move there; how many corrections that were.

    Raises InputError and MoveError as `correct` does.
    """
    board = before_ply(game, ply)
    found = _at(session, game, ply, kind, None if move is None else play(board, move).uci())
    for one in found:
        session.delete(one)
    return len(found)


def before_ply(game: Game, ply: int) -> chess.Board:
    """The position before a ply, counted from 1. Raises InputError where the game has none."""
    moves = game.moves.split()
    if not 1 <= ply <= len(moves):
        raise InputError(f"the game has {len(moves)} plies, and no ply {ply}")
    board = chess.Board(game.start_fen)
    for uci in moves[: ply - 1]:
        board.push_uci(uci)
    return board


def of_game(session: Session, game: Game) -> Sequence[Correction]:
    """The corrections on a game, in the order they were made."""
    asked = select(Correction).where(Correction.game_id == game.id).order_by(Correction.id)
    return session.scalars(asked).all()


def _at(session: Session, game: Game, ply: int, kind: Kind, move: str | None) -> list[Correction]:
    place = ply, kind, move
    return [one for one in of_game(session, game) if (one.ply, one.kind, one.move) == place]

"""The teacher's corrections, kept on the game so that they outlast every recomputation."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from typing import Literal, get_args

from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.errors import InputError
from fastness.sift import Outcome
from fastness.store.tables import Correction, Game

Action = Literal["strike", "overrule", "comment"]
"""Strike: it is not counted. Overrule: it has another outcome. Comment: only a remark."""


def correct(
    session: Session,
    game: Game,
    ply: int,
    action: Action,
    reason: str,
    *,
    kind: Literal["danger", "taking"] = "danger",
    outcome: str | None = None,
) -> Correction:
    """Keep a correction; one of the same kind on the same place is replaced.

    `ply` counts from 1. Raises InputError where the game has no such move, an overruling names no
    outcome, or no reason is given.
    """
    if not 1 <= ply <= len(game.moves.split()):
        raise InputError(f"the game has {len(game.moves.split())} plies, and no ply {ply}")
    if not reason.strip():
        raise InputError("a correction needs its reason: it is printed with it")
    if action == "overrule" and outcome not in get_args(Outcome):
        raise InputError(f"an outcome is one of {', '.join(get_args(Outcome))}, not {outcome}")
    for old in of_game(session, game):
        if (old.ply, old.kind, old.action) == (ply, kind, action):
            session.delete(old)
    made = Correction(
        game=game,
        ply=ply,
        kind=kind,
        action=action,
        outcome=outcome if action == "overrule" else None,
        reason=reason.strip(),
        made=datetime.date.today(),
    )
    session.add(made)
    session.flush()
    return made


def of_game(session: Session, game: Game) -> Sequence[Correction]:
    """The corrections on a game, in the order they were made."""
    asked = select(Correction).where(Correction.game_id == game.id).order_by(Correction.id)
    return session.scalars(asked).all()


def take_back(session: Session, number: int) -> None:
    """Remove a correction by its number. Raises InputError where there is none."""
    correction = session.get(Correction, number)
    if correction is None:
        raise InputError(f"there is no correction {number}")
    session.delete(correction)

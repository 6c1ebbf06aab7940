"""`fastness correct`: the teacher's last word on a place in a game."""

from __future__ import annotations

from typing import Annotated, Literal

from cyclopts import Parameter

from fastness.cli.places import StorePlace, opened
from fastness.errors import InputError
from fastness.store import corrections, tables


def correct(
    game: int,
    ply: int,
    action: Literal["strike", "overrule", "comment"],
    reason: str,
    *,
    outcome: str | None = None,
    taking: Annotated[bool, Parameter(negative=())] = False,
    store: StorePlace = None,
) -> None:
    """Strike an occasion, give it another outcome, or comment on it.

    It is printed with its reason, and kept when the games are gone through again.

    Args:
        game: the game's number in the record.
        ply: the place, counted from 1 for White's first move.
        action: strike it, overrule its outcome, or comment.
        reason: why, in your words.
        outcome: for an overruling: held, offered, lessened, "let fall", "saved most" or exposed.
        taking: it is about something that could be taken.
        store: the store's file or URL.
    """
    with opened(store) as place, place.writing() as session:
        found = session.get(tables.Game, game)
        if found is None:
            raise InputError(f"there is no game {game} in the store")
        kind: Literal["danger", "taking"] = "taking" if taking else "danger"
        corrections.correct(session, found, ply, action, reason, kind=kind, outcome=outcome)
        print(f"Kept: game {game}, ply {ply}: {action}.")

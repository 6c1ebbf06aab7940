"""`fastness correct`: the teacher's last word on a place in a game, or on a move there."""

from __future__ import annotations

import re
from typing import Annotated, Literal

import chess
from cyclopts import Parameter

from fastness.cli.places import StorePlace, opened
from fastness.errors import InputError
from fastness.store import corrections, tables


def correct(
    game: int,
    place: str,
    action: Literal["strike", "overrule", "comment", "withdraw"],
    reason: str = "",
    *,
    move: str | None = None,
    outcome: str | None = None,
    taking: Annotated[bool, Parameter(negative=())] = False,
    store: StorePlace = None,
) -> None:
    """Strike an occasion or a move, overrule what was found, or comment on it.

    It is printed with its reason, and kept when the games are gone through again.

    Args:
        game: the game's number in the record.
        place: the move's number as the record has it, 14. for White's and 14... for Black's; or the
            ply, counted from 1 for White's first move.
        action: strike it, overrule it, comment, or withdraw what you said before.
        reason: why, in your words. Said of a move, it is printed on the student's page too.
        move: it is about this move alone, such as Nf6, whether it was played or not. Struck, it is
            not judged.
        outcome: for an overruling: held, offered, lessened, "let fall", "saved most" or exposed;
            of a move, holds or falls.
        taking: it is about something that could be taken.
        store: the store's file or URL.
    """
    with opened(store) as where, where.writing() as session:
        found = session.get(tables.Game, game)
        if found is None:
            raise InputError(f"there is no game {game} in the store")
        kind: Literal["danger", "taking"] = "taking" if taking else "danger"
        ply = _ply(place, found)
        about = f"game {game}, ply {ply}" + (f", {move}" if move else "")
        if action == "withdraw":
            count = corrections.withdraw(session, found, ply, kind=kind, move=move)
            print(f"Withdrawn: {about}." if count else f"Nothing was said of {about}.")
            return
        corrections.correct(
            session, found, ply, action, reason, kind=kind, outcome=outcome, move=move
        )
        print(f"Kept: {about}: {action}.")
        if not any(
            one.ply == ply and one.kind == kind for seat in found.seats for one in seat.occasions
        ):
            print("No occasion was found there, so that nothing else changes.")


def _ply(place: str, game: tables.Game) -> int:
    """The ply that `27`, `14.`, `14...` or `14...Nf6` names, counted from 1."""
    form = re.fullmatch(r"(\d+)(?:(\.+)\S*)?", place.strip())
    if form is None:
        raise InputError(f'"{place}" is no place in a game; write 14. or 14..., or the ply')
    number, points = int(form[1]), form[2]
    if points is None:
        return number
    start = chess.Board(game.start_fen)
    black = len(points) > 1
    return 2 * (number - start.fullmove_number) + black + start.turn

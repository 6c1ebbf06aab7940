"""Erasing a student: nothing of the name is left in the store's file."""

from __future__ import annotations

from typing import Any

from sqlalchemy.orm import Session

from fastness.store.games import as_game, identity
from fastness.store.opening import Store, backups_before_upgrades
from fastness.store.safekeeping import compact
from fastness.store.shelf_transfer import forget
from fastness.store.students import forms, student_named
from fastness.store.tables import Game, Student

NOBODY = "A former student"
"""Stands, with a number, in games that another student also played, in place of the name."""


def erase_student(store: Store, name: str) -> str:
    """Erase a student, the games that no other student played, and what was found in them.

    A game shared with another student stays, with a neutral name. Backups that were made beside
    the store before an upgrade are removed, since they hold the name; backups made elsewhere are
    the teacher's to remove. Gives the name that was erased.

    Raises:
        StudentError: there is no such student.
        StoreError: the store cannot be written.
    """
    with store.writing() as session:
        student = student_named(session, name)
        erased = student.name
        known = {form for alias in student.aliases for form in forms(alias.name)}
        for seat in list(student.seats):
            _leave(session, seat.game, seat.colour, student, known)
        forget(session, student, known)
        # What went with a game is gone already.
        session.flush()
        session.expire(student)
        session.delete(student)
    compact(store)
    if store.path is not None:
        for backup in backups_before_upgrades(store.path):
            backup.unlink(missing_ok=True)
    return erased


def _leave(session: Session, game: Game, colour: str, student: Student, known: set[str]) -> None:
    others = [seat for seat in game.seats if seat.student_id != student.id]
    if not others:
        session.delete(game)
        return
    nobody = f"{NOBODY} {student.id}"
    game.tags = {
        key: nobody if forms(tag) & known or _names(tag, known) else tag
        for key, tag in game.tags.items()
    }
    if colour == "white":
        game.white = nobody
    else:
        game.black = nobody
    game.seats.remove(next(seat for seat in game.seats if seat.colour == colour))
    for seat in others:
        for occasion in seat.occasions:
            occasion.told = {
                **occasion.told,
                "game": _renamed(occasion.told["game"], colour, nobody),
            }
    for correction in list(game.corrections):
        if any(form in correction.reason.casefold() for form in known):
            session.delete(correction)
    session.flush()
    game.identity = identity(as_game(game))


def _names(tag: str, known: set[str]) -> bool:
    """Whether a tag holds the name among other words."""
    folded = " ".join(tag.replace(",", " ").casefold().split())
    return any(form in folded for form in known)


def _renamed(label: dict[str, Any], colour: str, name: str) -> dict[str, Any]:
    return {**label, colour: name}

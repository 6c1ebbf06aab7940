"""Erasing a student: nothing of the name is left in the store's file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.core.shapes import Side
from fastness.store import erased, homework_transfer, tables, taught
from fastness.store.clearing import clear
from fastness.store.erased import NOBODY, SIDES
from fastness.store.games import as_game, is_ply_of, write_over
from fastness.store.naming import Naming
from fastness.store.opening import Store
from fastness.store.shelf_transfer import forget
from fastness.store.students import find_student, forms, student_named
from fastness.store.tables import Alias, Game, Group, Lesson, Student

__all__ = ["NOBODY", "Erasure", "erase_student"]


@dataclass(frozen=True, slots=True)
class Erasure:
    """The name that was erased, and what else there is to say of it, a sentence each."""

    name: str
    told: tuple[str, ...]


def erase_student(store: Store, name: str) -> Erasure:
    """Erase a student, the games that no other student played, and what was found in them.

    A game shared with another student stays, with a neutral name. The copies beside the store
    that were made before an upgrade or a restoring are removed, since they hold the name; those
    made elsewhere are the teacher's to remove. Of a name that was erased before, the traces are
    looked for again: so an erasing that was interrupted is finished by the same command.

    Raises:
        StudentError: there is no such student, nor was one erased.
        StoreError: the store cannot be written, or traces are left since it is in use.
    """
    with store.writing() as session:
        student = find_student(session, name)
        if student is not None:
            name = student.name
            _erase(session, student)
        elif erased.number_of(session, name) is None:
            student_named(session, name)
    return Erasure(name, clear(store))


def _erase(session: Session, student: Student) -> None:
    names = {student.name, *(alias.name for alias in student.aliases)}
    others = session.scalars(select(Alias.name).where(Alias.student_id != student.id)).all()
    nobody = f"{NOBODY} {erased.remember(session, names)}"
    seats = {(seat.game_id, seat.colour) for seat in student.seats}
    for seat in list(student.seats):
        if all(one.student_id == student.id for one in seat.game.seats):
            session.delete(seat.game)
    forget(session, student, {form for name in names for form in forms(name)})
    session.flush()
    # What went with a game is gone already.
    session.expire(student)
    session.delete(student)
    session.flush()
    session.expire_all()
    naming = Naming(names, others)
    known = {form for name in names for form in forms(name)}
    for number in session.scalars(select(Game.id).order_by(Game.id)).all():
        game = session.get(Game, number)
        if game is None:
            # It became one with a game before it.
            continue
        sides = [
            side
            for side, tag in SIDES
            if (game.id, side) in seats or forms(game.tags.get(tag, "")) & known
        ]
        _take_out(session, game, sides, naming, nobody)
    _take_out_of_lessons(session, naming, nobody)
    homework_transfer.take_out(session, naming, nobody)
    taught.take_out(session, naming, nobody)


def _take_out(
    session: Session, game: tables.Game, sides: Sequence[Side], naming: Naming, nobody: str
) -> None:
    """Take a name out of a game that stays, and what was said of that one's own moves."""
    told = as_game(game)
    clean = erased.without_name(told, naming, nobody, parts=bool(sides))
    for side in sides:
        clean = erased.without_player(clean, side, naming, nobody)
    for correction in list(game.corrections):
        if any(is_ply_of(game, correction.ply, side) for side in sides):
            session.delete(correction)
        else:
            reason = naming.without(correction.reason, nobody, parts=bool(sides))
            correction.reason = reason
    if clean != told:
        write_over(session, game, clean)


def _take_out_of_lessons(session: Session, naming: Naming, nobody: str) -> None:
    for lesson in session.scalars(select(Lesson)):
        lesson.theme = naming.without(lesson.theme, nobody)[:200]
    for group in session.scalars(select(Group)):
        group.name = naming.without(group.name, nobody)[:200]
        group.club = naming.without(group.club, nobody)[:200]

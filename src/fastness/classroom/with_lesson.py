"""What a class tried is kept with the lesson that was taught: moves and hands, and no name."""

from __future__ import annotations

import datetime

from fastness.classroom.session import ClassSession
from fastness.store import Store, taught
from fastness.store.taught import KeptPosition
from fastness.store.taught_tables import KeptTry


def keep_with_lesson(store: Store, session: ClassSession) -> None:
    """Keep the tries of a class board that a lesson is taught on, as they are now.

    Nothing is kept where none was entered, nor of a class board without a lesson. Notes and titles
    stay where they are. Raises StoreError where the store cannot be written.
    """
    if not session.lesson:
        return
    held = session.held or datetime.date.today()
    positions = tried_in(session)
    with store.writing() as opened:
        taught.keep(opened, session.number, session.lesson, held, positions)


def tried_in(session: ClassSession) -> list[KeptPosition]:
    """The positions of a class board in which something was tried."""
    return [
        KeptPosition(
            one.start,
            one.moves,
            tuple(
                KeptTry(
                    move=tried.move,
                    hands=tried.hands,
                    holds=tried.verdict.holds,
                    firm=tried.verdict.firm,
                )
                for tried in one.tries
            ),
        )
        for one in session.positions
        if one.tries
    ]

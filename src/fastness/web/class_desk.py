"""The class boards that the workbench keeps: the sessions, who follows them, their surveys."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import TypeVar

from pydantic import TypeAdapter

from fastness.classroom.keeping import keep, kept_at
from fastness.classroom.session import BoardPosition, ClassSession
from fastness.classroom.surveyed import Surveyed, look_at
from fastness.classroom.telling import OVER, ClassBoard, ClassTold, tell_board, tell_class
from fastness.classroom.with_lesson import tried_in
from fastness.errors import MissingError
from fastness.language import LanguageName, language
from fastness.web.surveyor import Kept, Surveyor
from fastness.web.topics import Topic

FIRST_DAY = 1_577_836_800
"""The first second of 2020, UTC: numbers of sessions are seconds since then, so that none comes
again and an old link never shows another class."""
KEPT = 30
"""Sessions that are kept; the oldest goes."""
_BOARD, _CLASS = TypeAdapter(ClassBoard), TypeAdapter(ClassTold)
OVER_TOLD = _BOARD.dump_json(OVER).decode()
"""What the class sees of a session that has ended, as a line of JSON."""

A = TypeVar("A")


class ClassDesk:
    """One session and those who follow it; it is changed in the event loop only.

    `of_demo`: it is of the invented club, and goes with it. `turn` is held while a command is
    worked on, so that none is lost where two come at once.
    """

    def __init__(self, session: ClassSession, *, of_demo: bool = False) -> None:
        """At a session."""
        self.session, self.of_demo = session, of_demo
        self.kept = tried_in(session)
        """What is kept with the lesson, where one is taught."""
        self.topic, self.turn, self.over = Topic(), asyncio.Lock(), False
        self._board = ""
        self._told: dict[LanguageName, str] = {}

    def put(self, session: ClassSession) -> None:
        """The session as it is now, and tell those who follow."""
        self.session = session
        self._forget()

    def end(self) -> None:
        """Tell those who follow that it is over."""
        self.over = True
        self._forget()

    def _forget(self) -> None:
        self._board, self._told = "", {}
        self.topic.changed()

    def board(self) -> str:
        """What the class sees, as a line of JSON; made once for all who follow."""
        if self.over:
            return OVER_TOLD
        if not self._board:
            self._board = _BOARD.dump_json(tell_board(self.session)).decode()
        return self._board

    def told(self, code: LanguageName) -> str:
        """Everything for the teacher, as a line of JSON."""
        if code not in self._told:
            self._told[code] = _CLASS.dump_json(tell_class(self.session, language(code))).decode()
        return self._told[code]


class Classes:
    """All sessions of a workbench, in a file if there is a place for it."""

    def __init__(
        self,
        surveyor: Surveyor,
        place: Path | None,
        with_lesson: Callable[[ClassDesk], None] | None = None,
    ) -> None:
        """Kept at `place`; what is tried is kept by `with_lesson` too, where a lesson is taught.

        Raises StoreError where the file there cannot be read.
        """
        self._surveyor, self._place, self._with_lesson = surveyor, place, with_lesson
        self._surveys: Kept[Surveyed] = Kept(64)
        found = kept_at(place) if place else ()
        self._desks = {one.number: ClassDesk(one) for one in found}

    def number(self) -> int:
        """A number that no session had before."""
        return max([int(time.time()) - FIRST_DAY, *(one + 1 for one in self._desks)])

    def all(self, *, of_demo: bool = False) -> list[ClassDesk]:
        """The teacher's own or those of the invented club, the last begun first."""
        return [one for one in reversed(self._desks.values()) if one.of_demo == of_demo]

    def get(self, number: int) -> ClassDesk:
        """The session of this number. Raises MissingError where there is none."""
        desk = self._desks.get(number)
        if desk is None:
            raise MissingError("This class board is no longer there; begin another.")
        return desk

    def add(self, session: ClassSession, *, of_demo: bool = False) -> ClassDesk:
        """Keep one more. Raises StoreError where it cannot be written."""
        desk = self._desks[session.number] = ClassDesk(session, of_demo=of_demo)
        while len(self._desks) > KEPT:
            self._desks.pop(next(iter(self._desks))).end()
        self._keep()
        return desk

    async def change(
        self, number: int, do: Callable[[ClassSession], Awaitable[ClassSession]]
    ) -> ClassDesk:
        """Change a session, after the changes that came before, and tell those who follow.

        Raises MissingError where there is none, StoreError where it cannot be written, and
        whatever `do` raises; then it stays as it was. Where only the lesson's part cannot be
        written, it is changed, and the next change writes that, too.
        """
        desk = self.get(number)
        async with desk.turn:
            session = await do(desk.session)
            if session != desk.session:
                desk.put(session)
                self._keep()
                await self._keep_with_lesson(desk)
        return desk

    async def _keep_with_lesson(self, desk: ClassDesk) -> None:
        """Keep what was tried where that has changed; beside the event loop, as it may wait."""
        session, tried = desk.session, tried_in(desk.session)
        keep_with = self._with_lesson
        if session.lesson and keep_with is not None and tried != desk.kept:
            await self.beside(lambda: keep_with(desk))
            desk.kept = tried

    def end(self, number: int) -> None:
        """End a session. Raises MissingError where there is none."""
        self.get(number)
        self._desks.pop(number).end()
        self._keep()

    def end_demo(self) -> None:
        """End the sessions of the invented club."""
        for desk in self.all(of_demo=True):
            self.end(desk.session.number)

    def look_again(self) -> None:
        """Let all who follow look again, as after links were withdrawn."""
        for desk in self._desks.values():
            desk.topic.changed()

    def _keep(self) -> None:
        if self._place:
            keep(self._place, [one.session for one in self._desks.values() if not one.of_demo])

    async def look(self, position: BoardPosition) -> Surveyed:
        """The survey of a position; worked out once, beside the event loop."""
        key = position.start, position.moves
        return await self._surveys.get(key, self._surveyor.slow, lambda: look_at(position))

    async def beside(self, work: Callable[[], A]) -> A:
        """Work that takes longer, done beside the event loop."""
        return await asyncio.get_running_loop().run_in_executor(self._surveyor.slow, work)

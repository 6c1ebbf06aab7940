"""Another program that speaks UCI, asked for its move and score, and survived whatever it does."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import os
import shutil
import signal
from collections.abc import Coroutine, Sequence
from dataclasses import dataclass
from types import TracebackType
from typing import Any, Self

import chess
import chess.engine

from fastness.errors import AnalyserError, InputError
from fastness.language import marked

NODES, PATIENCE, RESTARTS = 200_000, 20.0, 3
LONGEST_ANSWER = 8_000_000
"""Bytes that a program may write for one answer; what writes more is taken for broken."""
GOODBYE = 2.0
"""Seconds that a program has to end after it is told to quit."""

# What the program complains of is its own affair; whatever matters is told by `AnalyserError`.
logging.getLogger("chess.engine").addHandler(logging.NullHandler())


@dataclass(frozen=True, slots=True)
class Opinion:
    """What the analyser would play (UCI), its line, and its score from the mover's view.

    `centipawns` is None where it announces mate; `mate` counts moves then, below 0 where the side
    to move is mated, and is None otherwise.
    """

    move: str
    centipawns: int | None
    mate: int | None
    line: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Limits:
    """How an analyser is asked: by `nodes`, or by `seconds` where they are given.

    `patience` is how many seconds it is waited for besides, `restarts` how often in all it is
    started again after it failed.
    """

    nodes: int = NODES
    seconds: float | None = None
    patience: float = PATIENCE
    restarts: int = RESTARTS


class Analyser:
    """A program that speaks UCI: started when it is first asked, and again after it failed.

    Use it as a context: at its end the program is told to quit, and ended if it does not.
    """

    def __init__(self, command: Sequence[str], limits: Limits) -> None:
        """Raises InputError where the first word of `command` is no program."""
        program = shutil.which(command[0]) if command else None
        if program is None:
            named = command[0] if command else ""
            raise InputError(
                f'"{named}" is no program that can be started. Give --analyser a path.'
            )
        self._command = [program, *command[1:]]
        self._limits = limits
        self._runner = asyncio.Runner()
        self._running: _Running | None = None
        self.name = ""
        """What the program calls itself, once it was started."""
        self.failures = 0
        self.left_by_force = False
        """Whether the program had to be ended since it did not quit."""

    @property
    def given_up(self) -> bool:
        """Whether it failed more often than it may be started again."""
        return self.failures > self._limits.restarts

    def ask(self, fen: str, only: str | None = None) -> Opinion:
        """Its move and score, or its score of the move `only` (UCI).

        Raises:
            AnalyserError: it could not be started, did not answer in time, ended, or made no
                sense. It is ended then, and started again when it is asked again, unless it is
                given up.
        """
        if self.given_up:
            raise AnalyserError(marked("it was given up"))
        try:
            return self._run(self._answer(chess.Board(fen), only))
        except AnalyserError:
            self.failures += 1
            self._end()
            raise

    def close(self) -> None:
        """Tells the program to quit, and ends it if it does not."""
        self._end(kindly=True)

    def _run(self, work: Coroutine[Any, Any, Opinion]) -> Opinion:
        # What goes wrong in reading its output is seen as an answer that does not come.
        self._runner.get_loop().set_exception_handler(lambda _loop, _context: None)
        return self._runner.run(work)

    async def _answer(self, board: chess.Board, only: str | None) -> Opinion:
        patience = self._limits.patience + (self._limits.seconds or 0)
        try:
            async with asyncio.timeout(patience):
                if self._running is None:
                    self._running = await _Running.started(self._command)
                    await self._running.initialize()
                    self.name = self._running.id.get("name", "")
                self._running.heard = 0
                return await self._running.opinion(board, self._limits, only)
        except TimeoutError:
            raise AnalyserError(
                marked("no answer within {seconds} s"), seconds=f"{patience:g}"
            ) from None
        except chess.engine.EngineTerminatedError:
            raise _how_it_ended(self._running) from None
        except chess.engine.EngineError as error:
            raise AnalyserError(
                marked("its answer made no sense: {what}"), what=_short(error)
            ) from error
        except OSError as error:
            raise AnalyserError(
                marked("it could not be started: {what}"), what=error.strerror or error
            ) from error

    def _end(self, *, kindly: bool = False) -> None:
        running, self._running = self._running, None
        if running is not None:
            left = self._runner.run(running.end(kindly=kindly))
            self.left_by_force = self.left_by_force or (kindly and not left)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._end(kindly=error is None)
        self._runner.close()


class _Running(chess.engine.UciProtocol):
    """The program while it runs, in a process group of its own."""

    heard = 0
    too_much = False

    @classmethod
    async def started(cls, command: list[str]) -> _Running:
        _, running = await cls.popen(command, setpgrp=True)
        return running

    def pipe_data_received(self, fd: int, data: bytes | str) -> None:
        if self.too_much:
            return
        raw = data.encode() if isinstance(data, str) else data
        self.heard += len(raw)
        if self.heard > LONGEST_ANSWER:
            self.too_much = True
            self._kill()
            return
        # A line at a time: the client takes quadratic time over many lines at once.
        for line in raw.splitlines(keepends=True):
            super().pipe_data_received(fd, line)

    async def opinion(self, board: chess.Board, limits: Limits, only: str | None) -> Opinion:
        limit = (
            chess.engine.Limit(time=limits.seconds)
            if limits.seconds is not None
            else chess.engine.Limit(nodes=limits.nodes)
        )
        # A game of its own for each question, so that no answer depends on those before.
        answer = await self.play(
            board,
            limit,
            game=object(),
            info=chess.engine.INFO_SCORE | chess.engine.INFO_PV,
            root_moves=[chess.Move.from_uci(only)] if only else None,
        )
        return _opinion(board, answer, only)

    async def end(self, *, kindly: bool) -> bool:
        """Ends the program; False if it had to be ended by force."""
        left = False
        if kindly and not self.returncode.done():
            with contextlib.suppress(TimeoutError, OSError, chess.engine.EngineError):
                async with asyncio.timeout(GOODBYE):
                    await self.quit()
                left = True
        self._kill()
        if self.transport is not None:
            self.transport.close()
        with contextlib.suppress(TimeoutError):
            async with asyncio.timeout(GOODBYE):
                await asyncio.shield(self.returncode)
        return left

    def _kill(self) -> None:
        """Ends the program and whatever it has started itself."""
        if self.transport is None:
            return
        with contextlib.suppress(ProcessLookupError, PermissionError):
            if hasattr(os, "killpg"):
                os.killpg(self.transport.get_pid(), signal.SIGKILL)
            else:
                self.transport.kill()


def _opinion(board: chess.Board, answer: chess.engine.PlayResult, only: str | None) -> Opinion:
    move, score = answer.move, answer.info.get("score")
    if move is None or move not in board.legal_moves:
        raise AnalyserError(marked("it named no legal move"))
    if only and move.uci() != only:
        raise AnalyserError(
            marked("it was asked about {asked} and answered {answered}"),
            asked=only,
            answered=move.uci(),
        )
    if score is None:
        raise AnalyserError(marked("it gave no score"))
    line = tuple(one.uci() for one in answer.info.get("pv", []))
    relative = score.relative
    return Opinion(
        move=move.uci(),
        centipawns=relative.score(),
        mate=relative.mate(),
        line=line if line[:1] == (move.uci(),) else (move.uci(),),
    )


def _how_it_ended(running: _Running | None) -> AnalyserError:
    if running is not None and running.too_much:
        return AnalyserError(
            marked("it wrote more than {number} megabytes without an answer"),
            number=LONGEST_ANSWER // 1_000_000,
        )
    code = running.returncode.result() if running and running.returncode.done() else 0
    if code < 0:
        return AnalyserError(marked("it ended by signal {number}"), number=-code)
    return AnalyserError(marked("it ended with status {number}"), number=code)


def _short(error: Exception) -> str:
    text = "".join(letter if letter.isprintable() else "\ufffd" for letter in str(error))
    return text if len(text) <= 120 else f"{text[:117]}..."

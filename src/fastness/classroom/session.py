"""A session at the class board as plain data: its positions, the tries, and what the class sees."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

import chess

from fastness.errors import MissingError
from fastness.language import LANGUAGES, Language, LanguageName, language
from fastness.publish.marks import Marks

Words = dict[LanguageName, str]
"""A text in each language, so that it can be told without asking the survey again."""

Theme = Literal["system", "light", "dark"]
Origin = Literal["own", "week", "twin", "exercise"]
What = Literal["position", "side", "marks", "try", "answer", "play"]
State = Literal["open", "decided", "not settled"]
"""How far playing on is: the loss is not on the board yet, it is and stays, or nothing stays lost
as far as was looked."""


NO_MARKS = Marks((), (), (), ())


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the survey says of a move: whether it holds, in a sentence, and the line that shows it.

    `firm`: the verdict is the same one move deeper. `line` (UCI) begins with the move itself.
    """

    holds: bool
    firm: bool
    told: Words
    line: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Try:
    """A move that the class proposed, its verdict, and the hands counted for it."""

    number: int
    move: str
    verdict: Verdict
    hands: int = 0


@dataclass(frozen=True, slots=True)
class Play:
    """A student plays on against the refutation of a try.

    `line` (UCI, from the position) ends where the student is to move; its first `begun` moves
    were the try and its refutation. `told` says what is settled and what is not.
    """

    number: int
    line: tuple[str, ...]
    begun: int
    state: State
    told: Words


@dataclass(frozen=True, slots=True)
class Shown:
    """What the class sees: the position after the first `step` moves of a line, and no more.

    `number` is that of a try, or the place of an answer among the answers, from 1. The sentence
    `told` is shown only where `said`.
    """

    what: What = "position"
    number: int = 0
    line: tuple[str, ...] = ()
    step: int = 0
    told: Words = field(default_factory=dict)
    said: bool = False
    marks: Marks = NO_MARKS


@dataclass(frozen=True, slots=True)
class BoardPosition:
    """A position for the class.

    `fen` is where it stands, `moves` (UCI) how it came there from `start`, so that a trade in
    progress is judged from its start. `origin` and `of` say where it is from: a week's position or
    an exercise by its number. `asked` is the question of an exercise, `note` the teacher's.
    """

    number: int
    fen: str
    start: str
    moves: tuple[str, ...] = ()
    origin: Origin = "own"
    of: int = 0
    asked: Words = field(default_factory=dict)
    note: str = ""
    tries: tuple[Try, ...] = ()
    play: Play | None = None


@dataclass(frozen=True, slots=True)
class ClassSession:
    """One session: what is prepared, and where it is.

    `language`, `theme` and `turned` are those of the class's screen; `next` is the number of the
    next position or try. `lesson` names the lesson that is taught, if one is, and `held` the day.
    No student is named in it.
    """

    number: int
    title: str
    positions: tuple[BoardPosition, ...]
    current: int
    language: LanguageName = "en"
    theme: Theme = "system"
    turned: bool = False
    shown: Shown = Shown()
    next: int = 1
    lesson: str = ""
    held: datetime.date | None = None

    @property
    def at(self) -> BoardPosition:
        """The position that is worked on."""
        return self.position(self.current)

    def position(self, number: int) -> BoardPosition:
        """A position by its number. Raises MissingError where it is not there."""
        for one in self.positions:
            if one.number == number:
                return one
        raise MissingError(f"The class board has no position {number}; it may have been removed.")


def try_of(position: BoardPosition, number: int) -> Try:
    """A try by its number. Raises MissingError where it is not there."""
    for one in position.tries:
        if one.number == number:
            return one
    raise MissingError(f"There is no try {number} in this position; it may have been removed.")


def with_position(session: ClassSession, changed: BoardPosition) -> ClassSession:
    """The session with a position in the place of the one of its number."""
    positions = tuple(changed if one.number == changed.number else one for one in session.positions)
    return replace(session, positions=positions)


def board_after(fen: str, line: Sequence[str]) -> chess.Board:
    """The board after some moves (UCI)."""
    board = chess.Board(fen)
    for uci in line:
        board.push_uci(uci)
    return board


def in_each_language(say: Callable[[Language], str]) -> Words:
    """A text in every language there is."""
    return {code: say(language(code)) for code in LANGUAGES}

"""What an exercise is: a proved position, a question about it, and where it came from."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from fastness.core.shapes import MoveVerdict, Survey

Kind = Literal["which unit", "every move", "better way", "why it fails", "is it safe"]
"""The question asked; a twin asks the same question with one detail changed."""
KINDS: tuple[Kind, ...] = ("which unit", "every move", "better way", "why it fails", "is it safe")

Level = Literal["plain", "club", "stretch"]
LEVELS: tuple[Level, ...] = ("plain", "club", "stretch")

Made = Literal["game", "twin", "composed"]


def verdict_of(survey: Survey, uci: str) -> MoveVerdict:
    """What a survey says of a move (UCI); raises KeyError where it is not legal."""
    for move in survey["moves"]:
        if move["uci"] == uci:
            return move
    raise KeyError(uci)


@dataclass(frozen=True, slots=True)
class Source:
    """Where a position came from.

    `game` names the game for the teacher, with its file or its place in the store; it is empty
    where the position was composed. `ply` counts from 1 and is that of the move to be played.
    `of` is the FEN of the position that a twin was made from.
    """

    made: Made = "game"
    game: str = ""
    ply: int = 0
    of: str = ""


@dataclass(frozen=True, slots=True)
class Proved:
    """A position whose answers are firm.

    `survey` is ranked and has each move's `firm`. `firm_units`: the unsafe units are the same
    ones when looked at one move deeper. `replies`: for moves that fall, the opponent's moves that
    win something afterwards, best first, as far as they are firm; by the move in UCI notation.
    `unsettled_replies` are those that win something at one reach and not at the other.
    `firm_better`: the better ways are clearly ahead one move deeper and with more nodes as well.
    """

    survey: Survey
    firm_units: bool
    replies: dict[str, tuple[str, ...]]
    source: Source = Source()
    unsettled_replies: dict[str, tuple[str, ...]] = field(default_factory=dict)
    firm_better: bool = False

    @property
    def fen(self) -> str:
        """The position."""
        return self.survey["fen"]

    def verdict(self, uci: str) -> MoveVerdict:
        """What the survey says of a move; raises KeyError where it is not legal."""
        return verdict_of(self.survey, uci)


@dataclass(frozen=True, slots=True)
class Exercise:
    """A question about a proved position, with its right answers.

    `asked` is the move that the question is about (UCI), for "why it fails" and "is it safe".
    `accepted` are squares for "which unit" (none where nothing is unsafe), UCI moves for "every
    move" and "better way", the opponent's UCI replies for "why it fails", and "yes" or "no" for
    "is it safe". Answers in `not_judged` count neither for nor against anyone.
    """

    kind: Kind
    proved: Proved
    accepted: tuple[str, ...]
    not_judged: tuple[str, ...] = ()
    asked: str | None = None

    @property
    def fen(self) -> str:
        """The position."""
        return self.proved.fen

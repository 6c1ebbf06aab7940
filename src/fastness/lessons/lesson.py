"""A lesson as it was read: prose, positions, and the claims about them, each with its line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fastness.core.shapes import Mechanism, Way

Worth = int | Literal["mate", "none"]
"""What a danger or a line is claimed to be worth: centipawns, mate or nothing."""


@dataclass(frozen=True, slots=True)
class Place:
    """A position: `moves` (UCI) from the FEN `start` lead to `fen`; `line` counts from 1."""

    line: int
    start: str
    moves: tuple[str, ...]
    fen: str


@dataclass(frozen=True, slots=True)
class Claim:
    """What one line of a block says: `text` as it is written; `line` counts from 1."""

    line: int
    text: str


@dataclass(frozen=True, slots=True)
class Safety(Claim):
    """``unsafe: c6`` or ``safe: d4``: the units on `squares` can be won, or cannot."""

    squares: tuple[str, ...]
    unsafe: bool


@dataclass(frozen=True, slots=True)
class Keeps(Claim):
    """``holds: Be7, Nf6``: each of these moves (UCI) keeps the material."""

    moves: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AllThatKeep(Claim):
    """``these are all: Be7, Nf6`` or ``only: Be7``: these moves (UCI) and no others hold."""

    moves: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Loses(Claim):
    """``falls: Qxg5 because Nxg5``: a move (UCI) falls, and `because` refutes it, if given."""

    move: str
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Better(Claim):
    """``better ways: exd5 (capture)``: each move (UCI) is one of the better ways, by that way."""

    moves: tuple[tuple[str, Way | None], ...]


@dataclass(frozen=True, slots=True)
class Threatened(Claim):
    """``danger: 3``: what the opponent wins if the side to move passes."""

    worth: Worth


@dataclass(frozen=True, slots=True)
class FallsBy(Claim):
    """``mechanism: c6 pin``: the unit on `square` can be won, and this is why."""

    square: str
    mechanism: Mechanism


@dataclass(frozen=True, slots=True)
class Variation(Claim):
    """``line: Nxe5 Nxe5 wins 1``: legal moves (UCI) from the position, after a pass if `passes`.

    `wins`: what the side that plays the first of them wins by force, if that is claimed; `mate`
    may be given by either side.
    """

    passes: bool
    moves: tuple[str, ...]
    wins: Worth | None


@dataclass(frozen=True, slots=True)
class Twin(Claim):
    """``twin: FEN better Be7``: one detail is different there, and this move (UCI) is better."""

    fen: str
    better: str


@dataclass(frozen=True, slots=True)
class OwnMarks:
    """``marks: ring e5, guard d6-e5``: what the teacher draws on the board; nothing is claimed.

    `rings` and `corners` are squares, `attacks`, `guards` and `lines` pairs of squares (from, to),
    `numbers` squares with the number that stands there; `words` are written beside the board.
    """

    line: int
    text: str
    rings: tuple[str, ...] = ()
    corners: tuple[str, ...] = ()
    attacks: tuple[tuple[str, str], ...] = ()
    guards: tuple[tuple[str, str], ...] = ()
    lines: tuple[tuple[str, str], ...] = ()
    numbers: tuple[tuple[str, int], ...] = ()
    words: str = ""


@dataclass(frozen=True, slots=True)
class Fault:
    """What cannot be read, where (`line` and `column` count from 1), and what would be right."""

    line: int
    column: int
    message: str


@dataclass(frozen=True, slots=True)
class Prose:
    """Text outside the blocks, untouched."""

    line: int
    text: str


@dataclass(frozen=True, slots=True)
class Block:
    """A position block: `text` as it is written; no place where that cannot be read."""

    line: int
    text: str
    place: Place | None
    claims: tuple[Claim, ...]
    marks: tuple[OwnMarks, ...] = ()


@dataclass(frozen=True, slots=True)
class Lesson:
    """The parts of a file in their order, whose texts together are the file's, and its faults."""

    parts: tuple[Prose | Block, ...]
    faults: tuple[Fault, ...]

    @property
    def blocks(self) -> tuple[Block, ...]:
        """The position blocks."""
        return tuple(part for part in self.parts if isinstance(part, Block))

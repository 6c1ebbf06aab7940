"""What comes out of a PGN file: games, and problems with them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Kind = Literal["notice", "error"]


@dataclass(frozen=True, slots=True)
class Game:
    """The main line of one game, as far as it could be read.

    `number` counts from 1 in its file and `line` is the line where it begins. `moves` are UCI,
    castling as the king's move of two squares. `clocks` holds the seconds left after each move
    (`%clk`) and `spent` the seconds spent on it (`%emt`), None where not recorded. `result` is
    one of "1-0", "0-1", "1/2-1/2" and "*". `beside` is what stood before the first move and after
    each, as PGN: comments (times left out), numeric glyphs and variations; empty if nothing did.
    """

    file: str
    number: int
    line: int
    tags: Mapping[str, str]
    start_fen: str
    moves: tuple[str, ...]
    clocks: tuple[float | None, ...]
    result: str
    spent: tuple[float | None, ...] = ()
    beside: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Problem:
    """Something wrong with a file or a game. The message is a full sentence with its place.

    An "error" has cost something (moves, a game, the rest of a file); a "notice" has not.
    """

    file: str
    game: int | None
    line: int | None
    message: str
    kind: Kind

    @property
    def code(self) -> str:
        """A short fixed name of what has suffered, for programs: the "game" or the "file"."""
        return "file" if self.game is None else "game"

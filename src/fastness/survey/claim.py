"""The kinds of claim that a survey makes: facts that can be checked again, and no words.

Squares are named in algebraic notation, moves in UCI notation (a pass is ``0000``), lines begin
on the position of the survey's `Reach`, amounts are centipawns by its table of values.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fastness.core.shapes import Danger, Side, UnitName, Way

Loss = int | Literal["mate"]
"""What is lost: centipawns, or the king."""
Gain = int | Literal["mates"]
"""What a move that holds nets: centipawns, negative where it gives a little up, or mate."""
Line = tuple[str, ...]
"""UCI moves from the survey's position."""
Squares = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class UnitAt:
    """A unit and where it stands in the survey's position."""

    kind: UnitName
    square: str


@dataclass(frozen=True, slots=True)
class Reach:
    """The position, and how far it was searched; every survey's first claim.

    `reach` counts the opponent's moves.
    """

    fen: str
    side: Side
    reach: int
    values: str


@dataclass(frozen=True, slots=True)
class Mated:
    """The side to move is mated; its king stands on `king`."""

    king: str


@dataclass(frozen=True, slots=True)
class Stalemated:
    """The side to move has no legal move and is not in check."""


@dataclass(frozen=True, slots=True)
class InCheck:
    """The king on `king` is in check from the units on `checkers`."""

    king: str
    checkers: Squares


@dataclass(frozen=True, slots=True)
class Owed:
    """The side to move has lost this much in the run of captures that led here."""

    centipawns: int


@dataclass(frozen=True, slots=True)
class InDanger:
    """If the side to move passes, the opponent wins at the full reach; `by_reach` from reach 1."""

    by_reach: tuple[Danger, ...]


@dataclass(frozen=True, slots=True)
class NothingUnsafe:
    """A pass loses less than half a pawn at the full reach; `by_reach` from reach 1."""

    by_reach: tuple[Danger, ...]


@dataclass(frozen=True, slots=True)
class Unsafe:
    """A unit of the side to move falls by `line` after a pass, seen from `reach` on.

    `together`: the other units of which one falls instead if this one is saved; empty where it
    is unsafe by itself. `after`: it falls only in a line in which something worth more, itself
    unsafe, has fallen before.
    """

    unit: UnitAt
    reach: int
    loses: Loss
    line: Line
    together: Squares
    after: bool


@dataclass(frozen=True, slots=True)
class Taking:
    """A unit of the opponent's that the side to move wins now by `line`; else as `Unsafe`."""

    unit: UnitAt
    reach: int
    loses: Loss
    line: Line
    together: Squares
    after: bool


@dataclass(frozen=True, slots=True)
class WonBack:
    """A unit of either side can be taken at `reach`, but as much is regained in `line`."""

    unit: UnitAt
    reach: int
    line: Line


@dataclass(frozen=True, slots=True)
class SafeByTactics:
    """Trying to win a unit of either side wins nothing, as `line` shows."""

    unit: UnitAt
    line: Line


@dataclass(frozen=True, slots=True)
class Cause:
    """Why a unit falls: a mechanism, and the squares that take part (empty if not given)."""

    unit: UnitAt
    mechanism: str
    squares: Squares


@dataclass(frozen=True, slots=True)
class Count:
    """What bears on a unit's square now, pinned units included.

    `behind` and `behind_guards` bear on it only through another unit of their side that does.
    """

    unit: UnitAt
    attackers: Squares
    guards: Squares
    behind: Squares
    behind_guards: Squares


@dataclass(frozen=True, slots=True)
class Promotes:
    """After a pass the opponent promotes on `square` by force; `line`: after another move, too."""

    square: str
    line: Line | None


@dataclass(frozen=True, slots=True)
class NoUnit:
    """There is danger that charges no unit and no promotion square.

    `line` is a falling move with its refutation that shows it; None where all the danger is owed.
    """

    line: Line | None


@dataclass(frozen=True, slots=True)
class Loose:
    """All the units of the side to move that are unguarded and not attacked, the king excepted."""

    units: tuple[UnitAt, ...]


@dataclass(frozen=True, slots=True)
class Holds:
    """After `move` the opponent wins less than half a pawn at the full reach.

    `ways` has the main way first. `blocks` is the line closed: a slider and what it bears on.
    `wins_back`: as much is won back as is taken. `line` is the opponent's best try, if given.
    """

    move: str
    net: Gain
    ways: tuple[Way, ...]
    wins_back: bool
    blocks: Squares
    line: Line | None


@dataclass(frozen=True, slots=True)
class AllHolding:
    """These legal moves hold and no other; `legal` counts all. Empty: nothing holds."""

    moves: tuple[str, ...]
    legal: int


@dataclass(frozen=True, slots=True)
class OnlyMove:
    """One legal move alone holds, of several."""

    move: str


@dataclass(frozen=True, slots=True)
class LeastLost:
    """Nothing holds; these moves lose least, the first of them by `line`."""

    moves: tuple[str, ...]
    loses: Loss
    line: Line


@dataclass(frozen=True, slots=True)
class Zugzwang:
    """Every legal move loses at least half a pawn, though a pass would not."""


@dataclass(frozen=True, slots=True)
class Falls:
    """After `move` the opponent wins something by `line`, which begins with the move.

    `tries` is what a natural try sets out to do (capture, move, block, guard, counterattack);
    None where the move is no natural try. `reason` is the main reason why it fails, with the
    `squares` that take part; None where none is given. `drops` are the squares of what it loses.
    """

    move: str
    loses: Loss
    line: Line
    tries: str | None
    reason: str | None
    squares: Squares
    drops: Squares


@dataclass(frozen=True, slots=True)
class Others:
    """The falling moves that are no natural tries: what the least and the most of them lose."""

    moves: tuple[str, ...]
    least: Loss
    most: Loss


@dataclass(frozen=True, slots=True)
class Better:
    """The advised moves, by rank; made only where the moves were ranked.

    `ranks` has the rank of each; moves of one rank are as good as each other.
    """

    moves: tuple[str, ...]
    ranks: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class AtAPrice:
    """The moves that hold and are not advised, by rank; made only where moves were ranked."""

    moves: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BestMove:
    """One holding move alone has the first rank."""

    move: str


@dataclass(frozen=True, slots=True)
class Price:
    """What a holding move costs or gains, by name; `centipawns` where it is measured."""

    move: str
    kind: Literal["cost", "gain"]
    name: str
    centipawns: int | None
    squares: Squares


@dataclass(frozen=True, slots=True)
class TakingMove:
    """A move that comes out ahead by `net` at the full reach."""

    move: str
    net: Gain


@dataclass(frozen=True, slots=True)
class PerhapsATrade:
    """The side to move can win something, and the moves before the position are not known."""


@dataclass(frozen=True, slots=True)
class CheckedDeeper:
    """Every legal move has the same verdict at `reach`, one more than the full reach."""

    reach: int


@dataclass(frozen=True, slots=True)
class NotFirm:
    """Moves with another verdict at `reach`, one more than the full reach.

    `falls`: they hold here and fall there; `holds`: they fall here and hold there.
    """

    reach: int
    falls: tuple[str, ...]
    holds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ValuesMatter:
    """The tables of values `tables` disagree on some verdict of this position."""

    tables: tuple[str, ...]


Claim = (
    Reach
    | Mated
    | Stalemated
    | InCheck
    | Owed
    | InDanger
    | NothingUnsafe
    | Unsafe
    | Taking
    | WonBack
    | SafeByTactics
    | Cause
    | Count
    | Promotes
    | NoUnit
    | Loose
    | Holds
    | AllHolding
    | OnlyMove
    | LeastLost
    | Zugzwang
    | Falls
    | Others
    | Better
    | AtAPrice
    | BestMove
    | Price
    | TakingMove
    | PerhapsATrade
    | CheckedDeeper
    | NotFirm
    | ValuesMatter
)

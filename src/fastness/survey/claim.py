"""The kinds of claim that a survey makes: facts that can be checked again, and no words.

Squares are algebraic, moves UCI (a pass is ``0000``) from the position of `Reach`, in centipawns.
"""

from __future__ import annotations

from dataclasses import dataclass

from fastness.core.shapes import Danger, Side, UnitName
from fastness.survey.firm_claim import CheckedDeeper, FallsDeeper, NotFirm, ValuesMatter
from fastness.survey.move_claim import (
    Aim,
    AllHolding,
    AtAPrice,
    BestMove,
    Better,
    Falls,
    Gain,
    Holds,
    IfCarriedOut,
    IfCheckMet,
    IfOtherTaken,
    IfReplied,
    IfTaken,
    KeepsTheRest,
    LeastLost,
    Line,
    Loss,
    MatesInstead,
    MoreIsLost,
    MoveClaim,
    OnlyMove,
    Price,
    Squares,
    TakesInVain,
    TakingMove,
    Zugzwang,
)
from fastness.survey.stake_claim import AtStake
from fastness.survey.trade_claim import Owed, PerhapsATrade

__all__ = [
    "Aim",
    "AllHolding",
    "AtAPrice",
    "AtStake",
    "BestMove",
    "Better",
    "Cause",
    "CheckedDeeper",
    "Claim",
    "Count",
    "Falls",
    "FallsDeeper",
    "Gain",
    "Holds",
    "IfCarriedOut",
    "IfCheckMet",
    "IfOtherTaken",
    "IfReplied",
    "IfTaken",
    "InCheck",
    "InDanger",
    "KeepsTheRest",
    "LeastLost",
    "Line",
    "Loose",
    "Loss",
    "Mated",
    "MatesInstead",
    "MoreIsLost",
    "NoUnit",
    "NotFirm",
    "NothingUnsafe",
    "OnlyMove",
    "Owed",
    "PerhapsATrade",
    "Price",
    "Promotes",
    "Reach",
    "Retaken",
    "SafeByTactics",
    "Squares",
    "Stalemated",
    "TakesInVain",
    "Taking",
    "TakingMove",
    "UnitAt",
    "Unsafe",
    "ValuesMatter",
    "WonBack",
    "Zugzwang",
]


@dataclass(frozen=True, slots=True)
class UnitAt:
    """A unit and where it stands in the survey's position."""

    kind: UnitName
    square: str


@dataclass(frozen=True, slots=True)
class Reach:
    """The position and the opponent's moves searched (`reach`); every survey's first claim."""

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
class InDanger:
    """If the side to move passes, the opponent wins at the full reach; `by_reach` from reach 1.

    `line`, where a shorter reach shows more: a falling move and what refutes it, winning as much.
    """

    by_reach: tuple[Danger, ...]
    line: Line | None = None


@dataclass(frozen=True, slots=True)
class NothingUnsafe:
    """A pass loses less than half a pawn at the full reach; `by_reach` from reach 1."""

    by_reach: tuple[Danger, ...]


@dataclass(frozen=True, slots=True)
class Unsafe:
    """A unit of the side to move falls by `line` after a pass, seen from `reach` on.

    `together`: the other units of which one falls instead if this one is saved. `after`: it falls
    only in a line in which something worth more, itself unsafe, has fallen before.
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
class Retaken:
    """Taking back what takes a unit does not help: by `line` it loses `loses`, no less than that.

    `line` is the threat, the best way to take back, and the answer to that; `loses` is counted
    from before the unit is taken.
    """

    unit: UnitAt
    line: Line
    loses: Loss


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
    """After a pass the opponent promotes on `square` by force, as `line` shows."""

    square: str
    line: Line


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
    | Retaken
    | AtStake
    | WonBack
    | SafeByTactics
    | Cause
    | Count
    | Promotes
    | NoUnit
    | Loose
    | PerhapsATrade
    | CheckedDeeper
    | NotFirm
    | FallsDeeper
    | ValuesMatter
    | MoveClaim
)

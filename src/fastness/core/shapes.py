"""The shapes of what the core answers: plain dictionaries, the same as the published JSON.

Values are in centipawns, moves in UCI notation (a pass is ``0000``, castling the king's move of
two squares), squares in algebraic notation. `docs/schema/survey.schema.json` is the contract.
"""

from __future__ import annotations

from typing import Literal, TypedDict

Side = Literal["white", "black"]
UnitName = Literal["pawn", "knight", "bishop", "rook", "queen", "king"]
Status = Literal[
    "safe",
    "safe by tactics",
    "won back",
    "unsafe together",
    "unsafe",
    "in check",
    "not judged",
]
Way = Literal["capture", "move", "block", "guard", "counterattack", "other"]

ReasonName = Literal[
    "allows mate",
    "a pawn promotes",
    "the blocker falls",
    "guard pinned",
    "less valuable attacker",
    "outnumbered still",
    "two units attacked",
    "walks into a capture",
    "uncovers another unit",
    "answered with a bigger threat",
    "threat too small",
    "does not address it",
    "lost further on",
]
Mechanism = Literal[
    "unguarded",
    "less valuable attacker",
    "outnumbered",
    "pinned guard",
    "overloaded guard",
    "removal of the guard",
    "fork",
    "pin",
    "skewer",
    "discovered attack",
    "discovered check",
    "double check",
    "trapped",
    "back rank",
    "mate threat",
    "promotion",
    "interference",
    "in-between move",
    "desperado",
]
"""Why a unit falls; `docs/mechanisms.md` defines each name."""

Line = list[str]
"""UCI moves from the survey's position; a pass is ``0000``."""

Danger = int | Literal["mate", "mated"]
"""What the opponent wins after a pass: centipawns (negative where the opponent, who must move,
loses something), ``mate``, or ``mated`` where every move lets the opponent be mated."""

Net = int | Literal["mates", "mated"]
"""The mover's balance change after a move: centipawns, or mate given or suffered."""


class Cause(TypedDict):
    """A mechanism by which a unit falls, and the squares that take part in it."""

    mechanism: Mechanism
    squares: list[str]


class Unit(TypedDict):
    """A piece or pawn and whether it is safe.

    `reach` (opponent moves), `loses` (centipawns, ``mate`` for the king) and `line` (the proof)
    are None for a safe unit. `together` are squares; `attackers` and `guards` are the squares of
    the units that bear on it now, pinned ones included, x-rays not. `causes` tell why an unsafe
    unit falls, `mechanisms` are their names; both are empty for any other unit.
    """

    square: str
    unit: UnitName
    status: Status
    loose: bool
    reach: int | None
    loses: int | Literal["mate"] | None
    line: Line | None
    together: list[str]
    attackers: list[str]
    guards: list[str]
    mechanisms: list[str]
    causes: list[Cause]


class Reason(TypedDict):
    """One reason why a move falls, with the squares that take part.

    They are those of the board after the move, in the order that `docs/reasons.md` gives.
    """

    reason: ReasonName
    squares: list[str]


class PriceItem(TypedDict):
    """A cost or gain, and the squares that take part.

    `centipawns` is the change of the term of the evaluation that tells it, if one does.
    """

    name: str
    squares: list[str]
    centipawns: int | None


class Price(TypedDict):
    """What a move that holds costs and gains besides."""

    costs: list[PriceItem]
    gains: list[PriceItem]


class Deeper(TypedDict):
    """How a move that holds at the full reach falls one reach deeper: its net, and the line."""

    net: Net
    line: Line


class MoveVerdict(TypedDict):
    """A legal move: what it nets at the full reach, whether it holds, and why.

    `falls_at` is the smallest reach from which it falls at every reach up to the full one, None if
    it holds. `firm` is None when not asked for; `deeper` is None but for a move that holds and is
    not firm, and for all where none holds at either reach. `ways` has the main way first.
    `wins_back`: as much is won back as is taken. `blocks` are the squares of a slider and of what
    it bears on, where the move closes that line. `saves` and `drops` are squares. `line` is the
    move and its refutation, or for a remedy the opponent's best try; None for any other move that
    holds.
    `answer`, of a remedy by counterattack or in another way: the move, the threat carried out all
    the same, and what is ready for it; else None.
    `reason` is the main one of `reasons`, why it falls; None and empty for a move that holds.
    `natural`: a club player would think of it, whatever its verdict.
    `evaluation` (centipawns, the mover's view), `rank` (1 first, ties share), `advised`, `price`
    and `likely` (the move and how play may go on by the evaluation, no proof) are None for a move
    that falls, and where nothing was ranked.
    """

    uci: str
    san: str
    net: Net
    holds: bool
    falls_at: int | None
    firm: bool | None
    deeper: Deeper | None
    ways: list[Way]
    wins_back: bool
    blocks: list[str] | None
    saves: list[str]
    drops: list[str]
    line: Line | None
    answer: Line | None
    reason: ReasonName | None
    reasons: list[Reason]
    natural: bool
    evaluation: Net | None
    rank: int | None
    advised: bool | None
    price: Price | None
    likely: Line | None


class Survey(TypedDict):
    """Everything computed about one position.

    `reach` counts opponent moves. `owed` (centipawns) is what the side to move has lost in the
    run of captures that led here. `danger` is a list by reach 1..N, None in check. `units` are
    all those of the side to move, `takings` the opponent's that could be won now. `promotions` are
    the squares where the opponent would promote by force without taking anything, and
    `promotion_lines` a line for each, which begins with the pass. `best` is the
    move that alone has the first rank. `values_matter`: old and new values of the minor pieces
    give different verdicts. Both are None where nothing was ranked.
    """

    version: int
    fen: str
    side: Side
    in_check: bool
    values: str
    reach: int
    owed: int
    danger: list[Danger] | None
    units: list[Unit]
    takings: list[Unit]
    promotions: list[str]
    promotion_lines: list[Line]
    ranked: bool
    best: str | None
    values_matter: bool | None
    moves: list[MoveVerdict]


class Played(TypedDict):
    """The move played in a game, as a `Look` tells it.

    `retakes`: it captures on the square of the last capture. `drops` are squares.
    """

    uci: str
    san: str
    net: Net | None
    holds: bool
    way: Way | None
    drops: list[str]
    retakes: bool


class Look(TypedDict):
    """One own move of a game: the position before it and what the move played did.

    `ply` counts from 1. `fen` is the position before the move. `danger` is at the full reach
    (None in check), `reach` the smallest reach with danger. `holding` and `legal` count moves.
    `offered`: the move played falls in material but is as good as any by the evaluation at depth,
    None if it holds or if that was not asked. `reply_wins`: the move played falls and the
    opponent's actual next move keeps at least the threshold. `survey` is None when there is
    nothing to see: no danger, nothing to take, and the move played holds; `holding`, `best_net`
    and the net of the move played are then None too. Of the moves it has those that hold and the
    one played, and every one where none holds.
    """

    ply: int
    side: Side
    fen: str
    in_check: bool
    owed: int
    danger: Danger | None
    reach: int | None
    played: Played
    holding: int | None
    legal: int
    best_net: Net | None
    reply_wins: bool
    offered: bool | None
    survey: Survey | None

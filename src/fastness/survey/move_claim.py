"""The kinds of claim on legal moves; squares, moves, lines and amounts as in `claim`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fastness.core.shapes import Way

Loss = int | Literal["mate"]
"""What is lost: centipawns, or the king."""
Gain = int | Literal["mates"]
"""What a move that holds nets: centipawns, negative where it gives a little up, or mate."""
Line = tuple[str, ...]
"""UCI moves from the survey's position."""
Squares = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Aim:
    """What a way is directed at: the unit taken, those guarded anew, those attacked in turn.

    For a unit that moves away: the others in danger that it guards as before. A king attacked in
    turn is in check; any other unit attacked could be taken next at a gain. `by` is what comes to
    guard or attack them all, where that is another unit whose line the move opens.
    """

    way: Way
    squares: Squares
    by: str = ""


@dataclass(frozen=True, slots=True)
class Holds:
    """After `move` the opponent wins less than half a pawn at the full reach.

    `ways` has the main way first. `blocks` is the line closed: a slider and what it bears on.
    `wins_back`: as much is won back as is taken. `line` is the opponent's best try, if given;
    `answer` is the move, the threat carried out all the same, and what is ready for it, if given.
    `likely` is how play may go on by the evaluation: an opinion; empty where not ranked.
    `evaluation` is the mover's view in centipawns; None where the moves were not ranked, or where
    it is a mate. `aims`: what the ways are directed at, as far as told.
    `guarded_by` is what alone guards a unit that moves away to where it is attacked.
    """

    move: str
    net: Gain
    evaluation: int | None
    ways: tuple[Way, ...]
    wins_back: bool
    blocks: Squares
    line: Line | None
    answer: Line | None = None
    likely: Line = ()
    aims: tuple[Aim, ...] = ()
    guarded_by: Squares = ()


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
    """Nothing holds; these moves lose least to `reach`, the first by `line`, more by `others`."""

    moves: tuple[str, ...]
    loses: Loss
    line: Line
    reach: int
    others: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class KeepsTheRest:
    """After `move`, which loses least, the rest is in danger at the end of its line, and kept.

    `line` is that of the move (`plies` half-moves), then what keeps the rest and what may follow.
    """

    move: str
    line: Line
    plies: int


@dataclass(frozen=True, slots=True)
class MoreIsLost:
    """At the end of `line`, by which `move` loses least, no move keeps what is left."""

    move: str
    line: Line


@dataclass(frozen=True, slots=True)
class Zugzwang:
    """Every legal move loses at least half a pawn, though a pass would not."""


@dataclass(frozen=True, slots=True)
class Falls:
    """After `move` the opponent wins something by `line`, which begins with the move.

    `tries` is what a natural try sets out to do (capture, move, block, guard, counterattack);
    None where the move is no natural try. `reason` is the main reason why it fails, with the
    `squares` that take part; None where none is given. `drops` are the squares of what it loses,
    `saves` of what was in danger and no longer is, both in the survey's position.
    """

    move: str
    loses: Loss
    line: Line
    tries: str | None
    reason: str | None
    squares: Squares
    drops: Squares
    saves: Squares = ()


@dataclass(frozen=True, slots=True)
class TakesInVain:
    """In the line of the natural try `move`, or at its end, a capture promises to win back.

    In the line it takes back at once what the answer takes. `move` is a pass where the line is that
    by which a unit falls, and the capture takes back at its end. `line` is the line up to there
    (`plies` half-moves), the capture, and the answer to it, after which less than half a pawn is
    won by the capture.
    """

    move: str
    line: Line
    plies: int


@dataclass(frozen=True, slots=True)
class MatesInstead:
    """Where the line by which `move` falls goes on otherwise, the opponent could mate.

    `line` is that line up to there, and the move that mates.
    """

    move: str
    line: Line


@dataclass(frozen=True, slots=True)
class Better:
    """The advised moves, by rank; made only where the moves were ranked.

    `ranks` has the rank of each; moves of one rank are as good as each other.
    """

    moves: tuple[str, ...]
    ranks: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class IfTaken:
    """After `move` the unit that moved can be taken, but that loses something by `line`.

    Or it wins nothing, though the exchange count promises half a pawn or more. `line` is the move,
    the best way to take, and what answers it; taking that stalemates needs no answer.
    """

    move: str
    line: Line


@dataclass(frozen=True, slots=True)
class IfOtherTaken:
    """After `move` a capture elsewhere promises half a pawn or more, and wins nothing by `line`.

    It promises that by the exchange count. `line` is the move, the capture, and the best against
    it.
    """

    move: str
    line: Line


@dataclass(frozen=True, slots=True)
class IfReplied:
    """After `move` the opponent may play what refutes another move, and wins nothing by it.

    `line` is the move, that reply, and the best against it.
    """

    move: str
    line: Line


@dataclass(frozen=True, slots=True)
class IfCheckMet:
    """After `move`, a check, and an answer to it the opponent wins nothing, as `line` shows.

    `line` is the move, the answer, and the best against it.
    """

    move: str
    line: Line


@dataclass(frozen=True, slots=True)
class IfCarriedOut:
    """After `move` the threat can still be played, but wins nothing, as `line` shows.

    `line` is the move, the first move of what proved the danger (where it takes, the best way to
    take there), and the best against it, which takes, gives check, or moves what is in danger.
    Where that is the answer in the proof too, or does nothing, the threat goes on; `plies`
    half-moves of the line are the move, the threat and what is answered before its last move.
    `late`: the threat is played only where the line ends by which the move wins something, or
    after what follows a check.
    """

    move: str
    line: Line
    plies: int
    late: bool = False


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


MoveClaim = (
    Holds
    | AllHolding
    | OnlyMove
    | LeastLost
    | KeepsTheRest
    | MoreIsLost
    | Zugzwang
    | Falls
    | Better
    | IfCarriedOut
    | IfCheckMet
    | IfOtherTaken
    | IfTaken
    | AtAPrice
    | BestMove
    | Price
    | TakesInVain
    | TakingMove
    | MatesInstead
    | IfReplied
)
"""What a survey claims of legal moves."""

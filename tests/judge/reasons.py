"""Why a move falls: what must be so on the board and in its refutation for each reason."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import chess

from tests.judge.board import THRESHOLD, bears, best_exchange, lined_up, on_paper, through, worth_on
from tests.judge.played import Played, Step, played
from tests.judge.worth import Position

SLIDERS = (chess.BISHOP, chess.ROOK, chess.QUEEN)
ENDANGERED = ("unsafe", "unsafe together", "in check")


@dataclass(frozen=True, slots=True)
class Refuted:
    """A move with its refutation: `line` begins with the move itself."""

    position: Position
    line: Played

    @property
    def own(self) -> chess.Color:
        return self.position.own

    @property
    def first(self) -> Step:
        return self.line.steps[0]

    @property
    def replies(self) -> list[Step]:
        """The opponent's steps."""
        return [step for step in self.line.steps if step.side != self.own]

    @property
    def takings(self) -> list[Step]:
        """The opponent's captures."""
        return [step for step in self.replies if step.taken is not None]

    @property
    def charged(self) -> set[int]:
        """Where the units in danger stand."""
        return {
            chess.parse_square(unit["square"])
            for unit in self.position.survey["units"]
            if unit["status"] in ENDANGERED
        }


def less_valuable_attacker(one: Refuted) -> bool:
    """A unit is taken by one that is worth less."""
    return any(
        step.taken is not None
        and worth_on(step.before, step.move.from_square) < worth_on(step.before, step.taken)
        for step in one.takings
    )


def outnumbered_still(one: Refuted) -> bool:
    """A unit is taken on a square where the exchange count gains, more on it than guard it."""
    for step in one.takings:
        assert step.taken is not None
        guards = through(step.before, one.own, step.taken)
        attackers = through(step.before, not one.own, step.taken)
        gains = best_exchange(step.before, step.taken, not one.own) >= THRESHOLD
        free = {guard for guard in guards if not step.before.is_pinned(one.own, guard)}
        if gains and len(attackers) > len(free):
            return True
    return False


def guard_pinned(one: Refuted) -> bool:
    """A unit that bears on where one is taken is pinned, to the king or to what is worth as much
    as what takes."""
    for step in one.takings:
        assert step.taken is not None
        taker = worth_on(step.before, step.move.from_square)
        for board in (step.before, step.after):
            for pin in lined_up(board, not one.own):
                held = worth_on(board, pin.back) >= taker and pin.back != step.taken
                if held and pin.front in bears(board, one.own, step.move.to_square):
                    return True
    return False


def uncovers_another_unit(one: Refuted) -> bool:
    """The move took a guard from where the opponent lands, by leaving or by standing in the way;
    or it opened a line of the opponent's, to what is taken or to the king."""
    before, after, off = one.first.before, one.first.after, one.first.move.from_square
    king = after.king(one.own)
    for at in {step.move.to_square for step in one.replies} | {s.taken for s in one.takings}:
        if at is None:
            continue
        gone = through(before, one.own, at) - through(after, one.own, at)
        if gone or off in through(before, one.own, at):
            return True
    ends = {step.taken for step in one.takings} | {king}
    ends |= {step.move.to_square for step in one.replies}
    sliders = set(chess.SquareSet(before.occupied_co[not one.own]))
    sliders |= {step.move.to_square for step in one.replies}
    return any(
        end is not None and off in chess.SquareSet.between(slider, end)
        for slider in sliders
        for end in ends
    ) or any(step.move.promotion for step in one.replies)


def walks_into_a_capture(one: Refuted) -> bool:
    """The moved unit is taken on the square it went to."""
    return any(
        step.taken == one.first.move.to_square
        and step.victim in (one.first.move.from_square, one.first.victim)
        for step in one.takings
    )


def the_blocker_falls(one: Refuted) -> bool:
    """The moved unit takes nothing, stands in the way of a slider, there or come there in the
    line, and is taken."""
    to, boards = one.first.move.to_square, [one.first.after, *(s.before for s in one.replies)]
    if one.first.taken is not None or not any(step.taken == to for step in one.takings):
        return False
    for board in boards:
        for slider in chess.SquareSet(board.occupied_co[not one.own]):
            kind = board.piece_type_at(slider)
            bears_on = kind in SLIDERS and to in board.attacks(slider)
            ray = chess.SquareSet.ray(slider, to)
            if bears_on and any(to in chess.SquareSet.between(slider, end) for end in ray):
                return True
    return False


def threat_too_small(one: Refuted) -> bool:
    """The move attacks, checks or takes something, and the refutation does not mind it."""
    after, to = one.first.after, one.first.move.to_square
    news = after.attacks(to) & after.occupied_co[not one.own]
    return bool(news) or after.is_check() or one.first.taken is not None or _opens(one)


def _opens(one: Refuted) -> bool:
    """Whether the move opens a line on something of the opponent's, frees a unit to take it, or
    leaves it to be taken."""
    before, after = one.first.before, one.first.after
    return any(
        through(after, one.own, at) - through(before, one.own, at)
        or _free(after, one.own, at) - _free(before, one.own, at) - {one.first.move.to_square}
        or best_exchange(after, at, one.own) > best_exchange(before, at, one.own)
        for at in chess.SquareSet(after.occupied_co[not one.own])
    )


def _free(board: chess.Board, side: chess.Color, square: int) -> set[int]:
    """The units of `side` that bear on a square and are not pinned."""
    return {unit for unit in bears(board, side, square) if not board.is_pinned(side, unit)}


def answered_with_a_bigger_threat(one: Refuted) -> bool:
    """The reply checks, or attacks something; unless the move attacks, it takes nothing itself
    with gain by the exchange count."""
    if not one.replies:
        return False
    reply = one.replies[0]
    theirs = reply.after.attacks(reply.move.to_square) & reply.after.occupied_co[one.own]
    opened = any(
        best_exchange(reply.after, at, not one.own) >= THRESHOLD
        and best_exchange(reply.before, at, not one.own) < THRESHOLD
        for at in chess.SquareSet(reply.after.occupied_co[one.own])
    )
    threatens = reply.after.is_check() or bool(theirs) or opened
    gains = reply.taken is not None and (
        on_paper(reply.before, reply.move.to_square, reply.move) >= THRESHOLD
    )
    return threatens and (not gains or threat_too_small(one))


def two_units_attacked(one: Refuted) -> bool:
    """Two units at least are in danger or attacked before the move, after it or after a reply."""
    if len(one.charged) > 1:
        return True
    for board in [one.first.before, one.first.after, *(step.after for step in one.replies)]:
        attacked = [
            at
            for at in chess.SquareSet(board.occupied_co[one.own])
            if board.attackers(not one.own, at)
        ]
        if len(attacked) > 1:
            return True
    return False


def allows_mate(one: Refuted) -> bool:
    return one.line.mates(not one.own)


def a_pawn_promotes(one: Refuted) -> bool:
    """The opponent promotes and takes nothing by it."""
    return any(step.move.promotion and step.taken is None for step in one.replies)


def does_not_address_it(one: Refuted) -> bool:
    """What could be won before is won after all, or taken back what was not; or the reply is the
    first move of a threat; or mate, or a promotion."""
    start, other = one.line.start, not one.own
    fallen = {step.victim for step in one.takings}
    could = {at for at in fallen if at is not None and best_exchange(start, at, other) >= THRESHOLD}
    survey = one.position.survey
    tempted = {
        chess.parse_square(unit["square"])
        for unit in survey["units"]
        if unit["status"] not in ("safe", "not judged")
    }
    owed = one.position.bare(other) > one.position.base
    promotes = any(step.move.promotion for step in one.replies)
    kept = bool(could or fallen & (tempted | one.charged))
    return kept or owed or allows_mate(one) or promotes or _carried_out(one)


def _carried_out(one: Refuted) -> bool:
    """Whether the reply is the first move of a threat."""
    if not one.replies or one.line.start.is_check():
        return False
    return one.replies[0].move.uci() in one.position.threats(one.position.reach)


def lost_further_on(one: Refuted) -> bool:
    """The opponent takes or promotes something in the line."""
    return bool(one.takings) or any(step.move.promotion for step in one.replies)


REASONS: dict[str, Callable[[Refuted], bool]] = {
    "less valuable attacker": less_valuable_attacker,
    "outnumbered still": outnumbered_still,
    "guard pinned": guard_pinned,
    "uncovers another unit": uncovers_another_unit,
    "walks into a capture": walks_into_a_capture,
    "the blocker falls": the_blocker_falls,
    "threat too small": threat_too_small,
    "answered with a bigger threat": answered_with_a_bigger_threat,
    "two units attacked": two_units_attacked,
    "allows mate": allows_mate,
    "a pawn promotes": a_pawn_promotes,
    "does not address it": does_not_address_it,
    "lost further on": lost_further_on,
}


def fails_because(
    position: Position, line: Sequence[str], reason: str, squares: Sequence[str] = ()
) -> list[str]:
    """What is false in saying why a move falls; empty if nothing is.

    On every square named a unit must stand after the move or come to stand in the line; but a
    line blocked may begin and end where a threat would land.
    """
    one = Refuted(position, played(position.survey["fen"], line))
    if reason not in REASONS:
        return [f"nobody judges the reason {reason}"]
    if reason == "the blocker falls" and len(squares) == 3:
        return _blocker(one, squares)
    if reason == "a pawn promotes" and len(squares) == 2:
        return _promotion(one, squares)
    faults = [] if REASONS[reason](one) else [f"{line[0]}: not so, that {reason}"]
    known = set(one.first.after.piece_map()) | {one.first.move.from_square}
    known |= {step.move.to_square for step in one.line.steps}
    strange = [square for square in squares if chess.parse_square(square) not in known]
    return faults + [f"{line[0]}: {reason}, but nothing on {square}" for square in strange]


def _promotion(one: Refuted, squares: Sequence[str]) -> list[str]:
    """A pawn of the opponent's after the move, and where it promotes."""
    pawn, square = (chess.parse_square(name) for name in squares)
    at = pawn
    for step in one.replies:
        if step.move.from_square == at:
            at = step.move.to_square
            if step.move.promotion:
                break
    stands = one.first.after.piece_at(pawn) == chess.Piece(chess.PAWN, not one.own)
    promotes = stands and at == square and a_pawn_promotes(one)
    return [] if promotes else [f"{one.first.move}: no pawn goes from {squares[0]} to promote"]


def _blocker(one: Refuted, squares: Sequence[str]) -> list[str]:
    """A slider, the blocker, and what the slider bears on, in this order."""
    slider, to, end = (chess.parse_square(square) for square in squares)
    between = to == one.first.move.to_square and to in chess.SquareSet.between(slider, end)
    taken = one.first.taken is None and any(step.taken == to for step in one.takings)
    return [] if between and taken else [f"{one.first.move}: no blocker falls on {squares[1]}"]

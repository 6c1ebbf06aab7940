"""Why a move falls: what must be so on the board and in its refutation for each reason."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import chess

from tests.judge.board import THRESHOLD, bears, best_exchange, lined_up, through, worth_on
from tests.judge.played import Played, Step, played
from tests.judge.worth import Position

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
    """A unit with a guard is taken on a square where the exchange count gains, more on it than
    guard it."""
    for step in one.takings:
        assert step.taken is not None
        guards = through(step.before, one.own, step.taken)
        attackers = through(step.before, not one.own, step.taken)
        gains = best_exchange(step.before, step.taken, not one.own) >= THRESHOLD
        free = {guard for guard in guards if not step.before.is_pinned(one.own, guard)}
        if guards and gains and len(attackers) > len(free):
            return True
    return False


def guard_pinned(one: Refuted) -> bool:
    """A unit that bears on where one is taken is pinned, to the king or to something dearer than
    what takes."""
    for step in one.takings:
        assert step.taken is not None
        taker = worth_on(step.before, step.move.from_square)
        for board in (step.before, step.after):
            for pin in lined_up(board, not one.own):
                held = worth_on(board, pin.back) > taker and pin.back != step.taken
                if held and pin.front in bears(board, one.own, step.move.to_square):
                    return True
    return False


def uncovers_another_unit(one: Refuted) -> bool:
    """A unit is taken, or the king mated, that the moved one guarded or stood before."""
    off, before = one.first.move.from_square, one.first.before
    fallen = [step.taken for step in one.takings if step.taken is not None]
    if one.line.mates(not one.own):
        fallen += [king] if (king := one.line.end.king(one.own)) is not None else []
    for at in fallen:
        if off in through(before, one.own, at):
            return True
        for slider in chess.SquareSet(before.occupied_co[not one.own]):
            if off in chess.SquareSet.between(slider, at):
                return True
    return False


def walks_into_a_capture(one: Refuted) -> bool:
    """The moved unit is taken on the square it went to."""
    return any(
        step.taken == one.first.move.to_square
        and step.victim in (one.first.move.from_square, one.first.victim)
        for step in one.takings
    )


def the_blocker_falls(one: Refuted) -> bool:
    """The moved unit takes nothing, stands between a slider and one of its own, and is taken."""
    to, after = one.first.move.to_square, one.first.after
    sliders = chess.SquareSet(after.bishops | after.rooks | after.queens)
    for slider in sliders & after.occupied_co[not one.own]:
        if to in after.attacks(slider) and one.first.taken is None:
            beyond = chess.SquareSet.ray(slider, to) & after.occupied_co[one.own]
            if any(to in chess.SquareSet.between(slider, at) for at in beyond):
                return any(step.taken == to for step in one.takings)
    return False


def threat_too_small(one: Refuted) -> bool:
    """The move attacks, checks or takes something, and the refutation does not mind it."""
    after, to = one.first.after, one.first.move.to_square
    news = after.attacks(to) & after.occupied_co[not one.own]
    return bool(news) or after.is_check() or one.first.taken is not None or _opens(one)


def _opens(one: Refuted) -> bool:
    """Whether the move opens a line on something of the opponent's."""
    theirs = chess.SquareSet(one.first.after.occupied_co[not one.own])
    return any(
        bears(one.first.after, one.own, at) - bears(one.first.before, one.own, at) for at in theirs
    )


def answered_with_a_bigger_threat(one: Refuted) -> bool:
    """The move threatens or takes, and the reply checks, takes or attacks in its turn."""
    if not one.replies:
        return False
    reply = one.replies[0]
    theirs = reply.after.attacks(reply.move.to_square) & reply.after.occupied_co[one.own]
    return threat_too_small(one) and bool(reply.taken is not None or theirs or _lines(reply))


def _lines(step: Step) -> bool:
    return bool(step.after.is_check())


def two_units_attacked(one: Refuted) -> bool:
    """Two units at least are in danger before the move, or attacked after it or a reply to it."""
    if len(one.charged) > 1:
        return True
    for board in [one.first.after, *(step.after for step in one.replies)]:
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


def does_not_address_it(one: Refuted) -> bool:
    """Something in danger is taken after all, or the mate or promotion threatened comes."""
    fallen = {step.victim for step in one.takings}
    promotes = any(step.move.promotion for step in one.replies)
    return bool(fallen & one.charged) or allows_mate(one) or promotes


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
    "does not address it": does_not_address_it,
}


def fails_because(
    position: Position, line: Sequence[str], reason: str, squares: Sequence[str] = ()
) -> list[str]:
    """What is false in saying why a move falls; empty if nothing is.

    On every square named a unit must stand after the move or come to stand in the line, or a
    guard or promotion be meant there.
    """
    one = Refuted(position, played(position.survey["fen"], line))
    if reason not in REASONS:
        return [f"nobody judges the reason {reason}"]
    faults = [] if REASONS[reason](one) else [f"{line[0]}: not so, that {reason}"]
    known = set(one.first.after.piece_map()) | {one.first.move.from_square}
    known |= {step.move.to_square for step in one.line.steps}
    strange = [square for square in squares if chess.parse_square(square) not in known]
    return faults + [f"{line[0]}: {reason}, but nothing on {square}" for square in strange]

"""Claims on what a holding move has ready for an answer, judged: what is false in each."""

import chess

from fastness.survey.claim import (
    IfCarriedOut,
    IfCheckMet,
    IfOtherTaken,
    IfReplied,
    IfTaken,
    MatesInstead,
)
from tests.judge.board import THRESHOLD, exchange
from tests.judge.plain import mating
from tests.judge.played import Step, played
from tests.judge.worth import Position, begins, shows


def if_taken(claim: IfTaken, position: Position) -> list[str]:
    """The best way to take what moved loses something, or wins nothing though it promises to.

    Only a stalemate needs no answer.
    """
    own, plies = position.own, 2 * position.reach - 1
    run = played(position.survey["fen"], claim.line)
    first, taking = run.steps[:2]
    at = chess.parse_square(claim.move[2:4])
    if first.move.uci() != claim.move or taking.move.to_square != at or taking.taken != at:
        return [f"{claim.move} is not taken in the line"]
    base = position.bare(own)
    takes = [move.uci() for move in first.after.legal_moves if move.to_square == at]
    least = min(position.value([claim.move, uci], plies, own, base) for uci in takes)
    promises = exchange(taking.before, at, taking.move) >= THRESHOLD
    spoiled = least >= THRESHOLD or (promises and least > -THRESHOLD)
    stale = least == 0 and run.end.is_stalemate()
    if len(run.steps) == 2 and not stale:
        return [f"nothing answers {taking.move.uci()}"]
    faults = [] if spoiled else [f"taking after {claim.move} loses {least}"]
    shown = stale or (run.mates(own) if mating(least) else run.gain(own) == least)
    return faults if shown else [*faults, f"the line does not show {least}"]


def if_other_taken(claim: IfOtherTaken, position: Position) -> list[str]:
    """A capture of something else than what moved promises something, and wins nothing."""
    run = played(position.survey["fen"], claim.line)
    if len(run.steps) < 3:
        return [f"nothing answers {claim.line}"]
    taking = run.steps[1]
    faults = begins(claim.move, claim.line)
    if taking.taken is None or taking.move.to_square == chess.parse_square(claim.move[2:4]):
        faults.append(f"{taking.move.uci()} takes nothing else")
    elif exchange(taking.before, taking.move.to_square, taking.move) < THRESHOLD:
        faults.append(f"{taking.move.uci()} promises nothing")
    return faults + wins_nothing(position, claim.line, 2)


def if_replied(claim: IfReplied, position: Position) -> list[str]:
    """What refutes another move is played, and the opponent wins nothing by it."""
    faults = begins(claim.move, claim.line)
    replies = {
        (move["line"] or [])[1]
        for move in position.survey["moves"]
        if not move["holds"] and len(move["line"] or []) > 1
    }
    if claim.line[1] not in replies:
        faults.append(f"{claim.line[1]} refutes nothing")
    if len(claim.line) < 3:
        return [*faults, f"nothing answers {claim.line}"]
    return faults + wins_nothing(position, claim.line, 2)


def mates_instead(claim: MatesInstead, position: Position) -> list[str]:
    """In the line by which the move falls the opponent mates, where the line goes on otherwise."""
    faults, run = begins(claim.move, claim.line), played(position.survey["fen"], claim.line)
    lines = [tuple(move["line"] or ()) for move in position.survey["moves"] if not move["holds"]]
    *before, last = claim.line
    goes_on = [line for line in lines if line[: len(before)] == tuple(before)]
    if not any(line[len(before) : len(before) + 1] not in ((), (last,)) for line in goes_on):
        faults.append(f"no line goes on otherwise after {before}")
    return faults if run.mates(not position.own) else [*faults, f"{claim.line} does not mate"]


def if_check_met(claim: IfCheckMet, position: Position) -> list[str]:
    """A check, an answer to it, and the best against that: the opponent wins nothing by it."""
    run = played(position.survey["fen"], claim.line)
    faults = begins(claim.move, claim.line)
    if len(run.steps) < 3 or not run.steps[0].after.is_check():
        faults.append(f"{claim.line} is no check with an answer")
    kept = position.value(
        claim.line[:3], 2 * position.reach - 1, position.own, position.bare(position.own)
    )
    if kept <= -THRESHOLD:
        faults.append(f"{claim.line[:3]} loses {-kept}")
    return faults + wins_nothing(position, claim.line, 2)


def if_carried_out(claim: IfCarriedOut, position: Position) -> list[str]:
    """A threat of the position wins nothing after the move, as the line shows."""
    run, plies = played(position.survey["fen"], claim.line), claim.plies
    if plies % 2 or not 2 <= plies < len(run.steps):
        return [f"{claim.line} has no answer after {plies} half-moves"]
    if claim.late:
        return _late(claim, position)
    threat, answer = run.steps[1], run.steps[plies]
    faults = begins(claim.move, claim.line)
    lines = [(unit["line"] or [])[1:] for unit in position.survey["units"]]
    lines = [line for line in lines if _is_of(threat, line[:1])]
    for place in range(0, plies, 2):
        if not any(_is_of(run.steps[place + 1], line[place : place + 1]) for line in lines):
            faults.append(f"{run.steps[place + 1].move.uci()} is of no threat")
    unsafe = {u["square"] for u in position.survey["units"] if u["status"].startswith("unsafe")}
    saves = answer.move.uci()[:2] in unsafe - {claim.move[:2], claim.move[2:4]}
    tells = answer.taken is not None or answer.after.is_check() or saves
    losing = bool(lines) and all(claim.line[2:3] == tuple(line[1:2]) for line in lines)
    if plies == 2 and losing and not tells:
        faults.append(f"{answer.move.uci()} is the answer that loses")
    return faults + wins_nothing(position, claim.line, plies)


def _late(claim: IfCarriedOut, position: Position) -> list[str]:
    """Where a move's line ends that wins something, or after a check, a threat wins nothing."""
    run, won = played(position.survey["fen"], claim.line), claim.line[: claim.plies - 1]
    faults = begins(claim.move, claim.line)
    net = position.net(claim.move, position.reach)
    checked = run.steps[0].after.is_check() and len(won) == 3
    if not checked and (net < THRESHOLD or shows(position, won, net)):
        faults.append(f"{won} does not show what {claim.move} wins")
    threat = run.steps[claim.plies - 1]
    firsts = [(unit["line"] or [])[1:2] for unit in position.survey["units"]]
    if not any(_is_of(threat, first) for first in firsts):
        faults.append(f"{threat.move.uci()} is of no threat")
    return faults + wins_nothing(position, claim.line, claim.plies)


def _is_of(step: Step, told: list[str]) -> bool:
    """Whether a move is the one told, or takes where it goes."""
    same = [step.move.uci()] == told
    return same or (step.taken is not None and [step.move.uci()[2:4]] == [one[2:4] for one in told])


def wins_nothing(position: Position, line: tuple[str, ...], plies: int) -> list[str]:
    """What is false in a line of which the last of so many half-moves wins nothing.

    The line goes to the end of the opponent's look, or of the own one after it, which is one
    half-move longer.
    """
    own, length = position.own, 2 * position.reach - 1
    base, run = position.bare(own), played(position.survey["fen"], line)
    worth = position.value(line[:plies], length, own, base)
    after = position.value(line[: plies + 1], length, own, base)
    faults = [] if worth > -THRESHOLD else [f"{line[:plies]} wins {-worth}"]
    kept = [one for one in (worth, after) if one > -THRESHOLD]
    ends = [run.mates(own) if mating(one) else run.gain(own) == one for one in kept]
    return faults if any(ends) else [*faults, f"the line does not show {worth}"]

"""Claims on moves, judged: what is false in each."""

import chess

from fastness.survey.claim import (
    AllHolding,
    CheckedDeeper,
    Falls,
    FallsDeeper,
    Holds,
    NotFirm,
    OnlyMove,
    TakesInVain,
    TakingMove,
)
from tests.judge.board import THRESHOLD, exchange
from tests.judge.plain import PASS
from tests.judge.played import played
from tests.judge.reasons import fails_because
from tests.judge.ways import aims_at, works_by
from tests.judge.worth import Position, begins, in_words, lost, shows


def holds(claim: Holds, position: Position) -> list[str]:
    net = position.net(claim.move, position.reach)
    truly = in_words(net, "mates", "mated")
    faults = [] if claim.net == truly else [f"{claim.move} nets {truly}"]
    if net <= -THRESHOLD:
        faults.append(f"{claim.move} falls")
    if claim.line is not None:
        faults += begins(claim.move, claim.line) + shows(position, claim.line, net)
    if claim.answer is not None:
        faults += _answer(claim.answer, claim.move, position)
    if claim.likely:
        faults += begins(claim.move, claim.likely)
        played(position.survey["fen"], claim.likely)
    for way in claim.ways:
        faults += works_by(position, claim.move, way, claim.blocks, wins_back=claim.wins_back)
    for aim in claim.aims:
        faults += aims_at(position, claim.move, aim)
        if aim.way not in claim.ways:
            faults.append(f"{claim.move} does not work by {aim.way}")
    if claim.guarded_by:
        faults += _guarded_by(claim, position)
    if len(claim.ways) > 1 and "other" in claim.ways:
        faults.append(f"{claim.move} works by {claim.ways}")
    return faults


def taken_in_vain(claim: TakesInVain, position: Position) -> list[str]:
    """After the line of a try that falls, a capture that counts, and an answer that spoils it."""
    own, plies = position.own, claim.plies
    tried, fen = claim.line[:plies], position.survey["fen"]
    if claim.move == PASS:
        lines = [tuple(unit["line"] or ()) for unit in position.survey["units"]]
        faults = [] if tried in lines else [f"nothing falls by {tried}"]
    else:
        net = position.net(claim.move, position.reach)
        faults = begins(claim.move, tried)
        kept = position.value(tried, 2 * position.reach - plies, not own, position.base)
        if shows(position, tried, net) and kept != -net:
            faults.append(f"{tried} is not in the line of {claim.move}")
        faults += [] if net <= -THRESHOLD else [f"{claim.move} holds"]
    run, before = played(fen, claim.line), played(fen, tried).gain(own)
    # A pass is no step.
    capture, *answer = run.steps[plies - (claim.move == PASS) :]
    if capture.side is not own or capture.taken is None or not answer:
        return [*faults, f"{claim.line[plies:]} is no capture with an answer"]
    back = claim.move == PASS and capture.move.uci()[2:4] == tried[-1][2:4]
    counted = exchange(capture.before, capture.move.to_square, capture.move)
    if not back and counted < THRESHOLD:
        faults.append(f"{capture.move.uci()} promises nothing")
    base = position.bare(own) + before
    left = max(1, position.reach - plies // 2)
    won = position.value(claim.line[: plies + 2], 2 * left - 1, own, base)
    if not run.mates(not own) and run.gain(own) - before >= THRESHOLD:
        faults.append("the line does not show it")
    return faults if won < THRESHOLD else [*faults, f"{capture.move.uci()} wins {won}"]


def _guarded_by(claim: Holds, position: Position) -> list[str]:
    """The unit that moves is attacked on its new square, and this alone guards it there."""
    board, move = position.board.copy(stack=False), chess.Move.from_uci(claim.move)
    own = board.turn
    board.push(move)
    guards = {chess.square_name(at) for at in board.attackers(own, move.to_square)}
    attacked = bool(board.attackers(not own, move.to_square))
    right = attacked and guards == set(claim.guarded_by)
    return [] if right else [f"{claim.move} is not guarded by {', '.join(claim.guarded_by)}"]


def _answer(line: tuple[str, ...], move: str, position: Position) -> list[str]:
    """A threat carried out after the move, an answer, and less won than half a pawn."""
    faults = begins(move, line)
    if len(line) < 3 or line[1] not in position.threats(position.reach):
        return [*faults, f"{line} answers no threat"]
    worth = position.value(line[:2], 2 * position.reach - 2, not position.own, position.base)
    if worth >= THRESHOLD:
        faults.append(f"{line[1]} wins {worth} after {move}")
    return faults + shows(position, line, -worth)


def all_holding(claim: AllHolding, position: Position) -> list[str]:
    legal = position.legal()
    faults = [] if claim.legal == len(legal) else [f"{len(legal)} moves are legal"]
    truly = {uci for uci in legal if position.holds(uci, position.reach)}
    return faults + [f"{uci} is wrong" for uci in truly ^ set(claim.moves)]


def only_move(claim: OnlyMove, position: Position) -> list[str]:
    legal = position.legal()
    truly = [uci for uci in legal if position.holds(uci, position.reach)]
    alone = truly == [claim.move] and len(legal) > 1
    return [] if alone else [f"of {len(legal)} moves these hold: {truly}"]


def falls(claim: Falls, position: Position) -> list[str]:
    net = position.net(claim.move, position.reach)
    faults = [] if net <= -THRESHOLD else [f"{claim.move} holds"]
    if claim.loses != lost(net):
        faults.append(f"{claim.move} loses {lost(net)}")
    faults += begins(claim.move, claim.line) + shows(position, claim.line, net)
    if claim.tries is not None:
        faults += _tries(claim, position)
    if claim.reason is not None:
        faults += fails_because(position, claim.line, claim.reason, claim.squares)
    return faults + _drops(claim, position) + _saves(claim, position)


def _saves(claim: Falls, position: Position) -> list[str]:
    """What is saved was unsafe, and is not among what the refutation loses."""
    unsafe = {
        unit["square"]
        for unit in position.survey["units"]
        if unit["status"] in ("unsafe", "unsafe together")
    }
    wrong = set(claim.saves) - unsafe | set(claim.saves) & set(claim.drops)
    return [f"{claim.move} does not save {square}" for square in sorted(wrong)]


def _tries(claim: Falls, position: Position) -> list[str]:
    """What a try sets out to do must be possible for the move."""
    board, move = position.board, chess.Move.from_uci(claim.move)
    capture = board.is_capture(move)
    possible = {
        "capture": capture,
        "move": True,
        "block": not capture,
        "guard": True,
        "counterattack": True,
        "other": True,
    }
    return [] if possible.get(claim.tries or "") else [f"{claim.move} is no {claim.tries}"]


def _drops(claim: Falls, position: Position) -> list[str]:
    """Each square that the move loses: a unit taken, a king mated, or a promotion there."""
    run = played(position.survey["fen"], claim.line)
    other = not position.own
    lost_on: set[int | None] = set()
    for step in run.steps:
        if step.side == other:
            lost_on |= {step.taken, step.victim}
            lost_on |= {step.move.to_square} if step.move.promotion else set()
    if run.mates(other):
        king = run.end.king(position.own)
        lost_on |= {king, *(home for at, home in run.homes().items() if at == king)}
    first = run.steps[0]
    if first.move.from_square in lost_on:
        lost_on.add(first.move.to_square)
    told = {chess.parse_square(square) for square in claim.drops}
    return [f"{claim.move} does not lose {chess.square_name(at)}" for at in told - lost_on]


def taking_move(claim: TakingMove, position: Position) -> list[str]:
    net = position.net(claim.move, position.reach)
    truly = in_words(net, "mates", "mated")
    return [] if claim.net == truly and net >= THRESHOLD else [f"{claim.move} nets {truly}"]


def checked_deeper(claim: CheckedDeeper, position: Position) -> list[str]:
    return _turned(claim.reach, (), (), position)


def not_firm(claim: NotFirm, position: Position) -> list[str]:
    return _turned(claim.reach, claim.falls, claim.holds, position)


def falls_deeper(claim: FallsDeeper, position: Position) -> list[str]:
    """The move holds here, or falls by another amount where none holds, and falls at `reach`."""
    net, here = position.net(claim.move, claim.reach), position.net(claim.move, position.reach)
    faults = [] if claim.reach == position.reach + 1 else [f"{claim.reach} is not one deeper"]
    if here <= -THRESHOLD and claim.loses == lost(here):
        faults.append(f"{claim.move} falls here as well")
    if here <= -THRESHOLD and any(position.holds(uci, position.reach) for uci in position.legal()):
        faults.append("some move holds")
    if net > -THRESHOLD or lost(net) != claim.loses:
        faults.append(f"{claim.move} nets {net} there")
    return faults + begins(claim.move, claim.line) + shows(position, claim.line, net)


def _turned(
    reach: int, falls: tuple[str, ...], holds: tuple[str, ...], position: Position
) -> list[str]:
    """Every move has the same verdict at `reach`, but those that fall or hold there instead."""
    faults = [] if reach == position.reach + 1 else [f"{reach} is not one deeper"]
    for uci in position.legal():
        here, there = position.holds(uci, reach - 1), position.holds(uci, reach)
        if (here and not there) != (uci in falls) or (there and not here) != (uci in holds):
            faults.append(f"{uci} holds: {here}, and deeper: {there}")
    return faults

"""Whether a unit falls as a survey says: by the plain reference, the rules and a recount."""

from dataclasses import dataclass, replace

import chess
from chess import KING

from fastness.core.shapes import Unit
from tests.judge.board import THRESHOLD, best_exchange, worth_on
from tests.judge.plain import PASS
from tests.judge.played import Played, played
from tests.judge.worth import Position, at_least, best_lines, in_words


def charged(run: Played, unit: int, attacker: chess.Color) -> bool:
    """Whether a line takes the unit, mates it, or promotes on its square."""
    step = run.taking(unit)
    if step is not None and step.side == attacker:
        return True
    if run.start.piece_type_at(unit) == KING:
        return run.mates(attacker)
    return promotes_on(run, unit, attacker)


def promotes_on(run: Played, square: int, attacker: chess.Color) -> bool:
    """Whether the attacker promotes on a square in a line."""
    return any(
        step.move.promotion and step.move.to_square == square and step.side == attacker
        for step in run.steps
    )


@dataclass(frozen=True, slots=True)
class Fall:
    """What is said of a unit on a square that falls, or seems to: by which line, seen how far."""

    square: str
    line: list[str]
    reach: int
    loses: int | str = 0

    @property
    def at(self) -> int:
        return chess.parse_square(self.square)

    @property
    def threat(self) -> list[str]:
        """The first move that carries it out, after a pass where there is one."""
        return self.line[:2] if self.line[0] == PASS else self.line[:1]


def fall(unit: Unit) -> Fall:
    """What a survey says of a unit with a line."""
    line, loses, reach = unit["line"], unit["loses"], unit["reach"]
    assert line, f"{unit['square']} without a line"
    assert loses is not None, f"{unit['square']} without a loss"
    assert reach is not None, f"{unit['square']} without a reach"
    return Fall(unit["square"], line, reach, loses)


def falls(position: Position, told: Fall, *, taking: bool) -> list[str]:
    """What is false in saying that a unit is unsafe, alone or together; empty if nothing is."""
    line, loses, reach = told.line, told.loses, told.reach
    attacker = position.own if taking else not position.own
    if len(line) < 1 + (not taking) or taking == (line[0] == PASS):
        return [f"{told.square}: the line begins by the wrong side, or is none"]
    faults = []
    run = played(position.survey["fen"], line)
    if not charged(run, told.at, attacker):
        faults.append(f"the line does not take {told.square}")
    if loses != "mate" and not (THRESHOLD <= int(loses) <= run.gain(attacker)):
        faults.append(f"the line gains {run.gain(attacker)}, said: {loses}")
    near, full = position.wins(line, reach), position.wins(line, position.reach)
    if not at_least(near, loses):
        faults.append(f"wins {in_words(near, 'mate', 'mated')} at reach {reach}, said: {loses}")
    if full < THRESHOLD:
        faults.append(f"wins {in_words(full, 'mate', 'mated')} at the full reach")
    return [f"{told.square}: {fault}" for fault in faults]


def falls_by_every_reply(position: Position, told: Fall) -> list[str]:
    """What is false in saying that a unit falls whatever the best replies to the threat are.

    A reply that keeps it only by giving up another unit, which nothing threatened, is no answer.
    """
    attacker = position.own == (told.line[0] != PASS)
    by_reply: dict[str, bool] = {}
    for found in best_lines(position, told.threat, told.reach):
        reply = "".join(found[len(told.threat) : len(told.threat) + 1])
        run = played(position.survey["fen"], found)
        falls = charged(run, told.at, attacker) or gives_another(run, found, told, attacker)
        by_reply[reply] = by_reply.get(reply, False) or falls
    kept = [reply or "standing" for reply, falls in by_reply.items() if not falls]
    return [f"{told.square} is kept by {reply}" for reply in kept]


def gives_another(run: Played, line: list[str], told: Fall, attacker: chess.Color) -> bool:
    """Whether the reply puts a unit, in no danger where it stood, where it is taken."""
    passes = line[: len(told.threat)].count(PASS)
    at = len(told.threat) - passes
    if len(run.steps) <= at or PASS in line[len(told.threat) :]:
        return False
    reply = run.steps[at]
    start, to = reply.move.from_square, reply.move.to_square
    taken = run.taking(reply.homes[start])
    if taken is None or taken.move.to_square != to or taken.side != attacker:
        return False
    attackers = reply.before.attackers(attacker, start)
    cheapest = min((worth_on(reply.before, one) for one in attackers), default=None)
    outnumbered = len(attackers) > len(reply.before.attackers(not attacker, start))
    cheaper = cheapest is not None and cheapest < worth_on(reply.before, start)
    return not outnumbered and not cheaper


def falls_by_some_reply(position: Position, told: Fall, square: str) -> bool:
    """Whether the unit on `square` falls too, by some best reply to the same threat."""
    attacker, at = position.own == (told.line[0] != PASS), chess.parse_square(square)
    lines = best_lines(position, told.threat, told.reach)
    return any(charged(played(position.survey["fen"], line), at, attacker) for line in lines)


def is_kept(position: Position, told: Fall) -> list[str]:
    """What is false in saying that trying to win a unit wins nothing; empty if nothing is."""
    attacker = position.own == (told.line[0] != PASS)
    run, full = played(position.survey["fen"], told.line), position.wins(told.line, position.reach)
    faults = [] if full < THRESHOLD else [f"its first move wins {full}"]
    mated = run.mates(not attacker) or run.end.is_stalemate()
    if not mated and run.gain(attacker) >= THRESHOLD:
        faults.append(f"the line gains {run.gain(attacker)}")
    return [f"{told.square}: {fault}" for fault in faults]


def is_won_back(position: Position, told: Fall) -> list[str]:
    """What is false in saying that a unit is won back; empty if nothing is."""
    faults, full = is_kept(position, told), position.wins(told.line, position.reach)
    if full < 0 or not _won_nearer(position, told):
        faults.append(f"{told.square} is not won back: {full}")
    return faults


def is_safe_by_tactics(position: Position, told: Fall) -> list[str]:
    """What is false in saying that a unit is safe by tactics; empty if nothing is."""
    attacker = position.own == (told.line[0] != PASS)
    counted = best_exchange(position.board, told.at, attacker) >= THRESHOLD
    if counted or _won_nearer(position, told):
        return is_kept(position, told)
    return [*is_kept(position, told), f"nothing seems to win {told.square}"]


def _won_nearer(position: Position, told: Fall) -> bool:
    """Whether the first move wins something at a shorter reach, and the unit falls by it."""
    return any(
        position.wins(told.line, near) >= THRESHOLD
        and falls_by_some_reply(position, replace(told, reach=near), told.square)
        for near in range(1, position.reach)
    )

"""Whether a unit falls as a survey says: by the plain reference, the rules and a recount."""

from collections.abc import Sequence

import chess

from fastness.core.shapes import Unit
from tests.judge.board import THRESHOLD, best_exchange
from tests.judge.plain import PASS
from tests.judge.played import Played, played
from tests.judge.worth import Position, at_least, best_lines, in_words


def charged(run: Played, unit: int, attacker: chess.Color) -> bool:
    """Whether a line takes the unit, mates it, or promotes on its square."""
    step = run.taking(unit)
    if step is not None and step.side == attacker:
        return True
    kind = run.start.piece_type_at(unit)
    if kind == chess.KING:
        return run.mates(attacker)
    return any(
        step.move.promotion and step.move.to_square == unit and step.side == attacker
        for step in run.steps
    )


def falls(position: Position, unit: Unit, *, taking: bool) -> list[str]:
    """What is false in saying that a unit is unsafe, alone or together; empty if nothing is."""
    line, loses, reach = unit["line"], unit["loses"], unit["reach"]
    square = chess.parse_square(unit["square"])
    if line is None or loses is None or reach is None:
        return [f"{unit['square']} falls without a line, a loss or a reach"]
    attacker = position.own if taking else not position.own
    if len(line) < 1 + (not taking) or taking == (line[0] == PASS):
        return [f"{unit['square']}: the line begins by the wrong side, or is none"]
    faults = []
    run = played(position.survey["fen"], line)
    if not charged(run, square, attacker):
        faults.append(f"the line does not take {unit['square']}")
    if loses != "mate" and not (THRESHOLD <= int(loses) <= run.gain(attacker)):
        faults.append(f"the line gains {run.gain(attacker)}, said: {loses}")
    near, full = position.wins(line, reach), position.wins(line, position.reach)
    if not at_least(near, loses):
        faults.append(f"wins {in_words(near, 'mate', 'mated')} at reach {reach}, said: {loses}")
    if full < THRESHOLD:
        faults.append(f"wins {in_words(full, 'mate', 'mated')} at the full reach")
    return [f"{unit['square']}: {fault}" for fault in faults]


def falls_by_every_reply(position: Position, unit: Unit) -> list[str]:
    """What is false in saying that a unit falls whatever the best replies to the threat are."""
    line, reach, square = unit["line"] or [], unit["reach"] or 1, chess.parse_square(unit["square"])
    opening = line[:2] if line[0] == PASS else line[:1]
    attacker = not position.own if line[0] == PASS else position.own
    told: dict[str, bool] = {}
    for found in best_lines(position, opening, reach):
        reply = "".join(found[len(opening) : len(opening) + 1])
        run = played(position.survey["fen"], found)
        told[reply] = told.get(reply, False) or charged(run, square, attacker)
    return [
        f"{unit['square']} is kept by {reply or 'standing'}" for reply in told if not told[reply]
    ]


def is_kept(position: Position, unit: Unit) -> list[str]:
    """What is false in saying that a unit is won back, or safe by tactics."""
    line, square = unit["line"], unit["square"]
    if not line:
        return [f"{square} is kept without a line"]
    attacker = not position.own if line[0] == PASS else position.own
    run, full = played(position.survey["fen"], line), position.wins(line, position.reach)
    faults = [] if full < THRESHOLD else [f"its first move wins {full}"]
    mated = run.mates(not attacker) or run.end.is_stalemate()
    if not mated and run.gain(attacker) >= THRESHOLD:
        faults.append(f"the line gains {run.gain(attacker)}")
    if unit["status"] == "won back":
        reaches = range(1, position.reach)
        if full < 0 or not any(position.wins(line, near) >= THRESHOLD for near in reaches):
            faults.append(f"is not won back: {full}")
    elif not _tempts(position, chess.parse_square(square), line, attacker):
        faults.append("nothing seems to win it")
    return [f"{square}: {fault}" for fault in faults]


def _tempts(position: Position, square: int, line: Sequence[str], attacker: chess.Color) -> bool:
    """Whether the exchange count wins a unit, or a shorter reach does."""
    if best_exchange(position.board, square, attacker) >= THRESHOLD:
        return True
    return any(position.wins(line, near) >= THRESHOLD for near in range(1, position.reach))


def nothing_falls(position: Position) -> list[str]:
    """What is false in saying that nothing can be won at the full reach."""
    value = position.danger(position.reach)
    return [] if value < THRESHOLD else [f"{in_words(value, 'mate', 'mated')} can be won"]

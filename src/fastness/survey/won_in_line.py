"""How a unit is won in a line that the count on its square does not explain."""

from __future__ import annotations

import chess

from fastness.survey.claim import Taking, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.nouns import it
from fastness.survey.scene import scene


def how_it_is_won(found: Findings, fall: Unsafe | Taking) -> str:
    """That a move of the line comes to attack a unit, or that the line shows how it is won."""
    language, its = found.language, it(fall.unit.kind, found.language)
    move = _comes_to_attack(found, fall)
    if not move:
        return language.say("the line shows how it is won", it=its)
    count = found.count(fall.unit)
    if count and count.attackers:
        return language.say("in the line {move} attacks {it} as well", move=move, it=its)
    return language.say("in the line {move} attacks {it}", move=move, it=its)


def _comes_to_attack(found: Findings, fall: Unsafe | Taking) -> str:
    """The quiet move of the line by which what moves comes to attack the unit where it stands."""
    played = scene(found.position.fen, fall.line, fall.unit.square)
    unit = chess.parse_square(fall.unit.square)
    for index, step in enumerate(played.steps[: played.capture]):
        if not step.move or step.takes or step.before.turn is played.owner:
            continue
        standing = step.after.piece_at(unit) == found.board.piece_at(unit)
        hits = unit in step.after.attacks(step.move.to_square)
        before = unit in step.before.attacks(step.move.from_square)
        if standing and hits and not before:
            return found.last_of(fall.line[: index + 1])
    return ""

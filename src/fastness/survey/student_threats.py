"""What the opponent threatens, in plain sentences for a student."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.survey.claim import Unsafe
from fastness.survey.findings import Findings
from fastness.survey.lines import move_name, taken_at
from fastness.survey.scene import play


def mate_threatened(found: Findings, mated: Unsafe) -> str:
    """The threat of mate with the opponent's moves of its line, which ends in the mate."""
    language, values = found.language, {"other": found.other}
    if len(mated.line) < 2:
        return language.say("Be careful: {other} threatens mate.", **values)
    steps = play(found.position.fen, mated.line)[1::2]
    moves = [move_name(step.before, step.move.uci(), language) for step in steps]
    if len(moves) > 2:
        return language.say(
            "Be careful: {other} threatens mate, starting with {move}.", **values, move=moves[0]
        )
    if len(moves) > 1 and steps[-1].after.is_checkmate():
        return language.say(
            "Be careful: {other} threatens mate with {move} and then {last}.",
            **values,
            move=moves[0],
            last=moves[-1].rstrip("#"),
        )
    return language.say("Be careful: {other} threatens mate with {move}.", **values, move=moves[0])


def threat(found: Findings, line: Sequence[str], at: str = "", *, told: str = "") -> list[str]:
    """The moves that the opponent threatens to play, unless the first was `told` already.

    Those that follow up to the one that takes the unit on `at`.
    """
    if len(line) < 2:
        return []
    move = move_name(play(found.position.fen, line[:1])[0].after, line[1], found.language)
    if move in told:
        return []
    if after := _and_after(found, line) or _and_then(found, line, at):
        return [after]
    return [found.language.say("{other} threatens {move}.", other=found.other, move=move)]


def _and_after(found: Findings, line: Sequence[str]) -> str:
    """A threat, what takes in answer, and taking that; or what is taken once it is taken back.

    Empty where it is not so.
    """
    steps = play(found.position.fen, line[:4])[1:]
    if len(steps) < 3 or not all(step.takes for step in steps[1:]):
        return ""
    first_at, back_at, then_at = (step.move.to_square for step in steps)
    if not (then_at == back_at or (steps[0].takes and back_at == first_at)):
        return ""
    first, back, then = (move_name(one.before, one.move.uci(), found.language) for one in steps)
    return found.language.say(
        "{other} threatens {move}, and after {back} {then}.",
        other=found.other,
        move=first,
        back=back,
        then=then,
    )


def _and_then(found: Findings, line: Sequence[str], at: str) -> str:
    """A threat whose second move or third takes the unit on a square; empty where it is not so."""
    start = play(found.position.fen, line[:1])[0].after.fen()
    taken = taken_at(start, line[1:], at) if at else None
    steps = play(found.position.fen, line)[1 : (taken or 0) + 2 : 2]
    # A step out of check is no part of the threat.
    steps = steps[:1] + tuple(one for one in steps[1:] if one.takes or not one.before.is_check())
    first, *rest = (move_name(one.before, one.move.uci(), found.language) for one in steps)
    if len(rest) == 1:
        return found.language.say(
            "{other} threatens {move} and then {last}.",
            other=found.other,
            move=first,
            last=rest[0],
        )
    if len(rest) == 2:
        return found.language.say(
            "{other} threatens {move}, then {next} and {last}.",
            other=found.other,
            move=first,
            next=rest[0],
            last=rest[1],
        )
    return ""


def if_taken_back(found: Findings, unsafe: Unsafe) -> list[str]:
    """What the opponent has ready for taking back, where that does not help."""
    back = found.retaken(unsafe.unit)
    if back is None:
        return []
    step = play(found.position.fen, back.line[:4])[3]
    values = {
        "other": found.other,
        "reply": move_name(step.before, step.move.uci(), found.language),
    }
    return [found.language.say("If you take back, {other} plays {reply}.", **values)]

"""What a move has ready for the answer to it, in plain sentences for a student."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.survey.claim import IfCarriedOut
from fastness.survey.findings import Findings
from fastness.survey.lines import move_name
from fastness.survey.scene import play


def ready_for(found: Findings, line: Sequence[str]) -> list[str]:
    """What a move has ready for the answer to it: the second and the third move of a line.

    Nothing where the line has no third move, unless what answers is stalemate.
    """
    if len(line) == 2 and play(found.position.fen, line)[-1].after.is_stalemate():
        return [found.language.say("If {threat}, it is stalemate.", threat=found.last_name(line))]
    if len(line) < 3:
        return []
    steps = play(found.position.fen, line[:3])
    threat, reply = (move_name(step.before, step.move.uci(), found.language) for step in steps[1:])
    if steps[-1].after.is_checkmate():
        mate = reply.rstrip("#")
        return [found.language.say("If {threat}, then {reply} is mate.", threat=threat, reply=mate)]
    return [found.language.say("If {threat}, you have {reply}.", threat=threat, reply=reply)]


def ready_in_the_end(found: Findings, carried_out: IfCarriedOut) -> list[str]:
    """What a move has ready for the last move of a threat that takes more than one."""
    steps = play(found.position.fen, carried_out.line[: carried_out.plies + 1])
    first, last, reply = (
        move_name(step.before, step.move.uci(), found.language) for step in (steps[1], *steps[-2:])
    )
    told = found.language.say(
        "If {threat} and then {last}, you have {reply}.", threat=first, last=last, reply=reply
    )
    return [told]

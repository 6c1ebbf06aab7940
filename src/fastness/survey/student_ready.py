"""What a move has ready for the answer to it, in plain sentences for a student."""

from __future__ import annotations

from collections.abc import Sequence

import chess

from fastness.survey.claim import Holds, IfCarriedOut
from fastness.survey.findings import Findings
from fastness.survey.kept_words import Works
from fastness.survey.lines import move_name
from fastness.survey.readiness import readiness
from fastness.survey.scene import play


def ready(found: Findings, one: Holds) -> Works:
    """By what a move is ready for a threat that can still be played."""
    shown = readiness(found, one)
    if shown is None:
        return Works("ready")
    units = (shown.unit,) if shown.unit else ()
    way = {"opens": "attack opened", "attacks": "counterattack", "guards from": "guard from"}
    return Works(
        way.get(shown.how, shown.how), units, shown.square, guard=shown.by, against=shown.threat
    )


def trades(found: Findings, one: Holds) -> bool:
    """Whether a move takes a unit of its own kind, and can be taken there."""
    step, at = play(found.position.fen, (one.move,))[0], chess.parse_square(one.move[2:4])
    taken = step.before.piece_type_at(at)
    same = step.takes and taken == step.before.piece_type_at(chess.parse_square(one.move[:2]))
    return same and any(back.to_square == at for back in step.after.legal_moves)


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
    """What a move has ready for the last move of a threat that takes more than one.

    Where that is possible only after what is answered in between, the first answer alone is told.
    """
    line = carried_out.line[: carried_out.plies + 1]
    if not _possible_at_once(found, line):
        return ready_for(found, line)
    steps = play(found.position.fen, line)
    first, last, reply = (
        move_name(step.before, step.move.uci(), found.language) for step in (steps[1], *steps[-2:])
    )
    told = found.language.say(
        "If {threat} and then {last}, you have {reply}.", threat=first, last=last, reply=reply
    )
    return [told]


def _possible_at_once(found: Findings, line: Sequence[str]) -> bool:
    """Whether the last two moves of a line can be played after the first two, none in between."""
    board = play(found.position.fen, line[:2])[-1].after
    if board.is_check():
        return False
    board.push(chess.Move.null())
    for uci in line[-2:]:
        move = chess.Move.from_uci(uci)
        if not board.is_legal(move):
            return False
        board.push(move)
    return True

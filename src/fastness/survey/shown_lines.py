"""The lines shown below a move that holds: what is ready for the threat, or how play may go on."""

from __future__ import annotations

from collections.abc import Sequence

import chess

from fastness.survey.claim import Holds, IfTaken, Owed, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.lines import numbered, numbered_move, wrapped
from fastness.survey.scene import play
from fastness.survey.ways import OTHER, is_check
from fastness.survey.words import THRESHOLD


def shown_lines(found: Findings, one: Holds, *, advised: bool) -> list[str]:
    """How a move works: what is ready for the threat, or how play may go on after a better way."""
    language = found.language
    if one.answer and len(one.answer) > 2:
        board = found.board.copy(stack=False)
        board.push_uci(one.move)
        threat = numbered_move(board, one.answer[1], language)
        board.push_uci(one.answer[1])
        line = numbered(board.fen(), one.answer[2:], language)
        told = language.say("if {threat}, then {line}", threat=threat, line=line)
    elif _shows_its_line(found, one, advised=advised) and one.line:
        told = found.numbered(one.line)
    elif threat := _no_longer_possible(found, one):
        told = language.say("{threat} is no longer possible", threat=threat)
    elif advised and _forcing(found, one.likely) and _gains(found, one.likely) >= 0:
        told = language.say("likely then: {line}", line=found.numbered(one.likely))
    else:
        return []
    return [wrapped(told, indent=17, hang=2)]


def if_taken(found: Findings, one: Holds) -> list[str]:
    """What is ready for taking the unit that moved, where no line above tells it."""
    taken = next((told for told in found.of(IfTaken) if told.move == one.move), None)
    lines = (one.line, one.answer, one.likely)
    if taken is None or any(line and line[1:2] == taken.line[1:2] for line in lines):
        return []
    board = found.board.copy(stack=False)
    board.push_uci(one.move)
    threat = numbered_move(board, taken.line[1], found.language)
    board.push_uci(taken.line[1])
    line = numbered(board.fen(), taken.line[2:], found.language)
    told = found.language.say("if {threat}, then {line}", threat=threat, line=line)
    return [wrapped(told, indent=17, hang=2)]


def _shows_its_line(found: Findings, one: Holds, *, advised: bool) -> bool:
    """A better way that wins something, and a check with what follows it."""
    if advised and (one.net == "mates" or one.net >= THRESHOLD):
        return True
    # A move that takes nothing back in a trade is believed only when the line shows how it does.
    if found.one(Owed) and "capture" not in one.ways and len(one.line or ()) > 2:
        return True
    return is_check(found, one) and len(one.line or ()) > 2


def _no_longer_possible(found: Findings, one: Holds) -> str:
    """The threat that a counterattack or another way makes impossible; empty where it does not."""
    unsafe = found.of(Unsafe)
    if not {"counterattack", "other"} & set(one.ways[:1] or OTHER) or not unsafe:
        return ""
    board, threat = found.board.copy(stack=False), unsafe[0].line
    board.push_uci(one.move)
    if board.is_check() or len(threat) < 2 or board.is_legal(chess.Move.from_uci(threat[1])):
        return ""
    return found.threat(threat)


_PAWNS = {chess.PAWN: 1, chess.KNIGHT: 3, chess.BISHOP: 3, chess.ROOK: 5, chess.QUEEN: 9}


def _gains(found: Findings, line: Sequence[str]) -> int:
    """Pawns' worths more that the mover takes in a line: below 0 it gives something up."""
    total = 0
    for step in play(found.position.fen, line):
        taken = step.before.piece_type_at(step.move.to_square) if step.takes else None
        gained = _PAWNS[taken] if taken else 0
        total += gained if step.before.turn == found.board.turn else -gained
    return total


def _forcing(found: Findings, line: Sequence[str]) -> bool:
    """Whether the move or an answer to it takes or checks, so that a reader asks what follows."""
    steps = play(found.position.fen, line)
    return len(steps) > 2 and any(
        step.takes or step.after.is_check() for step in [steps[0], *steps[1::2]]
    )

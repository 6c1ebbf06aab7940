"""The lines shown below a move that holds: what is ready for the threat, or how play may go on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fastness.survey.claim import Holds, Line, Owed, Taking, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.lines import numbered, numbered_move, taken_at
from fastness.survey.readiness import stopped_threat
from fastness.survey.retaken import leaves
from fastness.survey.scene import Step, material_won, play
from fastness.survey.ways import OTHER, is_check
from fastness.survey.words import THRESHOLD, ahead, lost


@dataclass(frozen=True, slots=True)
class ShownLine:
    """A row below a move that holds, and its line from the survey's position, if it is one."""

    told: str
    line: tuple[str, ...] = ()


def shown_lines(found: Findings, one: Holds, *, advised: bool) -> list[ShownLine]:
    """How a move works, and what is ready for taking the unit that moved.

    Then for what refutes other moves, unless the same is ready for something else.
    """
    deeper = falls_deeper(found, one.move)
    shown = [_how_it_works(found, one, advised=advised)]
    met = found.threats_met(one.move) if advised else []
    for taken in (
        *met,
        found.if_check_met(one.move),
        found.if_taken(one.move),
        found.if_other_taken(one.move),
    ):
        if taken and not any(line and line.line[1:2] == taken.line[1:2] for line in shown):
            shown.append(_met(found, taken.line))
    for feared in found.replies_met(one.move):
        told = [row.line for row in shown if row and row.line]
        if not any(line[1] == feared.line[1] or line[2:3] == feared.line[2:3] for line in told):
            shown.append(_met(found, feared.line))
    late = found.threats_met(one.move, late=True) if advised else []
    shown += [_met(found, end.line, plies=end.plies - 1) for end in late]
    return [line for line in (*shown, deeper) if line is not None]


def _how_it_works(found: Findings, one: Holds, *, advised: bool) -> ShownLine | None:
    """What is ready for the threat, or how play may go on after a better way."""
    carried_out = found.if_carried_out(one.move)
    if one.answer and len(one.answer) > 2:
        longer = carried_out and carried_out.plies > 2
        return _met(found, carried_out.line if carried_out and longer else one.answer)
    if _shows_its_line(found, one, advised=advised) and one.line:
        line = _shorter_win(found, one) or one.line
        return ShownLine(found.numbered(line), line)
    if threat := no_longer_possible(found, one):
        return ShownLine(found.language.say("{threat} is no longer possible", threat=threat))
    if carried_out:
        return _met(found, carried_out.line)
    if advised and (_answers_threat(found, one.line or ()) or is_taken_later(found, one)):
        return if_then(found, one.line or ())
    if advised and _forcing(found, one.likely) and _gives_nothing(found, one.likely):
        told = found.language.say("likely then: {line}", line=found.numbered(one.likely))
        return ShownLine(told, one.likely)
    return None


def _shorter_win(found: Findings, one: Holds) -> Line:
    """The line of a unit that is taken by the move for all that the move wins; empty if none is."""
    lines = [by.line for by in found.of(Taking) if by.line[:1] == (one.move,)]
    lines = [line for line in lines if len(line) > 2]
    lines = [
        line
        for line in lines
        if material_won(play(found.position.fen, line), found.board.turn) == one.net
    ]
    return next(iter(lines), ())


def falls_deeper(found: Findings, uci: str) -> ShownLine | None:
    """How a move falls one move deeper, where it holds here or falls by another amount."""
    deeper = found.deeper(uci)
    if deeper is None:
        return None
    language = found.language
    told = language.say(
        "{seen} it {loses}: {line}",
        seen=ahead(deeper.reach, language),
        loses=lost(deeper.loses, language),
        line=found.numbered(deeper.line),
    )
    return ShownLine(told, deeper.line)


def _met(found: Findings, line: Line, plies: int = 1) -> ShownLine:
    """What is ready for a move, up to the last capture or the last own move of a line."""
    steps, end = play(found.position.fen, line), len(line)
    while end > plies + 2 and end % 2 == 0 and not _decides(steps[end - 1]):
        end -= 1
    return if_then(found, line[:end], plies=plies)


def _decides(step: Step) -> bool:
    return step.takes or step.move.promotion is not None or step.after.is_checkmate()


def if_then(found: Findings, line: Sequence[str], *, plies: int = 1) -> ShownLine:
    """After so many plies of a line, what may be played, and what is ready for it."""
    board = found.board.copy(stack=False)
    for uci in line[:plies]:
        board.push_uci(uci)
    move = numbered_move(board, line[plies], found.language)
    board.push_uci(line[plies])
    if board.is_stalemate():
        told = found.language.say("if {threat}, it is stalemate", threat=move)
        return ShownLine(told, tuple(line))
    rest = numbered(board.fen(), line[plies + 1 :], found.language)
    told = found.language.say("if {threat}, then {line}", threat=move, line=rest)
    return ShownLine(told, tuple(line))


def _shows_its_line(found: Findings, one: Holds, *, advised: bool) -> bool:
    """A better way that wins something, and a check with what follows it."""
    if advised and (one.net == "mates" or one.net >= THRESHOLD):
        return True
    # A move that takes nothing back in a trade is believed only when the line shows how it does.
    if found.one(Owed) and "capture" not in one.ways and len(one.line or ()) > 2:
        return True
    return is_check(found, one) and len(one.line or ()) > 2


def _answers_threat(found: Findings, line: Sequence[str]) -> bool:
    """Whether the opponent's best try is what proves a danger, and the line shows an answer."""
    if len(line) < 3 or leaves(found.position.fen, line[0], line[1]):
        return False
    return any(line[1] in one.line[1:2] for one in found.of(Unsafe))


def is_taken_later(found: Findings, one: Holds) -> bool:
    """Whether the unit that moves is taken further on in the opponent's best try."""
    taken = taken_at(found.position.fen, one.line or (), one.move[:2])
    return taken is not None and taken > 1


def no_longer_possible(found: Findings, one: Holds, *, you: bool = False) -> str:
    """The threat that a counterattack or another way makes impossible; empty where it does not.

    `you`: told to a player, without the number of the move.
    """
    threat = stopped_threat(found, one)
    if not {"counterattack", "other"} & set(one.ways[:1] or OTHER) or not threat:
        return ""
    return found.last_name(threat[:2]) if you else found.threat(threat)


def _gives_nothing(found: Findings, line: Sequence[str]) -> bool:
    return material_won(play(found.position.fen, line), found.board.turn) >= 0


def _forcing(found: Findings, line: Sequence[str]) -> bool:
    """Whether the move or an answer to it takes or checks, so that a reader asks what follows."""
    steps = play(found.position.fen, line)
    return len(steps) > 2 and any(
        step.takes or step.after.is_check() for step in [steps[0], *steps[1::2]]
    )

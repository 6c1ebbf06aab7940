"""Two units that are unsafe together because taking back the one gives up the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import chess

from fastness.survey.claim import Taking, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.lines import PASS, move_name
from fastness.survey.nouns import on_square
from fastness.survey.scene import play


@dataclass(frozen=True, slots=True)
class InTurn:
    """`first` is taken by the threat itself, and `last` falls once that is taken back.

    `line`: a pass, the threat and what takes back, as UCI moves.
    """

    first: str
    last: str
    line: tuple[str, ...]


def taken_in_turn(found: Findings, group: Sequence[Unsafe | Taking]) -> InTurn | None:
    """Which of two units is taken at once, and which falls after taking back; else None."""
    squares = {group[0].unit.square, *group[0].together}
    for one in group:
        if (
            len(squares) != 2
            or one.unit.square not in squares
            or len(one.line) < 4
            or one.line[0] != PASS
        ):
            continue
        threat, back = one.line[1:3]
        first, last = threat[2:4], one.unit.square
        at_once = first in squares and first != last
        takes_back = back[2:4] == first and back[:2] != last
        own = found.board.color_at(chess.parse_square(last)) == found.board.turn
        if own and at_once and takes_back:
            return InTurn(first, last, one.line[:3])
    return None


def in_turn_told(found: Findings, turn: InTurn) -> list[str]:
    """For the student who is to move: one unit is taken, and another after taking back."""
    say, you = found.language.say, found.board.turn
    first, last = (
        on_square(found.board, at, found.language, you=you) for at in (turn.first, turn.last)
    )
    before = play(found.position.fen, turn.line[:2])[-1].after
    back = move_name(before, turn.line[2], found.language)
    return [
        say("If you wait, {other} takes {unit}.", other=found.other, unit=first),
        say(
            "If you take back with {move}, {other} takes {unit}.",
            move=back,
            other=found.other,
            unit=last,
        ),
    ]

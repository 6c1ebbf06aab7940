"""What is said of a piece that cannot be won."""

from __future__ import annotations

import chess

from fastness.replies.answer import ShownLine
from fastness.survey.claim import SafeByTactics, WonBack
from fastness.survey.findings import Findings
from fastness.survey.nouns import on_square
from fastness.survey.words import ahead, capital


def kept_unit(found: Findings, square: str) -> tuple[tuple[str, ...], tuple[ShownLine, ...]]:
    """That what stands on a square cannot be won, and the line that shows it if there is one."""
    say, language = found.language.say, found.language
    unit = on_square(found.board, square, language, you=found.board.turn)
    own = found.board.color_at(chess.parse_square(square)) == found.board.turn
    values = {
        "unit": unit,
        "seen": ahead(found.position.reach, language),
        "other": found.other,
    }
    back = next((one for one in found.of(WonBack) if one.unit.square == square), None)
    if back:
        told = say("{unit} can be taken, but as much is won back.", unit=capital(str(unit)))
        return (told,), (ShownLine(back.line, (square,)),)
    shown = next((one for one in found.of(SafeByTactics) if one.unit.square == square), None)
    if shown:
        if own:
            told = say("{other} can try to win {unit:whom}, but that wins nothing.", **values)
        else:
            told = say("Trying to win {unit:whom} wins nothing.", **values)
        return (told,), (ShownLine(shown.line, (square,)),)
    if own:
        return (say("{other} cannot win {unit:whom}, {seen}.", **values),), ()
    return (say("You cannot win {unit:whom}, {seen}.", **values),), ()

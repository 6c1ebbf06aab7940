"""What a move leaves undone in the middle of a trade, in words."""

from __future__ import annotations

import chess

from fastness.language import marked
from fastness.survey.claim import Falls, Owed, TakingMove
from fastness.survey.findings import Findings
from fastness.survey.nouns import Noun
from fastness.survey.teller import Parts, Teller
from fastness.survey.words import THRESHOLD

STAYS_LOST = marked("it does not win back what was lost")
STAYS_LOST_AND = marked("it does not win back what was lost, and {reason}")


def keeps_the_debt(found: Findings, falls: Falls) -> bool:
    """Whether all that was lost in a trade stays lost, whatever the line takes besides.

    False where mate follows, and where the reason of the fall says as much.
    """
    owed, loses = found.one(Owed), falls.loses
    if owed is None or not isinstance(loses, int) or loses < owed.centipawns:
        return False
    return falls.reason not in ("does not address it", "allows mate")


def loses_more(found: Findings, falls: Falls) -> bool:
    """Whether a move loses something besides what was lost in a trade."""
    owed, loses = found.one(Owed), falls.loses
    return owed is not None and isinstance(loses, int) and loses >= owed.centipawns + THRESHOLD


def not_taken_back(tell: Teller) -> Parts | None:
    """That it does not take back where it could, or misses the mate that there is instead.

    None where nothing is owed, or where what is lost is a unit that still stands.
    """
    if not tell.squares or tell.own_on(tell.squares) or tell.found.one(Owed) is None:
        return None
    square = tell.squares[0]
    name: dict[str, Noun | str] = {"square": chess.square_name(square)}
    if not any(move.to_square == square for move in tell.found.board.legal_moves):
        mates = any(one.net == "mates" for one in tell.found.of(TakingMove))
        if mates:
            return marked("it misses the mate"), {}
        return marked("it does not win back what was taken on {square}"), name
    if any(step.takes and step.move.to_square == square for step in tell.steps[2::2]):
        return marked("it takes back on {square} too late"), name
    return marked("it does not take back on {square}"), name

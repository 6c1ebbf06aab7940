"""What a student can win, in plain sentences."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.survey.claim import Better, Taking, TakingMove, Zugzwang
from fastness.survey.findings import Findings
from fastness.survey.nouns import listed_or, the_unit
from fastness.survey.student_remedies import NAMED


def _best_win(found: Findings, wins: Sequence[TakingMove]) -> TakingMove | None:
    """The first of the better ways that wins something, or what wins most, by its proof line."""
    better, shown = found.one(Better), [taking.line[:1] for taking in found.of(Taking)]
    places = {move: place for place, move in enumerate(better.moves)} if better else {}

    def order(one: TakingMove) -> tuple[int, bool]:
        return places.get(one.move, len(places)), (one.move,) not in shown

    return min(wins, key=order, default=None)


def to_win(found: Findings) -> list[str]:
    """What can be won, and by which move; else what to look at before moving."""
    say, language = found.language.say, found.language
    if found.one(Zugzwang):
        return [
            say("But you have to move, and every move loses something."),
            say("That is called zugzwang."),
        ]
    wins = found.of(TakingMove)
    best = _best_win(found, wins)
    for taking in found.of(Taking):
        if best and taking.unit.square == best.move[2:4] and not taking.together:
            values = {"unit": the_unit(taking.unit, language), "move": found.move(best.move)}
            return [say("You can win {unit}: play {move}.", **values)]
    if wins:
        moves = listed_or(found.moves(one.move for one in wins[:NAMED]), language)
        return [say("You can win something with {moves}.", moves=moves)]
    return [say("Before you move, look at what {other} wants.", other=found.other)]

"""The headings of a survey, and what is said at its head and foot."""

from __future__ import annotations

from fastness.language import marked
from fastness.survey.claim import AllHolding, Better, Falls, Holds, InCheck, LeastLost, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.takings import can_be_taken

_TRIES = marked("Natural tries that fail")
_TRIES_IN_VAIN = marked("What the natural tries lose")


def head(found: Findings) -> str:
    """Who is to move, and the number of the move."""
    say, number = found.language.say, found.board.fullmove_number
    if found.one(InCheck):
        return say("{own} to move, in check (move {number})", own=found.own, number=number)
    return say("{own} to move (move {number})", own=found.own, number=number)


def danger_title(found: Findings) -> str:
    """Of what is not safe."""
    return found.language.say("What is not safe")


def taking_title(found: Findings) -> str:
    """Of what can be taken, or won in another way."""
    say = found.language.say
    return say("What can be taken") if can_be_taken(found) else say("What can be won")


def remedy_title(found: Findings) -> str:
    """Of all the moves that hold, with their number, or of those that lose least."""
    say, holding = found.language.say, found.one(AllHolding)
    least = found.one(LeastLost)
    if least and least.loses != "mate":
        return say("Moves that lose least")
    count = counted(found, len(holding.moves) if holding else 0)
    if found.one(InCheck):
        return say("Moves that get out of check and keep the material") + count
    if not found.of(Unsafe):
        return say("Moves that keep the material") + count
    return say("Moves that make it safe") + count


def better_title(found: Findings) -> str:
    """Of the advised moves, with their number."""
    better, say = found.one(Better), found.language.say
    number = len(better.moves) if better else 0
    title = say("The better ways") if number > 1 else say("The better way")
    return title + counted(found, number)


def others_title(found: Findings, number: int) -> str:
    """Of the `number` moves that hold and are not advised."""
    return found.language.say("Other moves that keep the material") + counted(found, number)


def tries_title(found: Findings) -> str:
    """Of the natural tries that fail."""
    return found.language.say(_TRIES if found.of(Holds) else _TRIES_IN_VAIN)


def losing_title(found: Findings) -> str:
    """Of the moves that fall where nothing is in danger, with their number."""
    count = counted(found, len(found.of(Falls)))
    return found.language.say("Moves that would lose something") + count


def counted(found: Findings, number: int) -> str:
    """The number among the legal moves, in parentheses; empty where there is none."""
    holding = found.one(AllHolding)
    if not number or not holding:
        return ""
    told = found.language.say("{number} of {legal}", number=number, legal=holding.legal)
    return f" ({told})"


def foot(found: Findings) -> str:
    """How far the survey goes, and what it does not say."""
    return found.language.say_many(
        "How far this goes: {other}'s next move, every legal move of both sides tried, then"
        " captures, promotions and answers to check only. In a line both sides play what serves"
        " them best: a move that looks odd is the one that loses least. Nothing is claimed beyond"
        " that, and a move that keeps the material need not be a good move. Values: {values}.",
        "How far this goes: {other}'s next {number} moves, every legal move of both sides tried,"
        " then captures, promotions and answers to check only. In a line both sides play what"
        " serves them best: a move that looks odd is the one that loses least. Nothing is claimed"
        " beyond that, and a move that keeps the material need not be a good move. Values:"
        " {values}.",
        found.position.reach,
        other=found.other,
        values=found.position.values,
    )

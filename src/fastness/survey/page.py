"""The survey as a page of plain text for the teacher, at most 88 columns wide."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.core.shapes import Survey, Way
from fastness.language import ENGLISH, Language, marked
from fastness.survey.claim import (
    AllHolding,
    AtAPrice,
    Better,
    Falls,
    Holds,
    InCheck,
    Mated,
    Unsafe,
)
from fastness.survey.claims import claims
from fastness.survey.dangers import dangers
from fastness.survey.diagram import CORNERS, RING, diagram
from fastness.survey.failing import failing_tries, losing_moves
from fastness.survey.findings import Findings
from fastness.survey.firmness import firmness
from fastness.survey.lines import wrapped
from fastness.survey.remedies import at_a_price, better_ways, remedies, rest_without_tries
from fastness.survey.takings import can_be_taken, takes_more, takings
from fastness.survey.words import WAYS


def page(
    survey: Survey,
    *,
    moves_given: bool = False,
    flip: bool = False,
    language: Language = ENGLISH,
    order: Sequence[Way] = WAYS,
) -> str:
    """`survey` as text for a chess teacher.

    `moves_given`: the moves that led to the position were played from an earlier one, so a trade
    in progress is known; otherwise the page says where one might be. `flip` puts Black at the
    bottom of the diagram. `order`: the ways as the teacher prefers them. Raises ValueError if a
    line of the survey does not replay.
    """
    found = Findings(claims(survey, moves_given=moves_given, order=order), language)
    say = language.say
    parts = [_part(say("What is not safe"), dangers(found))]
    if found.one(AllHolding):
        parts += _on_moves(found)
    taken = takings(found)
    if taken:
        title = say("What can be taken") if can_be_taken(found) else say("What can be won")
        # What can be taken is told first where it is worth more than what is in danger.
        parts.insert(0 if takes_more(found) else len(parts), _part(title, taken))
    parts = [_head(found), _board(found, flip), *parts]
    return "\n\n".join([*parts, _foot(found)]) + "\n"


def _part(title: str, body: str) -> str:
    return f"{title}\n{body}"


def _on_moves(found: Findings) -> list[str]:
    if not found.needs_remedy():
        body = "\n".join([losing_moves(found), *firmness(found)])
        return [_part(_losing_title(found), body)]
    parts = _ranked(found) or [_part(_remedy_title(found), remedies(found))]
    tries = failing_tries(found)
    if tries:
        kept = found.of(Holds)
        title = _TRIES if kept else _TRIES_IN_VAIN
        parts.append(_part(found.language.say(title), tries))
    return parts


_TRIES = marked("Natural tries that fail")
_TRIES_IN_VAIN = marked("What the natural tries lose")


def _ranked(found: Findings) -> list[str]:
    """The better ways and the others; nothing where the moves were not ranked."""
    better, others = found.one(Better), found.one(AtAPrice)
    if not better or not better.moves:
        return []
    say = found.language.say
    title = say("The better ways") if len(better.moves) > 1 else say("The better way")
    parts = [_part(f"{title}{_counted(found, len(better.moves))}", better_ways(found))]
    last = [*rest_without_tries(found), *firmness(found)]
    if others and others.moves:
        title = say("Other moves that keep the material")
        body = "\n".join([at_a_price(found), *last])
        parts.append(_part(f"{title}{_counted(found, len(others.moves))}", body))
    elif last:
        parts[0] = "\n".join([parts[0], *last])
    return parts


def _counted(found: Findings, number: int) -> str:
    holding = found.one(AllHolding)
    if not number or not holding:
        return ""
    told = found.language.say("{number} of {legal}", number=number, legal=holding.legal)
    return f" ({told})"


def _head(found: Findings) -> str:
    say, number = found.language.say, found.board.fullmove_number
    if found.one(InCheck):
        return say("{own} to move, in check (move {number})", own=found.own, number=number)
    return say("{own} to move (move {number})", own=found.own, number=number)


def _board(found: Findings, flip: bool) -> str:
    say = found.language.say
    endangered = found.endangered()
    taken = [unit.square for unit in can_be_taken(found) if unit.kind != "king"]
    marks = dict.fromkeys(endangered, RING) | dict.fromkeys(taken, CORNERS)
    key = [say("Capitals are White, small letters Black.")]
    if endangered:
        checked = found.one(InCheck) or found.one(Mated)
        key.append(say("( ) in check.") if checked else say("( ) not safe."))
    if taken:
        key.append(say("< > can be taken."))
    drawn = diagram(found.position.fen, marks, flip=flip, language=found.language)
    return f"{drawn}\n    {'  '.join(key)}"


def _remedy_title(found: Findings) -> str:
    say, holding = found.language.say, found.one(AllHolding)
    count = _counted(found, len(holding.moves) if holding else 0)
    if found.one(InCheck):
        return say("Moves that get out of check and keep the material") + count
    if not found.of(Unsafe):
        return say("Moves that keep the material") + count
    return say("Moves that make it safe") + count


def _losing_title(found: Findings) -> str:
    count = _counted(found, len(found.of(Falls)))
    return found.language.say("Moves that would lose something") + count


def _foot(found: Findings) -> str:
    language, reach = found.language, found.position.reach
    told = language.say_many(
        "How far this goes: {other}'s next move, every legal move of both sides tried, then"
        " captures, promotions and answers to check only. In a line both sides play what serves"
        " them best: a move that looks odd is the one that loses least. Nothing is claimed beyond"
        " that, and a move that keeps the material need not be a good move. Values: {values}.",
        "How far this goes: {other}'s next {number} moves, every legal move of both sides tried,"
        " then captures, promotions and answers to check only. In a line both sides play what"
        " serves them best: a move that looks odd is the one that loses least. Nothing is claimed"
        " beyond that, and a move that keeps the material need not be a good move. Values:"
        " {values}.",
        reach,
        other=found.other,
        values=found.position.values,
    )
    return "\n".join([wrapped(told, indent=0), f"FEN {found.position.fen}"])

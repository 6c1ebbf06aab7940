"""The survey as a page of plain text for the teacher, at most 88 columns wide."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.core.shapes import Survey, Way
from fastness.language import ENGLISH, Language
from fastness.survey.claim import AllHolding, AtAPrice, Better, InCheck, Mated
from fastness.survey.claims import claims
from fastness.survey.dangers import dangers
from fastness.survey.diagram import CORNERS, RING, diagram
from fastness.survey.failing import failing_tries, losing_moves, rest_without_tries
from fastness.survey.findings import Findings
from fastness.survey.firmness import firmness
from fastness.survey.lines import wrapped
from fastness.survey.remedies import at_a_price, better_ways, remedies
from fastness.survey.takings import can_be_taken, takes_more, takings
from fastness.survey.titles import (
    better_title,
    danger_title,
    foot,
    head,
    losing_title,
    others_title,
    remedy_title,
    taking_title,
    tries_title,
)
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
    parts = [_part(danger_title(found), dangers(found))]
    if found.one(AllHolding):
        parts += _on_moves(found)
    taken = takings(found)
    if taken:
        # What can be taken is told first where it is worth more than what is in danger.
        at = 0 if takes_more(found) else len(parts)
        parts.insert(at, _part(taking_title(found), taken))
    parts = [head(found), _board(found, flip), *parts]
    return "\n\n".join([*parts, _foot(found)]) + "\n"


def _part(title: str, body: str) -> str:
    return f"{title}\n{body}"


def _on_moves(found: Findings) -> list[str]:
    if not found.needs_remedy():
        body = "\n".join([losing_moves(found), *firmness(found)])
        return [_part(losing_title(found), body)]
    parts = _ranked(found) or [_part(remedy_title(found), remedies(found))]
    tries = failing_tries(found)
    if tries:
        parts.append(_part(tries_title(found), tries))
    return parts


def _ranked(found: Findings) -> list[str]:
    """The better ways and the others; nothing where the moves were not ranked."""
    better, others = found.one(Better), found.one(AtAPrice)
    if not better or not better.moves:
        return []
    parts = [_part(better_title(found), better_ways(found))]
    last = [*rest_without_tries(found), *firmness(found)]
    if others and others.moves:
        body = "\n".join([at_a_price(found), *last])
        parts.append(_part(others_title(found, len(others.moves)), body))
    elif last:
        parts[0] = "\n".join([parts[0], *last])
    return parts


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


def _foot(found: Findings) -> str:
    return "\n".join([wrapped(foot(found), indent=0), f"FEN {found.position.fen}"])

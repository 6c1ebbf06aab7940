"""The survey as a page of plain text, at most 88 columns wide."""

from __future__ import annotations

import chess

from fastness.core.shapes import Survey
from fastness.survey.dangers import dangers
from fastness.survey.diagram import CORNERS, RING, diagram
from fastness.survey.lines import wrapped
from fastness.survey.remedies import (
    failing_tries,
    losing_moves,
    needs_remedy,
    remedies,
)
from fastness.survey.takings import takings
from fastness.survey.tries import in_danger
from fastness.survey.words import other_side, own_side


def page(survey: Survey, *, moves_given: bool = False, flip: bool = False) -> str:
    """`survey` as text for a chess teacher.

    `moves_given`: the moves that led to the position were played from an earlier one, so a trade
    in progress is known; otherwise the page says where one might be. `flip` puts Black at the
    bottom of the diagram. Raises ValueError if a line of the survey does not replay.
    """
    parts = [_head(survey), _board(survey, flip), _part("What is not safe", dangers(survey))]
    if survey["moves"] and needs_remedy(survey):
        parts.append(_part(_remedy_title(survey), remedies(survey)))
        tries = failing_tries(survey)
        if tries:
            parts.append(_part("Natural tries that fail", tries))
    elif survey["moves"]:
        parts.append(_part(_losing_title(survey), losing_moves(survey)))
    taken = takings(survey, moves_given=moves_given)
    if taken:
        title = "What can be taken" if survey["takings"] else "What can be won"
        parts.append(_part(title, taken))
    return "\n\n".join([*parts, _foot(survey)]) + "\n"


def _part(title: str, body: str) -> str:
    return f"{title}\n{body}"


def _head(survey: Survey) -> str:
    check = ", in check" if survey["in_check"] and survey["moves"] else ""
    number = chess.Board(survey["fen"]).fullmove_number
    return f"{own_side(survey)} to move{check} (move {number})"


def _board(survey: Survey, flip: bool) -> str:
    endangered = in_danger(survey) if survey["moves"] or survey["in_check"] else []
    marks = {unit["square"]: RING for unit in endangered}
    marks.update({unit["square"]: CORNERS for unit in survey["takings"]})
    key = ["Capitals are White, small letters Black."]
    if endangered:
        what = "in check" if survey["in_check"] else "not safe"
        key.append(f"( ) {what}.")
    if survey["takings"]:
        key.append("< > can be taken.")
    return f"{diagram(survey['fen'], marks, flip=flip)}\n    {'  '.join(key)}"


def _remedy_title(survey: Survey) -> str:
    holding = sum(move["holds"] for move in survey["moves"])
    count = f" ({holding} of {len(survey['moves'])})" if holding else ""
    if survey["in_check"]:
        return f"Moves that get out of check and keep the material{count}"
    if not in_danger(survey):
        return f"Moves that keep the material{count}"
    return f"Moves that make it safe{count}"


def _losing_title(survey: Survey) -> str:
    falling = sum(not move["holds"] for move in survey["moves"])
    count = f" ({falling} of {len(survey['moves'])})" if falling else ""
    return f"Moves that would lose something{count}"


def _foot(survey: Survey) -> str:
    moves = "next move" if survey["reach"] == 1 else f"next {survey['reach']} moves"
    return "\n".join(
        [
            wrapped(
                f"How far this goes: {other_side(survey)}'s {moves}, every legal move of both"
                " sides tried, then captures, promotions and answers to check only. Nothing is"
                " claimed beyond that, and a move that keeps the material need not be a good"
                f" move. Values: {survey['values']}.",
                indent=0,
            ),
            f"FEN {survey['fen']}",
        ]
    )

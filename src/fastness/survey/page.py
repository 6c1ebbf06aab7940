"""The survey as a page of plain text, at most 88 columns wide."""

from __future__ import annotations

import chess

from fastness.core.shapes import Survey, Unit
from fastness.survey.dangers import dangers
from fastness.survey.diagram import CORNERS, RING, diagram
from fastness.survey.lines import line_in_words, wrapped
from fastness.survey.remedies import (
    failing_tries,
    losing_moves,
    needs_remedy,
    remedies,
    winning_moves,
)
from fastness.survey.tries import in_danger
from fastness.survey.words import ahead, capital, causes, other_side, own_side, the_unit, worth


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
        parts.append(_part("Moves that would lose something", losing_moves(survey)))
    takings = _takings(survey, moves_given)
    if takings:
        title = "What can be taken" if survey["takings"] else "What can be won"
        parts.append(_part(title, takings))
    return "\n\n".join([*parts, _foot(survey)]) + "\n"


def _part(title: str, body: str) -> str:
    return f"{title}\n{body}"


def _head(survey: Survey) -> str:
    check = ", in check" if survey["in_check"] and survey["moves"] else ""
    number = chess.Board(survey["fen"]).fullmove_number
    return f"{own_side(survey)} to move{check} (move {number})"


def _board(survey: Survey, flip: bool) -> str:
    marks = {unit["square"]: RING for unit in in_danger(survey)}
    marks.update({unit["square"]: CORNERS for unit in survey["takings"]})
    key = ["Capitals are White, small letters Black."]
    if in_danger(survey):
        what = "in check" if survey["in_check"] else "not safe"
        key.append(f"( ) {what}.")
    if survey["takings"]:
        key.append("< > can be taken now.")
    return f"{diagram(survey['fen'], marks, flip=flip)}\n    {'  '.join(key)}"


def _remedy_title(survey: Survey) -> str:
    holding = sum(move["holds"] for move in survey["moves"])
    count = f" ({holding} of {len(survey['moves'])})" if holding else ""
    if survey["in_check"]:
        return f"Moves that get out of check and keep the material{count}"
    if not in_danger(survey):
        return f"Moves that keep the material{count}"
    return f"Moves that make it safe{count}"


def _takings(survey: Survey, moves_given: bool) -> str:
    rows = [_taking(survey, unit) for unit in survey["takings"]]
    if not needs_remedy(survey):
        rows += filter(None, [winning_moves(survey)])
    if survey["takings"] and not moves_given:
        rows.append(
            wrapped(
                f"This position may be the middle of a trade, in which {own_side(survey)} is only"
                " about to take back. To have it judged from the start of the trade, give the"
                ' position before it and the moves since: --moves "...".'
            )
        )
    return "\n".join(rows)


def _taking(survey: Survey, unit: Unit) -> str:
    board = chess.Board(survey["fen"])
    name, seen = capital(the_unit(unit)), ahead(unit["reach"] or survey["reach"])
    if unit["loses"] == "mate":
        head = f"{name}: {own_side(survey)} mates by force, {seen}."
    elif unit["status"] == "unsafe together":
        others = ", ".join(unit["together"])
        head = (
            f"{name} or what stands on {others} can be won, not always the same one:"
            f" {worth(unit['loses'] or 0)}, {seen}."
        )
    elif unit["status"] == "unsafe":
        head = f"{name} can be taken: {own_side(survey)} wins {worth(unit['loses'] or 0)}, {seen}."
    elif unit["status"] == "won back":
        head = f"{name} can be taken, but {other_side(survey)} wins it back."
    else:
        head = f"{name} is safe by tactics: the taker loses."
    reasons = causes(board, unit) if unit["status"] == "unsafe" else []
    rows = [wrapped(" ".join([head, *reasons]))]
    if unit["line"]:
        told = line_in_words(survey["fen"], unit["line"])
        rows.append(wrapped(f"{told}.", indent=4, hang=2))
    return "\n".join(rows)


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

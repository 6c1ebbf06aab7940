"""What can be taken: the opponent's units that the side to move could win now."""

from __future__ import annotations

from collections.abc import Sequence

import chess

from fastness.core.shapes import Survey, Unit
from fastness.survey.lines import line_in_words, wrapped
from fastness.survey.remedies import needs_remedy, winning_moves
from fastness.survey.units import cost, falls_after, groups_together
from fastness.survey.words import (
    ahead,
    capital,
    causes,
    other_side,
    own_side,
    the_unit,
    units_on,
    worth,
)

WON = ("unsafe", "unsafe together")
"""The statuses of what is won."""


def takings(survey: Survey, *, moves_given: bool) -> str:
    """The part "What can be taken", with a line for each unit; empty if nothing can be won.

    Unless the moves before are known, it says that a bare position may be the middle of a trade.
    """
    rows = _by_line(survey)
    if not moves_given and any(unit["status"] in WON for unit in survey["takings"]):
        rows.append(
            wrapped(
                f"This position may be the middle of a trade, in which {own_side(survey)} is only"
                " about to take back. To have it judged from the start of the trade, give the"
                ' position before it and the moves since: --moves "...".'
            )
        )
    if not needs_remedy(survey):
        rows += filter(None, [winning_moves(survey)])
    return "\n".join(rows)


def _by_line(survey: Survey) -> list[str]:
    """An entry for each line, what gains most first: the units it wins, then the line once."""
    by_line: dict[tuple[str, ...], list[str]] = {}
    units = sorted(survey["takings"], key=cost, reverse=True)
    for unit in units:
        if unit["status"] == "unsafe together":
            continue
        by_line.setdefault(tuple(unit["line"] or ()), []).append(_taking(survey, unit))
    for squares, shown in groups_together(units):
        by_line.setdefault(tuple(shown["line"] or ()), []).append(_one_of(survey, squares, shown))
    rows = []
    for line, told in by_line.items():
        rows.append(wrapped(" ".join(told)))
        if line:
            rows.append(wrapped(f"{line_in_words(survey['fen'], line)}.", indent=4, hang=2))
    return rows


def _taking(survey: Survey, unit: Unit) -> str:
    board = chess.Board(survey["fen"])
    name, seen = capital(the_unit(unit)), ahead(unit["reach"] or survey["reach"])
    wins = "takes back" if survey["owed"] > 0 else "wins"
    if unit["loses"] == "mate":
        head = f"{own_side(survey)} mates by force, {seen}."
    elif falls_after(survey, unit, survey["takings"]):
        gain = f"that wins {worth(cost(unit))} more, {seen}"
        return f"After that {the_unit(unit)} falls as well: {gain}."
    elif unit["status"] == "unsafe":
        head = (
            f"{name} can be taken: {own_side(survey)} {wins} {worth(unit['loses'] or 0)}, {seen}."
        )
    elif unit["status"] == "won back":
        head = f"{name} can be taken, but {other_side(survey)} wins it back."
    else:
        head = f"{name} is safe by tactics: trying to win it wins nothing, as the line shows."
    reasons = causes(board, unit) if unit["status"] == "unsafe" else []
    return " ".join([head, *reasons])


def _one_of(survey: Survey, squares: Sequence[str], shown: Unit) -> str:
    """Units of which not all can be saved, as by a fork."""
    names = units_on(chess.Board(survey["fen"]), squares)
    seen = ahead(shown["reach"] or survey["reach"])
    if shown["loses"] == "mate":
        return f"{capital(names)} cannot all be saved: {own_side(survey)} can mate, {seen}."
    gain = f"{own_side(survey)} wins {worth(shown['loses'] or 0)}, {seen}"
    return f"{capital(names)} cannot all be saved: {gain}."

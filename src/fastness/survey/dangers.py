"""What is not safe, and why: the first part of the page."""

from __future__ import annotations

from itertools import groupby
from typing import TypeGuard

import chess

from fastness.core.shapes import Danger, Survey, Unit
from fastness.survey.lines import line_in_words, numbered, wrapped
from fastness.survey.tries import in_danger, loss, promotion_on
from fastness.survey.units import cost, falls_after, groups_together
from fastness.survey.words import (
    KINDS_BY_WORTH,
    THRESHOLD,
    ahead,
    ahead_only,
    capital,
    causes,
    listed,
    other_side,
    own_side,
    the_unit,
    units_on,
    worth,
)


def endangers(danger: Danger | None) -> bool:
    """Whether a danger is one: half a pawn or more, or mate."""
    return danger == "mate" or (isinstance(danger, int) and danger >= THRESHOLD)


def has_danger(survey: Survey) -> bool:
    """Whether there is danger at the full reach; False in check, where it is not defined."""
    return bool(survey["danger"]) and endangers(survey["danger"][-1])  # type: ignore[index]


def dangers(survey: Survey) -> str:
    """The part "What is not safe", with a proof line for each unit."""
    if not survey["moves"]:
        return _over(survey)
    parts = [*_trade(survey), *_in_check(survey)]
    if not survey["in_check"] and not _told_by_one_unit(survey):
        parts += _whole(survey)
    parts += _unsafe(survey)
    parts += _together(survey)
    parts += _promotions(survey)
    parts += _no_unit(survey)
    parts += [_lesser_entry(survey, unit) for unit in _by_loss(survey, "won back")]
    parts += [_lesser_entry(survey, unit) for unit in _by_loss(survey, "safe by tactics")]
    parts += _loose(survey)
    return "\n".join(parts)


def _over(survey: Survey) -> str:
    own = own_side(survey)
    if survey["in_check"]:
        return wrapped(f"{own} is mated: the king is in check and cannot get out.")
    return wrapped(f"{own} has no legal move and is not in check: stalemate.")


def _by_loss(survey: Survey, status: str) -> list[Unit]:
    found = [unit for unit in survey["units"] if unit["status"] == status]
    return sorted(found, key=cost, reverse=True)


def _trade(survey: Survey) -> list[str]:
    if survey["owed"] <= 0:
        return []
    own, other = own_side(survey), other_side(survey)
    return [
        wrapped(
            f"A trade is in progress: {own} is owed {worth(survey['owed'])}. What follows is"
            f" counted from before the trade, so a move that does not take back, or win as much"
            f" elsewhere, loses it to {other}."
        )
    ]


def _in_check(survey: Survey) -> list[str]:
    if not survey["in_check"]:
        return []
    board = chess.Board(survey["fen"])
    checkers = [chess.square_name(square) for square in board.checkers()]
    king = chess.square_name(board.king(board.turn) or 0)
    return [
        wrapped(
            f"The king on {king} is in check from {units_on(board, checkers)}. In check"
            f" {own_side(survey)} cannot pass, so the other units are not judged: the moves below"
            f" tell what can be kept."
        )
    ]


def _whole(survey: Survey) -> list[str]:
    own, other, danger = own_side(survey), other_side(survey), survey["danger"] or []
    if not danger:
        return []
    last, seen = danger[-1], ahead(survey["reach"])
    if last == "mate":
        return [wrapped(f"If {own} passes, {other} mates by force, {seen}.")]
    if _is_worth(last):
        counted = ", counting the trade" if survey["owed"] > 0 else ""
        told = f"If {own} passes, {other} wins {worth(last)} by force, {seen}{counted}."
        return [wrapped(told + _course(danger))]
    told = f"Nothing of {own}'s can be won, {seen}, even if {own} passes."
    if last == "mated":
        told += f" {other} would then have no move that avoids being mated."
    elif last <= -THRESHOLD:
        told += f" {other} would then be the one who loses {worth(last)}."
    elif last > 0:
        told = f"If {own} passes, {other} wins only {worth(last)}, {seen}: too little to count."
    early = [reach for reach, value in enumerate(danger, 1) if endangers(value)]
    if early:
        told += (
            f" {capital(ahead_only(early))}, something seems to be won; looking further, it is not."
        )
    return [wrapped(told)]


def _told_by_one_unit(survey: Survey) -> bool:
    """Whether the one unit in danger costs all that is in danger, at every reach from its own."""
    units, danger = in_danger(survey), survey["danger"] or []
    if len(units) != 1 or units[0]["status"] != "unsafe" or survey["owed"] > 0:
        return False
    return set(danger[(units[0]["reach"] or 1) - 1 :]) == {units[0]["loses"]}


def _course(danger: list[Danger]) -> str:
    """What a shorter reach shows, where it shows something else."""
    told = []
    for value, group in groupby(enumerate(danger, 1), key=lambda pair: pair[1]):
        reaches = [reach for reach, _ in group]
        if value != danger[-1]:
            seen = ahead_only(reaches)
            told.append(f"{seen}: {worth(value) if _is_worth(value) else _name(value)}")
    return f" ({capital('; '.join(told))}.)" if told else ""


def _is_worth(danger: Danger) -> TypeGuard[int]:
    return isinstance(danger, int) and danger >= THRESHOLD


def _name(danger: Danger) -> str:
    return "mate" if danger == "mate" else "nothing"


def _cost(unit: Unit, own: str) -> str:
    if unit["loses"] == "mate":
        return f"{own} can be mated"
    return f"it costs {worth(unit['loses'] or 0)}"


def _entry(survey: Survey, head: str, reasons: list[str], line: list[str] | None) -> str:
    rows = [wrapped(f"{head} {' '.join(reasons)}".strip())]
    if line:
        rows.append(wrapped(line_in_words(survey["fen"], line) + ".", indent=4, hang=2))
    return "\n".join(rows)


def _unsafe(survey: Survey) -> list[str]:
    """An entry for each proof line: the units that fall by it, then the line once."""
    by_line: dict[tuple[str, ...], list[str]] = {}
    units = _by_loss(survey, "unsafe")
    for unit in units:
        told = (
            _told_after(survey, unit) if falls_after(survey, unit, units) else _told(survey, unit)
        )
        by_line.setdefault(tuple(unit["line"] or ()), []).extend(told)
    return [_entry(survey, "", told, list(line)) for line, told in by_line.items()]


def _told(survey: Survey, unit: Unit) -> list[str]:
    seen = ahead(unit["reach"] or survey["reach"])
    head = f"{capital(the_unit(unit))} is not safe: {_cost(unit, own_side(survey))}, {seen}."
    return [head, *causes(chess.Board(survey["fen"]), unit)]


def _told_after(survey: Survey, unit: Unit) -> list[str]:
    seen = ahead(unit["reach"] or survey["reach"])
    more = worth(cost(unit))
    return [f"After that {the_unit(unit)} falls as well: that costs {more} more, {seen}."]


def _together(survey: Survey) -> list[str]:
    parts = []
    board = chess.Board(survey["fen"])
    for squares, shown in groups_together(_by_loss(survey, "unsafe together")):
        seen = ahead(shown["reach"] or survey["reach"])
        head = (
            f"{capital(units_on(board, squares))} are unsafe together: not all of them can be saved"
            f" once the threat is played. {_shared_cost(shown, own_side(survey))}, {seen}."
        )
        parts.append(_entry(survey, head, [], shown["line"]))
    return parts


def _shared_cost(unit: Unit, own: str) -> str:
    if unit["loses"] == "mate":
        return f"{own} can be mated"
    return f"That costs {worth(unit['loses'] or 0)}"


def _promotions(survey: Survey) -> list[str]:
    if not survey["promotions"]:
        return []
    other, own = other_side(survey), own_side(survey)
    told = (
        f"A pawn of {other}'s promotes on {listed(survey['promotions'], 'or')} by force if {own}"
        " passes."
    )
    example = promotion_on(survey, survey["promotions"][0])
    if example:
        told += f" It does after {numbered(survey['fen'], example[0])}, too."
    return [wrapped(told)]


def _no_unit(survey: Survey) -> list[str]:
    """A danger that charges no unit and no promotion square, as in the middle of a trade."""
    if not has_danger(survey) or in_danger(survey) or survey["promotions"]:
        return []
    last = (survey["danger"] or [0])[-1]
    if isinstance(last, int) and last - survey["owed"] < THRESHOLD:
        return [wrapped(f"Beside the trade, no unit of {own_side(survey)}'s is in danger.")]
    told = "No single unit is in danger where it stands."
    falling = [move for move in survey["moves"] if not move["holds"] and move["line"]]
    if falling:
        plain = min(falling, key=lambda move: (abs(loss(move) - _most_lost(survey)), move["san"]))
        told += f" What can be won shows after {numbered(survey['fen'], plain['line'] or ())}."
    return [wrapped(told)]


def _most_lost(survey: Survey) -> int:
    last = (survey["danger"] or [0])[-1]
    return last if isinstance(last, int) else 1_000_000


def _lesser_entry(survey: Survey, unit: Unit) -> str:
    seen = ahead(unit["reach"] or survey["reach"])
    name = capital(the_unit(unit))
    if unit["status"] == "won back":
        head = (
            f"{name} is won back: it can be taken, {seen}, but as much is regained,"
            f" {ahead(survey['reach'])}."
        )
    else:
        head = f"{name} is safe by tactics: trying to win it wins nothing, as the line shows."
    return _entry(survey, head, [], unit["line"])


def _loose(survey: Survey) -> list[str]:
    loose = [unit for unit in survey["units"] if unit["loose"]]
    if not loose:
        return []
    loose.sort(key=lambda unit: (KINDS_BY_WORTH.index(unit["unit"]), unit["square"]))
    names = listed([f"{unit['unit']} {unit['square']}" for unit in loose])
    return [wrapped(f"Loose, that is unguarded but not attacked: {names}.")]

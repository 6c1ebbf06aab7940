"""What is not safe, and why: the first part of the page."""

from __future__ import annotations

from itertools import groupby
from typing import TypeGuard

import chess

from fastness.core.shapes import Danger, Survey, Unit
from fastness.survey.lines import line_in_words, numbered, wrapped
from fastness.survey.tries import in_danger, promoting_refutation
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
    parts = [*_trade(survey), *_in_check(survey)]
    if not survey["in_check"] and not _told_by_one_unit(survey):
        parts += _whole(survey)
    parts += [_unit_entry(survey, unit) for unit in _by_loss(survey, "unsafe")]
    parts += _together(survey)
    parts += _no_unit(survey)
    parts += [_lesser_entry(survey, unit) for unit in _by_loss(survey, "won back")]
    parts += [_lesser_entry(survey, unit) for unit in _by_loss(survey, "safe by tactics")]
    parts += _loose(survey)
    return "\n".join(parts)


def _by_loss(survey: Survey, status: str) -> list[Unit]:
    found = [unit for unit in survey["units"] if unit["status"] == status]
    return sorted(found, key=_weight, reverse=True)


def _weight(unit: Unit) -> int:
    loses = unit["loses"]
    return loses if isinstance(loses, int) else 0 if loses is None else 1_000_000


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
    if not survey["moves"]:
        told = f"{own_side(survey)} is mated: the king on {king} is in check and cannot get out."
        return [wrapped(told)]
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
    if not survey["moves"]:
        return [wrapped(f"{own} has no legal move and is not in check: stalemate.")]
    last, seen = danger[-1], ahead(survey["reach"])
    if last == "mate":
        return [wrapped(f"If {own} passes, {other} mates by force, {seen}.")]
    if _is_worth(last):
        counted = ", counting the trade" if survey["owed"] > 0 else ""
        told = f"If {own} passes, {other} wins {worth(last)} by force, {seen}{counted}."
        return [wrapped(told + _course(danger))]
    told = f"Nothing of {own}'s can be won, {seen}, even if {own} passes."
    if last == "mated":
        told = f"If {own} passes, {other} has no move that avoids being mated, {seen}."
    elif last <= -THRESHOLD:
        told = f"If {own} passes, {other} is the one who loses: {worth(last)}, {seen}."
    elif last > 0:
        told = f"If {own} passes, {other} wins only {worth(last)}, {seen}: too little to count."
    early = [reach for reach, value in enumerate(danger, 1) if endangers(value)]
    if early:
        told += f" {capital(ahead_only(early))}, something seems to be won: it is won back."
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
        return f"{own} is mated"
    return f"it costs {worth(unit['loses'] or 0)}"


def _entry(survey: Survey, head: str, reasons: list[str], line: list[str] | None) -> str:
    rows = [wrapped(f"{head} {' '.join(reasons)}".strip())]
    if line:
        rows.append(wrapped(line_in_words(survey["fen"], line) + ".", indent=4, hang=2))
    return "\n".join(rows)


def _unit_entry(survey: Survey, unit: Unit) -> str:
    board = chess.Board(survey["fen"])
    seen = ahead(unit["reach"] or survey["reach"])
    head = f"{capital(the_unit(unit))} is not safe: {_cost(unit, own_side(survey))}, {seen}."
    return _entry(survey, head, causes(board, unit), unit["line"])


def _together(survey: Survey) -> list[str]:
    parts, told = [], set()
    board = chess.Board(survey["fen"])
    for unit in _by_loss(survey, "unsafe together"):
        group = frozenset([unit["square"], *unit["together"]])
        if group in told:
            continue
        told.add(group)
        names = units_on(board, sorted(group, key=[unit["square"], *unit["together"]].index))
        seen = ahead(unit["reach"] or survey["reach"])
        head = (
            f"{capital(names)} are unsafe together: not all of them can be saved once the threat"
            f" is played. {capital(_cost(unit, own_side(survey)))}, {seen}."
        )
        parts.append(_entry(survey, head, [], unit["line"]))
    return parts


def _no_unit(survey: Survey) -> list[str]:
    """A danger that charges no unit: a pawn that promotes on an empty square, or a trade."""
    if not has_danger(survey) or in_danger(survey):
        return []
    last = (survey["danger"] or [0])[-1]
    if isinstance(last, int) and last - survey["owed"] < THRESHOLD:
        return [wrapped(f"Beside the trade, no unit of {own_side(survey)}'s is in danger.")]
    example = promoting_refutation(survey)
    if example:
        move, promotion = example
        told = (
            f"No unit is in danger where it stands. A pawn promotes on {promotion[2:4]}, as after"
            f" {numbered(survey['fen'], move['line'])}."
        )
        return [wrapped(told)]
    return [wrapped("No single unit is in danger where it stands; the tries below show how.")]


def _lesser_entry(survey: Survey, unit: Unit) -> str:
    seen = ahead(unit["reach"] or survey["reach"])
    name = capital(the_unit(unit))
    if unit["status"] == "won back":
        head = (
            f"{name} is won back: it can be taken, {seen}, but as much is regained,"
            f" {ahead(survey['reach'])}."
        )
    else:
        head = f"{name} is safe by tactics: it looks as if it could be won, but the taker loses."
    return _entry(survey, head, [], unit["line"])


def _loose(survey: Survey) -> list[str]:
    loose = [unit for unit in survey["units"] if unit["loose"]]
    if not loose:
        return []
    loose.sort(key=lambda unit: (KINDS_BY_WORTH.index(unit["unit"]), unit["square"]))
    names = listed([f"{unit['unit']} {unit['square']}" for unit in loose])
    return [wrapped(f"Loose, that is unguarded but not attacked: {names}.")]

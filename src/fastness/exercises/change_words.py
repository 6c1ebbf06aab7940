"""What was changed in a twin, and why it matters, in words; every part can be checked again."""

from __future__ import annotations

from typing import cast

import chess

from fastness.core.shapes import UnitName
from fastness.exercises.edits import Edit, Moved
from fastness.exercises.twin import Twin
from fastness.language import ENGLISH, Language
from fastness.survey.claim import Falls, UnitAt
from fastness.survey.claims import claims
from fastness.survey.findings import Findings
from fastness.survey.lines import move_name, numbered
from fastness.survey.nouns import Noun, all_of, listed_or, the_unit
from fastness.survey.reasons import reason_in_words
from fastness.survey.ways import way_name

SHOWN = 3
"""The better moves named, before the rest is only counted."""


def change_in_words(edit: Edit, language: Language = ENGLISH) -> str:
    """``With the pawn on h6 instead of on h7``: what stands differently."""
    say, units = language.say, edit.units
    if units[0].before is None:
        return say("With {unit:to} added", unit=_named(units, language))
    if units[0].now is None:
        return say("Without {unit:whom}", unit=_named(units, language))
    before = [unit.before or "" for unit in units]
    if len(before) == 1:
        return say(
            "With {unit:to} instead of on {square}",
            unit=_named(units, language),
            square=before[0],
        )
    return say(
        "With {units:to} instead of on {king} and {rook}",
        units=_named(units, language),
        king=before[0],
        rook=before[1],
    )


def _named(units: tuple[Moved, ...], language: Language) -> Noun:
    return all_of([the_unit(_unit_at(unit), language) for unit in units], language)


def _unit_at(unit: Moved) -> UnitAt:
    kind = chess.piece_name(chess.Piece.from_symbol(unit.unit).piece_type)
    return UnitAt(cast("UnitName", kind), unit.now or unit.before or "")


def twin_in_words(twin: Twin, language: Language = ENGLISH) -> str:
    """What changed, what has become of the old best move and why, and the better way now.

    Raises ValueError if a line of the twin's survey does not replay.
    """
    return f"{_old_way(twin, language)} {_new_way(twin, language)}"


def _old_way(twin: Twin, language: Language) -> str:
    say, board = language.say, chess.Board(twin.fen)
    values = {
        "change": change_in_words(twin.edit, language),
        "move": move_name(board, twin.lead, language),
    }
    if not twin.falls:
        return say(
            "{change}, {move} still keeps the material, but is no longer the best way.", **values
        )
    verdict = twin.verdict(twin.lead)
    line = numbered(twin.fen, verdict["line"] or [twin.lead], language)
    reason = _reason(twin, language)
    if not reason:
        return say("{change}, {move} no longer keeps the material: {line}.", line=line, **values)
    return say(
        "{change}, {move} no longer keeps the material: {reason} ({line}).",
        line=line,
        reason=reason,
        **values,
    )


def _reason(twin: Twin, language: Language) -> str | None:
    found = Findings(claims(twin.survey), language)
    for falls in found.of(Falls):
        if falls.move == twin.lead:
            return reason_in_words(found, falls)
    return None


def _new_way(twin: Twin, language: Language) -> str:
    say = language.say
    names = [_with_way(twin, uci, language) for uci in twin.better]
    if len(names) <= SHOWN:
        return say("Better now: {moves}.", moves=listed_or(names, language))
    return say(
        "Better now: {moves} or one of {number} more.",
        moves=", ".join(names[:SHOWN]),
        number=len(names) - SHOWN,
    )


def _with_way(twin: Twin, uci: str, language: Language) -> str:
    """``Nf6 (block)``."""
    name = move_name(chess.Board(twin.fen), uci, language)
    ways = twin.verdict(uci)["ways"]
    if not ways or ways[0] == "other":
        return name
    return f"{name} ({way_name(ways[0], language)})"

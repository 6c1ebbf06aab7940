"""The survey in one line, for lists."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.core.shapes import Survey, Way
from fastness.language import ENGLISH, Language
from fastness.survey.claim import (
    AllHolding,
    Better,
    InCheck,
    InDanger,
    Mated,
    OnlyMove,
    Owed,
    Promotes,
    Stalemated,
    Taking,
    Unsafe,
)
from fastness.survey.claims import claims
from fastness.survey.findings import Findings
from fastness.survey.nouns import listed, on_squares, the_unit
from fastness.survey.words import WAYS, worth

NAMED = 4
"""Moves named before the rest is only counted."""


def in_one_line(
    survey: Survey,
    *,
    moves_given: bool = False,
    language: Language = ENGLISH,
    order: Sequence[Way] = WAYS,
) -> str:
    """`survey` in one line, without a line break: what is in danger, and what keeps it."""
    return line_text(Findings(claims(survey, moves_given=moves_given, order=order), language))


def line_text(found: Findings) -> str:
    """As `in_one_line`, from what was found."""
    language = found.language
    if found.one(Mated):
        return language.say("{own} is mated.", own=found.own)
    if found.one(Stalemated):
        return language.say("{own} has no legal move: stalemate.", own=found.own)
    told = [_danger(found), _keeps(found) if found.needs_remedy() else _taken(found)]
    text = "; ".join(filter(None, told))
    return language.say("{own} to move: {text}.", own=found.own, text=text)


def _danger(found: Findings) -> str:
    language, check, danger = found.language, found.one(InCheck), found.one(InDanger)
    if check:
        checkers = on_squares(found.board, check.checkers, language)
        return language.say("in check from {checkers}", checkers=checkers)
    unsafe, owed = found.of(Unsafe), found.one(Owed)
    if unsafe:
        return _unsafe(found, unsafe)
    if found.one(Promotes):
        square = found.of(Promotes)[0].square
        return language.say("a pawn promotes on {square}", square=square)
    if danger and owed:
        return language.say(
            "{worth} to win back in a trade", worth=worth(owed.centipawns, language)
        )
    if danger:
        return language.say("something can be won")
    return language.say("nothing is in danger")


def _unsafe(found: Findings, unsafe: list[Unsafe]) -> str:
    language, first = found.language, unsafe[0]
    if first.loses == "mate":
        return language.say("mate is threatened")
    if first.together:
        names = on_squares(found.board, [first.unit.square, *first.together], language)
        return language.say("{units} are unsafe together", units=names)
    told = language.say(
        "{unit} is not safe ({worth})",
        unit=the_unit(first.unit, language),
        worth=worth(first.loses, language),
    )
    more = len(unsafe) - 1
    if not more:
        return told
    return language.say_many(
        "{told}, nor is another", "{told}, nor are {number} more", more, told=told
    )


def _keeps(found: Findings) -> str:
    language, holding, better = found.language, found.one(AllHolding), found.one(Better)
    if not holding or not holding.moves:
        return language.say("no move keeps the material")
    only = found.one(OnlyMove)
    if only:
        return language.say("only {move} keeps the material", move=found.move(only.move))
    if holding.legal == 1:
        return language.say("the only legal move is {move}", move=found.move(holding.moves[0]))
    count = language.say_many(
        "{number} of {legal} moves keeps the material",
        "{number} of {legal} moves keep the material",
        len(holding.moves),
        legal=holding.legal,
    )
    shown = better.moves if better and better.moves else holding.moves
    names = found.moves(shown[:NAMED])
    if len(shown) > NAMED:
        more = language.say("{number} more", number=len(shown) - NAMED)
        named = listed([*names, more], language)
    else:
        named = listed(names, language)
    if better and better.moves:
        return language.say("{count}, better {moves}", count=count, moves=named)
    return f"{count}: {named}"


def _taken(found: Findings) -> str:
    takings = found.of(Taking)
    if not takings:
        return ""
    language = found.language
    units = {one.unit.square: one.unit for one in takings}
    names = listed([str(the_unit(unit, language)) for unit in units.values()], language)
    return language.say("can be taken: {units}", units=names)

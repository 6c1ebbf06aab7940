"""What a pass would lose in all: the first sentence of what is not safe."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import groupby
from typing import TypeGuard

from fastness.core.shapes import Danger
from fastness.survey.claim import InDanger, NothingUnsafe, Owed
from fastness.survey.findings import Findings
from fastness.survey.words import THRESHOLD, ahead, ahead_only, capital, worth


def whole(found: Findings) -> list[str]:
    """What the opponent wins if the side to move passes; nothing in check."""
    danger, nothing = found.one(InDanger), found.one(NothingUnsafe)
    if danger:
        return [_danger(found, danger.by_reach) + _in_the_end(found, danger)]
    return [_nothing(found, nothing.by_reach)] if nothing else []


def _danger(found: Findings, by_reach: Sequence[Danger]) -> str:
    language, last = found.language, by_reach[-1]
    names = {"own": found.own, "other": found.other}
    seen = ahead(found.position.reach, language)
    if not is_worth(last):
        return language.say("If {own} passes, {other} mates by force, {seen}.", **names, seen=seen)
    values = {**names, "worth": worth(last, language), "seen": seen}
    if found.one(Owed):
        told = language.say(
            "If {own} passes, {other} wins {worth} by force, {seen}, counting the trade.", **values
        )
    else:
        told = language.say("If {own} passes, {other} wins {worth} by force, {seen}.", **values)
    return told + _course(found, by_reach)


def _in_the_end(found: Findings, danger: InDanger) -> str:
    if danger.line is None:
        return ""
    line = found.numbered(danger.line)
    return " " + found.language.say(
        "The same is won after a move that does nothing about it: {line}.", line=line
    )


def _nothing(found: Findings, by_reach: Sequence[Danger]) -> str:
    language, last = found.language, by_reach[-1]
    names = {"own": found.own, "other": found.other}
    seen = ahead(found.position.reach, language)
    told = language.say(
        "Nothing of {own}'s can be won, {seen}, even if {own} passes.", **names, seen=seen
    )
    if last == "mated":
        told += " " + language.say(
            "{other} would then have no move that avoids being mated.", **names
        )
    elif isinstance(last, int) and last <= -THRESHOLD:
        told += " " + language.say(
            "{other} would then be the one who loses {worth}.", **names, worth=worth(last, language)
        )
    elif isinstance(last, int) and last > 0:
        told = language.say(
            "If {own} passes, {other} wins only {worth}, {seen}: too little to count.",
            **names,
            worth=worth(last, language),
            seen=seen,
        )
    early = [reach for reach, value in enumerate(by_reach, 1) if value == "mate" or is_worth(value)]
    if early:
        told += " " + language.say(
            "{seen}, something seems to be won; looking further, it is not.",
            seen=capital(ahead_only(early, language)),
        )
    return told


def _course(found: Findings, by_reach: Sequence[Danger]) -> str:
    """What a shorter reach shows, where it shows something else."""
    language, told = found.language, []
    for value, group in groupby(enumerate(by_reach, 1), key=lambda pair: pair[1]):
        if value != by_reach[-1]:
            seen = ahead_only([reach for reach, _ in group], language)
            what = _seen_there(found, value)
            if _size(value) > _size(by_reach[-1]):
                what = language.say("{worth}, but part of it is won back", worth=what)
            told.append(f"{seen}: {what}")
    return f" ({capital('; '.join(told))}.)" if told else ""


def _size(danger: Danger) -> float:
    if isinstance(danger, int):
        return danger
    return math.inf if danger == "mate" else -math.inf


def is_worth(danger: Danger) -> TypeGuard[int]:
    """Whether a danger is material that counts as won."""
    return isinstance(danger, int) and danger >= THRESHOLD


def _seen_there(found: Findings, danger: Danger) -> str:
    if is_worth(danger):
        return worth(danger, found.language)
    return found.language.say("mate") if danger == "mate" else found.language.say("nothing")

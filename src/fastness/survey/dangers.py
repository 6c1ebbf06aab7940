"""What is not safe, and why: the first part of the page."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from fastness.language import marked
from fastness.survey.battery import can_uncover_check
from fastness.survey.causes import causes
from fastness.survey.claim import (
    InCheck,
    InDanger,
    Loose,
    Loss,
    Mated,
    NoUnit,
    Owed,
    Promotes,
    SafeByTactics,
    Stalemated,
    Taking,
    Unsafe,
    WonBack,
)
from fastness.survey.entries import (
    Entry,
    ShownLine,
    backs,
    entry,
    in_rows,
    safe_by_tactics,
    shown_of,
)
from fastness.survey.findings import Findings, groups_together, worth_most
from fastness.survey.lines import PASS
from fastness.survey.nouns import bare_unit, listed, on_squares, the_unit
from fastness.survey.taken_in_turn import taken_in_turn
from fastness.survey.whole import whole
from fastness.survey.words import ahead, capital, worth


def dangers(found: Findings) -> str:
    """The part "What is not safe", with a proof line for each unit."""
    return in_rows(found, danger_entries(found))


def danger_entries(found: Findings) -> list[Entry]:
    """What is not safe, and why: an entry for each line that proves something."""
    if found.one(Mated) or found.one(Stalemated):
        return [_over(found)]
    parts = [*_trade(found), *_in_check(found)]
    if not _told_by_a_unit(found):
        parts += [entry([sentence]) for sentence in whole(found)]
    parts += _unsafe(found)
    parts += _together(found)
    parts += _promotions(found)
    parts += _no_unit(found)
    parts += _won_back(found)
    parts += _by_tactics(found)
    parts += _loose(found)
    return parts


def _over(found: Findings) -> Entry:
    say = found.language.say
    if found.one(Mated):
        told = say("{own} is mated: the king is in check and cannot get out.", own=found.own)
    else:
        told = say("{own} has no legal move and is not in check: stalemate.", own=found.own)
    return entry([told])


def _trade(found: Findings) -> list[Entry]:
    owed = found.one(Owed)
    if not owed:
        return []
    told = found.language.say(
        "A trade is in progress: {own} is owed {worth}. What follows is counted from"
        " before the trade, so a move that does not take back, or win as much elsewhere,"
        " loses it to {other}.",
        own=found.own,
        other=found.other,
        worth=worth(owed.centipawns, found.language),
    )
    return [entry([told])]


def _in_check(found: Findings) -> list[Entry]:
    check = found.one(InCheck)
    if not check:
        return []
    language = found.language
    told = language.say(
        "{king} is in check from {checkers}. In check {own} cannot pass, so the other units are"
        " not judged: the moves below tell what can be kept.",
        king=on_squares(found.board, [check.king], language),
        checkers=on_squares(found.board, check.checkers, language),
        own=found.own,
    )
    return [entry([capital(told)])]


def _told_by_a_unit(found: Findings) -> bool:
    """Whether the king is mated, or one unit costs all that is in danger, from its own reach on."""
    units, danger = found.of(Unsafe), found.one(InDanger)
    if danger and danger.by_reach[-1] == "mate" in [one.loses for one in units]:
        return True
    if not danger or len(units) != 1 or units[0].together or found.one(Owed) is not None:
        return False
    return set(danger.by_reach[units[0].reach - 1 :]) == {units[0].loses}


def _unsafe(found: Findings) -> list[Entry]:
    """An entry for each proof line: the units that fall by it, then the line once."""
    by_line: dict[tuple[str, ...], list[str]] = {}
    alone = [unsafe for unsafe in found.of(Unsafe) if not unsafe.together]
    for place, unsafe in enumerate(alone):
        said = by_line.setdefault(unsafe.line, [])
        if unsafe.after:
            said.append(_after(found, unsafe, alone[:place], said))
        else:
            said += _told(found, unsafe, said)
    return [
        entry(told, line, backs(found, [one.unit for one in alone if one.line == line], line))
        for line, told in by_line.items()
    ]


def _told(found: Findings, unsafe: Unsafe, said: Collection[str]) -> list[str]:
    language, name = found.language, the_unit(unsafe.unit, found.language)
    seen = ahead(unsafe.reach, language)
    if unsafe.loses == "mate":
        head = language.say(
            "{unit} is not safe: {own} can be mated, {seen}.", unit=name, own=found.own, seen=seen
        )
    else:
        head = language.say(
            "{unit} is not safe: it costs {worth}, {seen}.",
            unit=name,
            worth=worth(unsafe.loses, language),
            seen=seen,
        )
    return [capital(head), *causes(found, unsafe, said=said), *_at_stake(found, unsafe)]


def _at_stake(found: Findings, unsafe: Unsafe) -> list[str]:
    """What else is in danger after a quiet threat, where that is why the unit falls."""
    claim, language = found.at_stake(unsafe.line), found.language
    if claim is None:
        return []
    told = language.say_many(
        "After {move} {units} is in danger as well.",
        "After {move} {units} are in danger as well.",
        len(claim.squares),
        move=found.threat(claim.line),
        units=on_squares(found.board, claim.squares, language),
    )
    return [*can_uncover_check(found, claim), told]


def _after(found: Findings, unsafe: Unsafe, before: Sequence[Unsafe], said: Collection[str]) -> str:
    """That a unit is taken after others, or where it does not come on top, in another line."""
    language, danger = found.language, found.one(InDanger)
    text = _AFTER_THAT if said else _AFTER_MORE
    most = danger.by_reach[-1] if danger else None
    total = sum(worth_most(one.loses) for one in [*before, unsafe])
    if not said and isinstance(most, int) and total > most:
        text = _OR_ELSE
    return language.say(
        text,
        unit=the_unit(unsafe.unit, language),
        worth=worth(unsafe.loses if isinstance(unsafe.loses, int) else 0, language),
        seen=ahead(unsafe.reach, language),
    )


_AFTER_THAT = marked("After that {unit} is taken as well: that costs {worth} more, {seen}.")
_OR_ELSE = marked("In another line {unit} is taken: that costs {worth}, {seen}.")
_AFTER_MORE = marked("Later {unit} is taken as well: that costs {worth} more, {seen}.")


def _together(found: Findings) -> list[Entry]:
    parts: list[Entry] = []
    for group in groups_together(found.of(Unsafe)):
        shown, squares = shown_of(group), [group[0].unit.square, *group[0].together]
        told = [
            capital(_who_falls(found, group, squares)),
            _shared_cost(found, shown.loses, shown.reach),
        ]
        told += causes(found, shown, together=True)
        parts.append(Entry(tuple(told), _lines_together(found, group, shown)))
    return parts


def _who_falls(found: Findings, group: Sequence[Unsafe | Taking], squares: Sequence[str]) -> str:
    language, units = found.language, on_squares(found.board, squares, found.language)
    turn = taken_in_turn(found, group)
    if turn is None:
        return language.say(_BOTH if len(squares) == 2 else _ALL, units=units)
    return language.say(
        "{units} are unsafe together: {other} takes {first}, and after {back} {last}.",
        units=units,
        other=found.other,
        first=on_squares(found.board, [turn.first], language),
        back=found.last_of(turn.line),
        last=on_squares(found.board, [turn.last], language),
    )


def _lines_together(
    found: Findings, group: Sequence[Unsafe | Taking], shown: Unsafe | Taking
) -> tuple[ShownLine, ...]:
    """Who falls depends on the reply: a line for each, with who falls in it."""
    fall = {shown.line: shown}
    for one in group:
        if PASS not in one.line[1:]:
            fall.setdefault(one.line, one)
    if len(fall) == 1:
        return (ShownLine(shown.line),)
    return tuple(
        ShownLine(line, the_unit(one.unit, found.language))
        for line, one in list(fall.items())[:LINES]
    )


_BOTH = marked(
    "{units} are unsafe together: once the threat is played, only one of them can be saved."
)
_ALL = marked(
    "{units} are unsafe together: once the threat is played, not all of them can be saved."
)
LINES = 3
"""Lines shown of units that are unsafe together."""


def _shared_cost(found: Findings, loses: Loss, reach: int) -> str:
    language, seen = found.language, ahead(reach, found.language)
    if loses == "mate":
        return language.say("{own} can be mated, {seen}.", own=found.own, seen=seen)
    return language.say("That costs {worth}, {seen}.", worth=worth(loses, language), seen=seen)


def _promotions(found: Findings) -> list[Entry]:
    language, parts = found.language, []
    for one in found.of(Promotes):
        told = language.say(
            "A pawn of {other}'s promotes on {square} by force if {own} passes.",
            own=found.own,
            other=found.other,
            square=one.square,
        )
        parts.append(entry([told], one.line))
    return parts


def _no_unit(found: Findings) -> list[Entry]:
    """A danger that charges no unit and no promotion square, as in the middle of a trade."""
    claim, say = found.one(NoUnit), found.language.say
    if not claim:
        return []
    if found.one(Owed) and not claim.line:
        return [entry([say("Beside the trade, no unit of {own}'s is in danger.", own=found.own)])]
    told = say("No single unit is in danger where it stands.")
    if claim.line:
        line = found.numbered(claim.line)
        told += " " + say("What can be won shows after {line}.", line=line)
    return [entry([told])]


def _won_back(found: Findings) -> list[Entry]:
    language, parts = found.language, []
    for claim in found.of(WonBack):
        if found.is_own(claim.unit):
            head = language.say(
                "{unit} is won back: it can be taken, {seen}, but as much is regained, {further}.",
                unit=the_unit(claim.unit, language),
                seen=ahead(claim.reach, language),
                further=ahead(found.position.reach, language),
            )
            parts.append(entry([capital(head)], claim.line))
    return parts


def _by_tactics(found: Findings) -> list[Entry]:
    own = [claim for claim in found.of(SafeByTactics) if found.is_own(claim.unit)]
    return [entry([safe_by_tactics(found, claim)], claim.line) for claim in own]


def _loose(found: Findings) -> list[Entry]:
    loose = found.one(Loose)
    if not loose:
        return []
    endangered = found.endangered()
    units = [unit for unit in loose.units if unit.square not in endangered]
    if not units:
        return []
    names = listed([bare_unit(unit, found.language) for unit in units], found.language)
    told = found.language.say("Loose, that is unguarded but not attacked: {names}.", names=names)
    return [entry([told])]

"""What can be taken: the opponent's units that the side to move could win now."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import groupby

from fastness.survey.causes import causes
from fastness.survey.claim import (
    Falls,
    InDanger,
    Owed,
    PerhapsATrade,
    SafeByTactics,
    Taking,
    TakingMove,
    UnitAt,
    Unsafe,
    WonBack,
)
from fastness.survey.entries import Entry, backs, entry, in_rows, safe_by_tactics, shown_of
from fastness.survey.findings import Findings, groups_together
from fastness.survey.lines import taken_at, wrapped_items
from fastness.survey.nouns import on_squares, the_unit
from fastness.survey.remedies import SHOWN, gain
from fastness.survey.tries import is_quiet
from fastness.survey.words import ahead, capital, lost, worth


def can_be_taken(found: Findings) -> list[UnitAt]:
    """The opponent's units that the next move can take, those included that are won back."""
    taken: list[Taking | WonBack] = [*found.of(Taking)]
    taken += [one for one in found.of(WonBack) if not found.is_own(one.unit)]
    return [
        one.unit for one in taken if taken_at(found.position.fen, one.line, one.unit.square) == 0
    ]


def takes_more(found: Findings) -> bool:
    """Whether a unit can be taken that is worth more than all that is in danger."""
    danger, mates = found.one(InDanger), [one for one in found.of(Taking) if one.loses == "mate"]
    if mates:
        return True
    if danger is None or not isinstance(danger.by_reach[-1], int):
        return False
    return any(
        isinstance(one.loses, int) and one.loses > danger.by_reach[-1] for one in found.of(Taking)
    )


def takings(found: Findings) -> str:
    """The part "What can be taken", with a line for each unit; empty if nothing can be won.

    Unless the moves before are known, it says that a bare position may be the middle of a trade.
    """
    rows = [in_rows(found, entries)] if (entries := taking_entries(found)) else []
    if not found.needs_remedy():
        rows += winning_moves(found)
    return "\n".join(rows)


def taking_entries(found: Findings) -> list[Entry]:
    """What can be taken, an entry for each line; and that it may be the middle of a trade."""
    entries = _by_line(found)
    if found.one(PerhapsATrade):
        told = found.language.say(
            "This position may be the middle of a trade, in which {own} is only about to take"
            " back. To have it judged from the start of the trade, give the position before it and"
            " the moves since.",
            own=found.own,
        )
        entries.append(entry([told]))
    return entries


def winning_moves(found: Findings) -> list[str]:
    """The moves that win material or mate, by what they win, best first."""
    rows = []
    for net, moves in groupby(forcing_first(found), key=lambda one: one.net):
        names = found.moves(one.move for one in moves)
        label = f"{gain(net, found.language)}:"
        more = len(names) - SHOWN
        if more > 0:
            names = [*names[:SHOWN], found.language.say("and {number} more", number=more)]
        rows.append(wrapped_items(label, names, column=25))
    return rows


def forcing_first(found: Findings) -> list[TakingMove]:
    """The moves that win something, best first; of equal ones what takes, promotes or checks."""
    wins = found.of(TakingMove)
    order = list(dict.fromkeys(one.net for one in wins))
    return sorted(wins, key=lambda one: (order.index(one.net), is_quiet(found.board, one.move)))


def _by_line(found: Findings) -> list[Entry]:
    """An entry for each line, what gains most first: the units it wins, then the line once."""
    by_line: dict[tuple[str, ...], list[str]] = {}
    takings_ = found.of(Taking)
    for one in takings_:
        if not one.together:
            said = by_line.setdefault(one.line, [])
            said += _taking(found, one, said)
    for back in found.of(WonBack):
        if not found.is_own(back.unit):
            by_line.setdefault(back.line, []).append(_won_back(found, back))
    for safe in found.of(SafeByTactics):
        if not found.is_own(safe.unit):
            by_line.setdefault(safe.line, []).append(safe_by_tactics(found, safe))
    for group in groups_together(takings_):
        shown, squares = shown_of(group), [group[0].unit.square, *group[0].together]
        by_line.setdefault(shown.line, []).extend(_one_of(found, squares, shown))
    return [
        entry(told, line, backs(found, [one.unit for one in takings_ if one.line == line]))
        for line, told in by_line.items()
    ]


def _taking(found: Findings, one: Taking, said: Collection[str]) -> list[str]:
    language = found.language
    values = {"own": found.own, "unit": the_unit(one.unit, language)}
    seen = ahead(one.reach, language)
    if one.loses == "mate":
        head = language.say("{own} mates by force, {seen}.", **values, seen=seen)
        return [head, *causes(found, one, said=said)]
    amount = worth(one.loses, language)
    if one.after:
        return [
            language.say(
                "After that {unit} is taken as well: that wins {worth} more, {seen}.",
                **values,
                worth=amount,
                seen=seen,
            )
        ]
    if found.one(Owed):
        head = language.say(
            "{unit} can be taken: {own} takes back {worth}, {seen}.",
            **values,
            worth=amount,
            seen=seen,
        )
    else:
        head = language.say(
            "{unit} can be taken: {own} wins {worth}, {seen}.", **values, worth=amount, seen=seen
        )
    return [capital(head), *causes(found, one, said=said), *_fails_further_on(found, one)]


def _fails_further_on(found: Findings, one: Taking) -> list[str]:
    """That the move which takes loses something in the end, where more than that is in danger."""
    falls = next((move for move in found.of(Falls) if move.move == one.line[0]), None)
    if falls is None:
        return []
    told = found.language.say(
        "But {seen}, {move} {loses}.",
        seen=ahead(found.position.reach, found.language),
        move=found.numbered(one.line[:1]),
        loses=lost(falls.loses, found.language),
    )
    return [told]


def _won_back(found: Findings, back: WonBack) -> str:
    told = found.language.say(
        "{unit} can be taken, but {other} wins it back.",
        unit=the_unit(back.unit, found.language),
        other=found.other,
    )
    return capital(told)


def _one_of(found: Findings, squares: Sequence[str], shown: Taking | Unsafe) -> list[str]:
    """Units of which not all can be saved, as by a fork."""
    language = found.language
    values = {"units": on_squares(found.board, squares, language), "own": found.own}
    seen = ahead(shown.reach, language)
    if shown.loses == "mate":
        head = language.say(
            "{units} cannot all be saved: {own} can mate, {seen}.", **values, seen=seen
        )
    else:
        head = language.say(
            "{units} cannot all be saved: {own} wins {worth}, {seen}.",
            **values,
            worth=worth(shown.loses, language),
            seen=seen,
        )
    return [capital(head), *causes(found, shown, together=True)]

"""Why a unit falls, in sentences for the teacher: one for each mechanism named."""

from __future__ import annotations

from collections.abc import Collection, Sequence

import chess

from fastness.language import marked
from fastness.survey.claim import Cause, Count, Taking, UnitAt, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.lines import taken_at
from fastness.survey.mechanisms import parts
from fastness.survey.nouns import Noun, a_unit, it, listed, on_square, on_squares
from fastness.survey.scene import scene
from fastness.survey.words import RANK, capital, times

_BY_COUNT = ("unguarded", "less valuable attacker", "outnumbered")

_TEXTS = {
    "fork": marked("{forker} forks {forked}."),
    "fork by a move": marked("{move} forks {forked}."),
    "pin": marked("{slider} pins {front} to {back}."),
    "skewer": marked(
        "{slider} attacks {front}, and {back} stands behind on the same line: a skewer."
    ),
    "pinned guard": marked("its guard, {front}, is pinned to {back} by {slider}."),
    "overloaded guard": marked("{guard} guards {it} and also {second}, and cannot do both."),
    "mate, overloaded guard": marked(
        "{guard} guards against the mate and also {second}, and cannot do both."
    ),
    "mate, guard taken": marked("{guard}, a guard against the mate, is taken first."),
    "mate, guard driven off": marked(
        "{guard}, a guard against the mate, is driven or drawn off first."
    ),
    "guard taken": marked("its guard, {guard}, is taken first."),
    "guard driven off": marked("its guard, {guard}, is driven or drawn off first."),
    "discovered attack": marked("{move} uncovers the line of {slider}: a discovered attack."),
    "discovered check": marked("{move} uncovers a check by {checker}."),
    "double check": marked("{move} is check from two sides at once, so the king has to move."),
    "trapped": marked("{it} is trapped: once attacked, there is no move to safety."),
    "trapped, no move": marked("{it} is trapped: once attacked, there is no move at all."),
    "back rank": marked("taking back would allow a back-rank mate of {king}."),
    "mated on the back rank": marked("it is a back-rank mate."),
    "mate threat": marked("{move} threatens mate, and while that is prevented {it} falls."),
    "mate if retaken": marked("taking back would allow mate."),
    "promotion": marked("in the line a pawn promotes on {square}."),
    "given for a pawn": marked("{it} has to be given for {pawn}, which would promote."),
    "interference": marked("{move} cuts {it} off from its guard, {guard}."),
    "in-between move": marked(
        "{move} comes in between, before anything is taken back on {square}."
    ),
    "desperado": marked("{taker} would be lost anyway and takes what it can: a desperado."),
}

_NAMES_ITS_UNITS = (
    "fork",
    "fork by a move",
    "skewer",
    "pin",
    "discovered attack",
    "discovered check",
    "double check",
)
"""Sentences without an "it"."""

_NAMES = {
    "unguarded": marked("unguarded"),
    "less valuable attacker": marked("less valuable attacker"),
    "outnumbered": marked("outnumbered"),
    "pinned guard": marked("pinned guard"),
    "overloaded guard": marked("overloaded guard"),
    "removal of the guard": marked("removal of the guard"),
    "fork": marked("fork"),
    "pin": marked("pin"),
    "skewer": marked("skewer"),
    "discovered attack": marked("discovered attack"),
    "discovered check": marked("discovered check"),
    "double check": marked("double check"),
    "trapped": marked("trapped"),
    "back rank": marked("back rank"),
    "mate threat": marked("mate threat"),
    "promotion": marked("promotion"),
    "interference": marked("interference"),
    "in-between move": marked("in-between move"),
    "desperado": marked("desperado"),
}


def mechanism_name(found: Findings, name: str) -> str:
    """A mechanism's name in the language; one that is not known stays as it is."""
    return found.language.say(_NAMES[name]) if name in _NAMES else name


def causes(
    found: Findings,
    fall: Unsafe | Taking,
    *,
    together: bool = False,
    said: Collection[str] = (),
) -> list[str]:
    """Why a unit falls, a sentence for each mechanism named; the facts if none is.

    `together`: the sentence before names several units, so that "it" would not be clear, and only
    what names its units is told. `said` are sentences told before in the same entry, which are
    told again only where they speak of another "it".
    """
    told = [] if together else _by_count(found, fall)
    unknown = []
    played = scene(found.position.fen, fall.line, fall.unit.square)
    for cause in _without_doubles(found.causes(fall.unit)):
        what = parts(cause, played, found.language)
        if what:
            key, values, later = what
            sentence = _sentence(found, fall.unit, key, values, later)
            names_its_units = key in _NAMES_ITS_UNITS
            if names_its_units and sentence in said:
                continue
            told += [sentence] if names_its_units or not together else []
        elif cause.mechanism != "mate threat" or fall.unit.kind != "king":
            unknown.append(mechanism_name(found, cause.mechanism))
    if unknown and not together:
        names = listed(unknown, found.language)
        told.append(found.language.say("Cause: {names}.", names=names))
    if told or together or fall.unit.kind == "king" or found.causes(fall.unit):
        return list(dict.fromkeys(told))
    return [_facts(found, fall)]


def _without_doubles(causes_: Sequence[Cause]) -> list[Cause]:
    """The causes that are not told by the count, less those that another says more exactly."""
    names = {cause.mechanism for cause in causes_}
    dropped = set(_BY_COUNT)
    if "double check" in names:
        dropped |= {"discovered check", "discovered attack"}
    if "discovered check" in names:
        dropped.add("discovered attack")
    return [cause for cause in causes_ if cause.mechanism not in dropped]


def _sentence(
    found: Findings, unit: UnitAt, key: str, values: dict[str, object], later: bool
) -> str:
    told = found.language.say(_TEXTS[key], **values, it=it(unit.kind, found.language))
    if later and "move" not in values:
        return found.language.say("Later in the line, {told}", told=told)
    return capital(told)


def _by_count(found: Findings, fall: Unsafe | Taking) -> list[str]:
    names = [cause.mechanism for cause in found.causes(fall.unit)]
    count = found.count(fall.unit)
    if count is None:
        return []
    told = []
    if "less valuable attacker" in names:
        told.append(_less_valuable(found, fall, count))
    # The sentence on the attacker says that nothing guards it.
    elif "unguarded" in names:
        told.append(_unguarded(found, count))
    if "outnumbered" in names:
        told.append(_outnumbered(found, count))
    return told


def _on(found: Findings, squares: Sequence[str]) -> Noun:
    return on_squares(found.board, squares, found.language)


def _unguarded(found: Findings, count: Count) -> str:
    its = it(count.unit.kind, found.language)
    if not count.attackers:
        return found.language.say("Nothing attacks {it} yet, and nothing guards {it}.", it=its)
    told = found.language.say_many(
        "{attackers} attacks {it}, and nothing guards {it}.",
        "{attackers} attack {it}, and nothing guards {it}.",
        len(count.attackers),
        attackers=_on(found, count.attackers),
        it=its,
    )
    return capital(told)


def _kind(board: chess.Board, square: str) -> str:
    kind = board.piece_type_at(chess.parse_square(square))
    return chess.piece_name(kind) if kind else ""


def _less_valuable(found: Findings, fall: Unsafe | Taking, count: Count) -> str:
    rank = RANK[count.unit.kind]
    lesser = [at for at in count.attackers if RANK[_kind(found.board, at)] < rank]
    if not lesser:
        return _lesser_taker(found, fall, count)
    values = {"attackers": _on(found, lesser), "it": it(count.unit.kind, found.language)}
    say_many = found.language.say_many
    if not count.guards:
        told = say_many(
            "{attackers} attacks {it} and is worth less, and nothing guards {it}.",
            "{attackers} attack {it} and are worth less, and nothing guards {it}.",
            len(lesser),
            **values,
        )
        return capital(told)
    attacked = say_many(
        "{attackers} attacks {it} and is worth less",
        "{attackers} attack {it} and are worth less",
        len(lesser),
        **values,
    )
    told = say_many(
        "{attacked}, so the guard ({guards}) is not enough.",
        "{attacked}, so the guards ({guards}) are not enough.",
        len(count.guards),
        attacked=attacked,
        guards=_on(found, count.guards),
    )
    return capital(told)


def _lesser_taker(found: Findings, fall: Unsafe | Taking, count: Count) -> str:
    """Nothing that attacks it now is worth less, but what takes it in the line may be."""
    language, its = found.language, it(count.unit.kind, found.language)
    index = taken_at(found.position.fen, fall.line, fall.unit.square)
    taking = scene(found.position.fen, fall.line, fall.unit.square).taking()
    start = fall.line[index][:2] if index is not None else ""
    kind = _kind(taking.before, start) if taking else "king"
    if index is None or RANK[kind] >= RANK[count.unit.kind]:
        return language.say("The line shows how it is won.", it=its)
    if all(uci[2:4] != start for uci in fall.line[:index]):
        taker = on_square(found.board, start, language)
        return language.say(
            "In the line {taker} takes {it} and is worth less.", taker=taker, it=its
        )
    return language.say(
        "In the line {taker} that has come to {square} takes {it} and is worth less.",
        taker=a_unit(kind, language),
        square=start,
        it=its,
    )


def _outnumbered(found: Findings, count: Count) -> str:
    language, attackers, guards = found.language, count.attackers, count.guards
    told = language.say(
        "{it} is attacked {often} ({attackers})",
        often=times(len(attackers), language),
        attackers=_on(found, attackers),
        it=it(count.unit.kind, language),
    )
    told = capital(told)
    guarded = {"often": times(len(guards), language), "attacked": told}
    if guards:
        names = _on(found, guards)
        told = language.say("{attacked} and guarded {often} ({guards})", **guarded, guards=names)
    else:
        told = language.say("{attacked} and guarded {often}", **guarded)
    if count.behind:
        return language.say_many(
            "{told}; behind it stands {units}.",
            "{told}; behind stand {units}.",
            len(count.behind),
            told=told,
            units=_on(found, count.behind),
        )
    if len(attackers) <= len(guards):
        return language.say("{told}; the line shows how it is won.", told=told)
    return f"{told}."


def _facts(found: Findings, fall: Unsafe | Taking) -> str:
    count, language = found.count(fall.unit), found.language
    its = it(fall.unit.kind, language)
    if count is None or not count.attackers:
        return language.say("Nothing attacks {it} yet; the line shows how it is won.", it=its)
    attacked = language.say_many(
        "{attackers} attacks {it}",
        "{attackers} attack {it}",
        len(count.attackers),
        attackers=_on(found, count.attackers),
        it=its,
    )
    if not count.guards:
        return capital(language.say("{told}; the line shows how it is won.", told=attacked))
    told = language.say_many(
        "{attacked}; {guards} guards {it}; the line shows how it is won.",
        "{attacked}; {guards} guard {it}; the line shows how it is won.",
        len(count.guards),
        attacked=attacked,
        guards=_on(found, count.guards),
        it=its,
    )
    return capital(told)


def by_telling(causes_: Sequence[Cause]) -> list[Cause]:
    """Causes by what they tell: what happens before what follows from the count alone."""
    return sorted(causes_, key=lambda cause: cause.mechanism in _BY_COUNT)

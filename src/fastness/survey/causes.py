"""Why a unit falls, in sentences for the teacher: one for each mechanism named."""

from __future__ import annotations

from collections.abc import Collection, Sequence

import chess

from fastness.language import marked
from fastness.survey.attackers import BY_COUNT, by_count, comes_later, facts
from fastness.survey.claim import Cause, Taking, UnitAt, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.mechanisms import parts
from fastness.survey.nouns import it, listed
from fastness.survey.scene import Scene, scene
from fastness.survey.words import capital

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
    "attacked, trapped": marked("{it} is trapped: it has no move to safety."),
    "attacked, trapped, no move": marked("{it} is trapped: it has no move at all."),
    "back rank": marked("taking back would allow a back-rank mate of {king}."),
    "mated on the back rank": marked("it is a back-rank mate."),
    "mate threat": marked("{move} threatens mate, which has to be met."),
    "mate if retaken": marked("taking back would allow mate."),
    "promotion": marked("in the line a pawn promotes on {square}."),
    "given for a pawn": marked("{it} has to be given for {pawn}, which would promote."),
    "interference": marked("{move} cuts {it} off from its guard, {guard}."),
    "in-between move": marked(
        "{move} comes in between, before anything is taken back on {square}."
    ),
    "desperado": marked("{taker} would be lost anyway and takes what it can: a desperado."),
}

BESIDES = {"in-between move", "desperado"}
"""What happens besides; told only where nothing else tells why a unit falls."""

OF_THE_GUARD = {"pinned guard", "overloaded guard", "removal of the guard", "interference"}
"""What keeps a guard from guarding."""

_NAMES_ITS_UNITS = (
    "fork",
    "fork by a move",
    "skewer",
    "pin",
    "discovered attack",
    "discovered check",
    "double check",
    "mate threat",
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
    counted = [] if together else by_count(found, fall)
    told: list[str] = []
    later_told: list[str] = []
    unknown = []
    played = scene(found.position.fen, fall.line, fall.unit.square)
    shown = shown_by(played, found.causes(fall.unit))
    causing = {cause.mechanism for cause in shown}
    # What taking back costs is told below, with its line.
    retaken = found.tells_of_taking_back(fall)
    outnumbered = _outnumbered(found, fall)
    for cause in _without_doubles(shown, outnumbered=outnumbered, counted=bool(counted)):
        what = parts(cause, played, found.language)
        if what:
            key, values, later = what
            if key == "mate if retaken" and (retaken or "back rank" in causing):
                continue
            sentence = _sentence(found, fall.unit, key, values, later)
            names_its_units = key in _NAMES_ITS_UNITS
            if names_its_units and sentence in said:
                continue
            if names_its_units or not together:
                (later_told if later else told).append(sentence)
        elif cause.mechanism != "mate threat" or fall.unit.kind != "king":
            unknown.append(mechanism_name(found, cause.mechanism))
    told += later_told
    if not (told and comes_later(found, fall)):
        told = [*counted, *told]
    # A bare name explains nothing where something else does.
    if unknown and not told and not together:
        names = listed(unknown, found.language)
        told.append(found.language.say("Cause: {names}.", names=names))
    if told or together or fall.unit.kind == "king":
        return list(dict.fromkeys(told))
    return [facts(found, fall)]


def shown_by(played: Scene, causes_: Sequence[Cause]) -> list[Cause]:
    """The causes less what is true on the board and not what the line wins by.

    A guard that takes back, and whose other duty is never called on, could do both; a guard that
    is driven off is not missed where a check keeps those that are left from taking back.
    """
    checks = {"discovered check", "double check"} & {cause.mechanism for cause in causes_}
    kept_off = bool(checks) and _check_keeps_guards_off(played)
    pinned = any(_pins_to_king(played, cause) for cause in causes_)
    return [
        cause
        for cause in causes_
        if not (cause.mechanism == "removal of the guard" and kept_off)
        and not (cause.mechanism == "trapped" and pinned)
        and not (cause.mechanism == "overloaded guard" and _does_both(played, cause))
    ]


def _pins_to_king(played: Scene, cause: Cause) -> bool:
    """Whether a unit is pinned to its king, which says more than that it is trapped."""
    squares = [chess.parse_square(name) for name in cause.squares]
    king = played.board.king(played.owner)
    return cause.mechanism == "pin" and played.unit in squares and king in squares


def _check_keeps_guards_off(played: Scene) -> bool:
    taking = played.taking()
    if taking is None or not taking.after.is_check():
        return False
    return bool(taking.after.attackers(played.owner, taking.move.to_square))


def _does_both(played: Scene, cause: Cause) -> bool:
    """Whether in the line a guard takes back for the unit while its other duty is left alone."""
    if played.capture is None or len(cause.squares) != 3:
        return False
    squares = [chess.parse_square(name) for name in cause.squares]
    others = [square for square in squares if square != played.unit]
    called = {step.move.to_square for step in played.attacks()}
    called |= {step.move.to_square for step in played.steps[played.capture + 1 :]}
    back = played.steps[played.capture + 1 : played.capture + 2]
    takes_back = any(
        step.takes
        and step.move.to_square == played.steps[played.capture].move.to_square
        and step.move.from_square in others
        for step in back
    )
    return takes_back and not called & set(others)


def _outnumbered(found: Findings, fall: Unsafe | Taking) -> bool:
    """Whether more attack a unit than guard it, so that no guard need be busy elsewhere."""
    count = found.count(fall.unit)
    return count is not None and len(count.attackers) > len(count.guards)


def _without_doubles(causes_: Sequence[Cause], *, outnumbered: bool, counted: bool) -> list[Cause]:
    """The causes that are not told by the count, less those that another says more exactly.

    `counted`: the count tells why it falls already.
    """
    names = {cause.mechanism for cause in causes_}
    dropped = set(BY_COUNT)
    if "less valuable attacker" in names:
        # A guard does not help then, so what keeps it from guarding does not matter.
        dropped |= OF_THE_GUARD
    if outnumbered and "outnumbered" in names:
        dropped.add("overloaded guard")
    if "double check" in names:
        dropped |= {"discovered check", "discovered attack"}
    if "discovered check" in names:
        dropped.add("discovered attack")
    if counted or names - dropped - BESIDES:
        dropped |= BESIDES
    return [cause for cause in causes_ if cause.mechanism not in dropped]


def _sentence(
    found: Findings, unit: UnitAt, key: str, values: dict[str, object], later: bool
) -> str:
    told = found.language.say(_TEXTS[key], **values, it=it(unit.kind, found.language))
    if later and "move" not in values:
        return found.language.say("Later in the line, {told}", told=told)
    return capital(told)


def by_telling(causes_: Sequence[Cause]) -> list[Cause]:
    """Causes by what they tell: what happens before what follows from the count alone.

    What is attacked by something worth less, or more often than guarded, falls whatever else
    happens to its guards; an attack that is a check is told as that.
    """
    names = {cause.mechanism for cause in causes_}
    counted = {"less valuable attacker", "outnumbered"} & names
    idle = BESIDES | OF_THE_GUARD if counted else BESIDES
    dropped = {"discovered attack"} if "discovered check" in names else set()
    return sorted(
        (cause for cause in causes_ if cause.mechanism not in dropped),
        key=lambda cause: (cause.mechanism in idle, cause.mechanism in BY_COUNT),
    )

"""Claims on units and on the danger as a whole: what is found about them."""

from __future__ import annotations

from fastness.core.shapes import Unit
from fastness.exercises.difficulty import is_unsafe
from fastness.language import Language
from fastness.lessons.found import SO, Found
from fastness.lessons.lesson import FallsBy, Safety, Threatened
from fastness.lessons.seen import Seen
from fastness.survey.causes import mechanism_name
from fastness.survey.danger import endangers
from fastness.survey.lines import line_in_words
from fastness.survey.nouns import listed, on_square, on_squares
from fastness.survey.whole import whole
from fastness.survey.words import ahead, worth


def safety(seen: Seen, claim: Safety, language: Language) -> list[Found]:
    """``unsafe: c6`` and ``safe: d4``, square by square."""
    return [_safety(seen, square, claim.unsafe, language) for square in claim.squares]


def _safety(seen: Seen, square: str, unsafe: bool, language: Language) -> Found:
    if untold := _not_judged(seen, square, language):
        return untold
    if unsafe and seen.is_own(square) and seen.is_surely_unsafe(square):
        return SO
    unit = seen.unit(square)
    lost = unit is not None and is_unsafe(unit)
    won_back = unit is not None and unit["status"] == "won back"
    if lost == unsafe and not (won_back and not unsafe):
        return SO
    return Found(False, _told(seen, square, unit, language), _line(seen, unit, language))


def _not_judged(seen: Seen, square: str, language: Language) -> Found | None:
    """In check there is no pass, by which the own units are judged."""
    if not (seen.board.is_check() and seen.is_own(square)):
        return None
    told = language.say("in check no unit is judged; claim which moves keep the material instead")
    return Found(None, told)


def _told(seen: Seen, square: str, unit: Unit | None, language: Language) -> str:
    name, say = on_square(seen.board, square, language), language.say
    there = ahead(seen.reach, language)
    if unit is None or unit["status"] == "safe":
        return say("{unit} cannot be won, {there}", unit=name, there=there)
    if unit["status"] == "safe by tactics":
        return say("{unit} is safe by tactics: trying to win it wins nothing", unit=name)
    if unit["status"] == "won back":
        return say("{unit} is won back: it can be taken, but as much is regained", unit=name)
    if unit["loses"] == "mate":
        return say("{unit} can be mated, {there}", unit=name, there=there)
    if unit["together"]:
        units = on_squares(seen.board, [square, *unit["together"]], language)
        return say("{units} are unsafe together: not all of them can be saved", units=units)
    return say(
        "{unit} is not safe: it costs {worth}", unit=name, worth=worth(unit["loses"] or 0, language)
    )


def _line(seen: Seen, unit: Unit | None, language: Language) -> str:
    return line_in_words(seen.place.fen, (unit and unit["line"]) or (), language)


def falls_by(seen: Seen, claim: FallsBy, language: Language) -> list[Found]:
    """``mechanism: c6 pin``."""
    if untold := _not_judged(seen, claim.square, language):
        return [untold]
    unit = seen.unit(claim.square)
    if unit is None or not is_unsafe(unit):
        told = _told(seen, claim.square, unit, language)
        return [Found(False, told, _line(seen, unit, language))]
    if claim.mechanism in unit["mechanisms"]:
        return [SO]
    found = seen.findings(language)
    names = [mechanism_name(found, name) for name in unit["mechanisms"]]
    told = language.say(
        "{unit} falls by: {names}",
        unit=on_square(seen.board, claim.square, language),
        names=listed(names, language) or language.say("no mechanism that has a name"),
    )
    return [Found(False, told, _line(seen, unit, language))]


def threatened(seen: Seen, claim: Threatened, language: Language) -> list[Found]:
    """``danger: 3``."""
    by_reach = seen.survey["danger"]
    if not by_reach or not seen.survey["moves"]:
        return [Found(None, language.say("in check, or with no legal move, there is no danger"))]
    danger = by_reach[-1]
    so = not endangers(danger) if claim.worth == "none" else danger == claim.worth
    if so:
        return [SO]
    told = " ".join(whole(seen.findings(language))).rstrip(".")
    return [Found(False, told, line_in_words(seen.place.fen, seen.threat(), language))]

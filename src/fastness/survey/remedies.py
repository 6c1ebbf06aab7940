"""The moves that keep the material: the better ways, the others, or all by way."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fastness.core.shapes import Way
from fastness.language import Language
from fastness.survey.claim import (
    AtAPrice,
    Better,
    Gain,
    Holds,
    LeastLost,
    Line,
)
from fastness.survey.failing import rest_without_tries
from fastness.survey.findings import Findings
from fastness.survey.firmness import firmness
from fastness.survey.least_words import after_the_least, nothing_holds
from fastness.survey.lines import wrapped, wrapped_items
from fastness.survey.nouns import listed
from fastness.survey.prices import prices
from fastness.survey.shown_lines import ShownLine, shown_lines
from fastness.survey.ways import OTHER, aim_of, other_ways, way_name, ways_in_words
from fastness.survey.words import WAYS, ahead, lost, worth

SHOWN_ON = 3
"""Better ways shown with how play may go on."""
SHOWN = 12
"""Moves named in a sentence, or that win something, before the rest is only counted."""


def gain(net: Gain, language: Language) -> str:
    """What a holding move nets, in words; empty where it only keeps the material."""
    if net == "mates":
        return language.say("mates")
    if net == 0:
        return ""
    if net > 0:
        return language.say("wins {worth}", worth=worth(net, language))
    return language.say("gives up {worth}", worth=worth(net, language))


def remedies(found: Findings) -> str:
    """The moves that make it safe, grouped by way; in check, those that keep the material."""
    holding = found.of(Holds)
    if not holding:
        return _nothing_holds(found)
    rows = []
    for way in WAYS:
        rows += _group(found, way, [one for one in holding if (one.ways or OTHER)[0] == way])
    return "\n".join([*rows, *rest_without_tries(found), *firmness(found)])


def better_ways(found: Findings) -> str:
    """The advised moves, each with its ways and what it gains and costs."""
    better = found.one(Better)
    return "\n".join([*_priced(found, better.moves if better else ())])


def at_a_price(found: Findings) -> str:
    """The other moves that hold, each with its price; then whether the verdicts are firm."""
    others, better = found.one(AtAPrice), found.one(Better)
    moves = others.moves if others else ()
    rows = _priced(found, moves)
    holding = {one.move: one for one in found.of(Holds)}
    best = holding[better.moves[0]] if better and better.moves else None
    if best and any(_weaker(best, holding[move]) for move in moves):
        told = found.language.say("About ... weaker: an estimate of the position, and no proof.")
        rows.append(wrapped(told))
    return "\n".join(rows)


def _priced(found: Findings, moves: Iterable[str]) -> list[str]:
    holding = {one.move: one for one in found.of(Holds)}
    first = found.one(Better)
    better = first.moves[:SHOWN_ON] if first else ()
    rows = []
    for move in moves:
        name = found.move(move)
        label = f"{name:<14} " if len(name) < 15 else f"{name} "
        shown = shown_lines(found, holding[move], advised=move in better)
        rows.append(wrapped(f"{label}{row(found, holding[move], shown)}", hang=15))
        rows += [wrapped(line.told, indent=17, hang=2) for line in shown]
    return rows


def row(found: Findings, one: Holds, shown: Sequence[ShownLine]) -> str:
    """``blocks, guards as well; develops; but weakens the pawns``; `shown`: the lines below it."""
    language, lines = found.language, [line.line for line in shown]
    behind, costs = _behind(found, one), prices(found, one.move, "cost", lines=lines)
    told = [ways_in_words(found, one), behind or gain(one.net, language)]
    attacked = aim_of(one, "counterattack")
    gains = prices(found, one.move, "gain", told=attacked, lines=lines)
    told.append(listed(gains, language))
    if costs:
        told.append(language.say("but {costs}", costs=listed(costs, language)))
    told.append(_not_firm(found, one.move, lines))
    return "; ".join(filter(None, told))


def _behind(found: Findings, one: Holds) -> str:
    """How far a move that is not advised is behind the first that is; empty where it is not."""
    better, language = found.one(Better), found.language
    best = found.holding(better.moves[0]) if better else None
    if better is None or best is None or one.move in better.moves:
        return ""
    if isinstance(best.net, int) and isinstance(one.net, int) and best.net > one.net:
        less, move = worth(best.net - one.net, language), found.move(best.move)
        return language.say("{worth} less than {move}", worth=less, move=move)
    weaker = _weaker(best, one)
    return language.say("about {worth} weaker", worth=worth(weaker, language)) if weaker else ""


def _weaker(best: Holds, one: Holds) -> int:
    """Centipawns by which the evaluation puts a move below the best, where they net the same."""
    if best.evaluation is None or one.evaluation is None or best.net != one.net:
        return 0
    # In tenths of a pawn: more would not be meant.
    return max(round((best.evaluation - one.evaluation) / 10) * 10, 0)


def _not_firm(found: Findings, move: str, lines: Sequence[Line]) -> str:
    """What a move loses one move deeper, if no line below tells it; empty where it does not."""
    deeper, language = found.deeper(move), found.language
    if deeper is None:
        return ""
    if deeper.line in lines:
        return language.say("not firm")
    loses, seen = lost(deeper.loses, language), ahead(deeper.reach, language)
    return language.say("not firm: {loses}, {seen}", loses=loses, seen=seen)


def _group(found: Findings, way: Way, group: Sequence[Holds]) -> list[str]:
    if not group:
        return []
    names = [f"{found.move(one.move)}{_note(found, one)}" for one in group]
    rows = [wrapped_items(way_name(way, found.language), names)]
    shown = next((one for one in group if _telling(one)), None)
    if shown and shown.line:
        rows.append(wrapped(found.numbered(shown.line), indent=17, hang=2))
    return rows


def _telling(one: Holds) -> bool:
    """Whether the opponent's best try shows how the move works: a trade, or winning it back."""
    line = one.line or ()
    traded = len(line) > 2 and line[-1][2:4] == line[-2][2:4]
    return traded or (one.wins_back and one.ways[:1] == ("counterattack",))


def _note(found: Findings, one: Holds) -> str:
    notes = [*other_ways(one, found.language), gain(one.net, found.language)]
    if found.deeper(one.move):
        notes.append(found.language.say("not firm"))
    told = "; ".join(filter(None, notes))
    return f" ({told})" if told else ""


def _nothing_holds(found: Findings) -> str:
    least = found.one(LeastLost)
    rows = [wrapped(nothing_holds(found))]
    if least and least.loses != "mate":
        rows.append(wrapped(found.numbered(least.line), indent=4, hang=2))
        rows += [wrapped(told.told) for told in after_the_least(found)]
        for line in least.others:
            told = found.language.say("or {line}", line=found.numbered(line))
            rows.append(wrapped(told, indent=4, hang=2))
    return "\n".join([*rows, *rest_without_tries(found), *firmness(found)])

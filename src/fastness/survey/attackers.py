"""Why a unit falls, as far as it follows from what attacks it and what guards it."""

from __future__ import annotations

from collections.abc import Sequence

import chess

from fastness.survey.claim import Count, Taking, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.lines import PASS, taken_at
from fastness.survey.nouns import Noun, a_unit, it, on_square, on_squares
from fastness.survey.scene import scene
from fastness.survey.won_in_line import how_it_is_won
from fastness.survey.words import RANK, capital, times

BY_COUNT = ("unguarded", "less valuable attacker", "outnumbered")
"""The mechanisms that follow from the count alone."""


def by_count(found: Findings, fall: Unsafe | Taking) -> list[str]:
    """A sentence for each mechanism of `BY_COUNT` that is claimed."""
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
        if count.attackers and not count.behind:
            return told
    more = len(count.attackers) > len(count.guards) or count.behind
    # What takes is worth less: then numbers add something only where they tell it by themselves.
    if "outnumbered" in names and (more or "less valuable attacker" not in names):
        told.append(_outnumbered(found, fall, count))
    return told


def comes_later(found: Findings, fall: Unsafe | Taking) -> bool:
    """Whether what takes the unit is worth less, but does not attack it yet."""
    count, rank = found.count(fall.unit), RANK[fall.unit.kind]
    if count is None or all(
        cause.mechanism != "less valuable attacker" for cause in found.causes(fall.unit)
    ):
        return False
    return all(RANK[_kind(found.board, at)] >= rank for at in count.attackers)


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


def _outnumbered(found: Findings, fall: Unsafe | Taking, count: Count) -> str:
    language, attackers, guards = found.language, count.attackers, count.guards
    if not attackers:
        told = language.say(
            "{it} comes to be attacked more often than guarded, as the line shows.",
            it=it(count.unit.kind, language),
        )
        return capital(told)
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
            "{told}; behind {front} stands {units}.",
            "{told}; behind {front} stand {units}.",
            len(count.behind),
            told=told,
            front=in_front(found, count),
            units=_on(found, count.behind),
        )
    if found.retaken(fall.unit):
        return language.say("{told}; but taking back does not help.", told=told)
    if len(attackers) <= len(guards):
        return language.say("{told}; {how}.", told=told, how=how_it_is_won(found, fall))
    return f"{told}."


def in_front(found: Findings, count: Count) -> Noun:
    """The attackers that others stand behind, on the same line to the unit."""
    unit = chess.parse_square(count.unit.square)
    lines = chess.SquareSet()
    for at in count.behind:
        lines |= chess.SquareSet.between(chess.parse_square(at), unit)
    return _on(found, [at for at in count.attackers if chess.parse_square(at) in lines])


def no_time(found: Findings, fall: Unsafe | Taking) -> bool:
    """Whether a guarded unit is simply taken, since retaking would lose more elsewhere.

    The proof line ends with its capture although it is guarded, and something worth more falls.
    """
    count = found.count(fall.unit)
    moves = [uci for uci in fall.line if uci != PASS]
    if count is None or not count.guards or len(moves) != 1:
        return False
    return any(
        isinstance(one.loses, int) and isinstance(fall.loses, int) and one.loses > fall.loses
        for one in found.of(type(fall))
    )


def _given_up(found: Findings, fall: Unsafe | Taking) -> str:
    """That a unit which nothing attacks yet takes something less, and is taken there at once."""
    played = scene(found.position.fen, fall.line, fall.unit.square)
    taking = played.taking()
    if taking is None or played.capture == 0:
        return ""
    at = played.steps.index(taking)
    given = played.steps[at - 1]
    if given.move.to_square != taking.move.to_square:
        return ""
    say, its, rank = found.language.say, it(fall.unit.kind, found.language), RANK[fall.unit.kind]
    won = given.before.piece_type_at(given.move.to_square)
    if won is not None and RANK[chess.piece_name(won)] < rank:
        taken = on_square(given.before, chess.square_name(given.move.to_square), found.language)
        return say(
            "Nothing attacks {it} yet; in the line it is given up for {unit}.", it=its, unit=taken
        )
    return ""


def facts(found: Findings, fall: Unsafe | Taking) -> str:
    """What attacks and guards a unit, where no cause is claimed."""
    count, language = found.count(fall.unit), found.language
    its = it(fall.unit.kind, language)
    if count is None or not count.attackers:
        return _given_up(found, fall) or language.say(
            "Nothing attacks {it} yet; {how}.", it=its, how=how_it_is_won(found, fall)
        )
    attacked = language.say_many(
        "{attackers} attacks {it}",
        "{attackers} attack {it}",
        len(count.attackers),
        attackers=_on(found, count.attackers),
        it=its,
    )
    if not count.guards:
        told = language.say("{told}; {how}.", told=attacked, how=how_it_is_won(found, fall))
        return capital(told)
    if no_time(found, fall):
        told = language.say_many(
            "{attacked}; {guards} guards {it}, but there is no time to take back, since more is in"
            " danger.",
            "{attacked}; {guards} guard {it}, but there is no time to take back, since more is in"
            " danger.",
            len(count.guards),
            attacked=attacked,
            guards=_on(found, count.guards),
            it=its,
        )
        return capital(told)
    values = {"attacked": attacked, "guards": _on(found, count.guards), "it": its}
    if found.retaken(fall.unit):
        told = language.say_many(
            "{attacked}; {guards} guards {it}, but taking back does not help.",
            "{attacked}; {guards} guard {it}, but taking back does not help.",
            len(count.guards),
            **values,
        )
    else:
        told = language.say_many(
            "{attacked}; {guards} guards {it}; {how}.",
            "{attacked}; {guards} guard {it}; {how}.",
            len(count.guards),
            **values,
            how=how_it_is_won(found, fall),
        )
    return capital(told)

"""Why a unit of the reader's falls, in one sentence that a ten-year-old understands."""

from __future__ import annotations

from collections.abc import Sequence

import chess

from fastness.language import marked
from fastness.survey.attackers import in_front
from fastness.survey.causes import by_telling, shown_by
from fastness.survey.claim import Cause, Count, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.mechanisms import parts
from fastness.survey.nouns import Noun, it, on_square, on_squares
from fastness.survey.scene import pinned_among, play, scene
from fastness.survey.words import RANK, capital, times

_TEXTS = {
    "fork": marked("{forker} attacks {forked} at the same time."),
    "fork by a move": marked("{other} can attack {forked} at the same time."),
    "pin": marked("{it} is pinned, since {back} stands behind."),
    "skewer": marked("{slider} attacks {front}, and {back} stands behind."),
    "pinned guard": marked("{front} cannot help, since it is pinned."),
    "overloaded guard": marked("{guard} has two things to guard and cannot do both."),
    "mate, overloaded guard": marked("{guard} has two things to guard and cannot do both."),
    "mate, guard taken": marked("{other} first takes {guard}, which guards against it."),
    "mate, guard driven off": marked("{other} first gets rid of {guard}, which guards against it."),
    "guard taken": marked("{other} first takes {guard}, which guards {it}."),
    "guard driven off": marked("{other} first gets rid of {guard}, which guards {it}."),
    "discovered attack": marked("{move} opens the line of {slider}."),
    "discovered check": marked("{move} opens the line of {checker}, and that is check."),
    "double check": marked("{other} gives check with two pieces at once."),
    "trapped": marked("Once attacked, {it} has no safe square to go to."),
    "trapped, no move": marked("Once attacked, {it} has no square to go to."),
    "attacked, trapped": marked("{it} has no safe square to go to."),
    "attacked, trapped, no move": marked("{it} has no square to go to."),
    "back rank": marked("If you take back, you are mated on the back rank."),
    "mated on the back rank": marked("Your king is shut in on the back rank."),
    "mate threat": marked("{other} can play {move}, threaten mate and then win {it}."),
    "mate if retaken": marked("If you take back, you are mated."),
    "promotion": marked("{other} gets a pawn to the last rank."),
    "given for a pawn": marked("You have to give {it} up to stop a pawn."),
    "interference": marked("{other} puts something between {it} and its guard."),
    "in-between move": marked("{other} plays {move} before taking back."),
    "desperado": marked("A piece that is lost anyway takes {it} first."),
}


def plain_cause(found: Findings, unsafe: Unsafe) -> str:
    """The main cause in one sentence; empty where none can be told simply."""
    played = scene(found.position.fen, unsafe.line, unsafe.unit.square)
    for cause in _plain_first(unsafe, by_telling(shown_by(played, found.causes(unsafe.unit)))):
        what = parts(cause, played, found.language, found.board.turn)
        told = ""
        if cause.mechanism == "in-between move" and cause.squares[-1:] == (unsafe.unit.square,):
            # That the unit is taken before something else is taken back does not say why it falls.
            continue
        if what and what[0] == "mate if retaken" and found.tells_of_taking_back(unsafe):
            # What taking back costs is told with the answer to it.
            continue
        if what and what[0] == "mate threat" and what[1].get("move") != _first(found, unsafe):
            # What comes at the end of a line is no threat that a student sees now.
            continue
        if what and not what[2] and not (unsafe.together and "{it}" in _TEXTS[what[0]]):
            values = {**what[1], "other": found.other, "it": it(unsafe.unit.kind, found.language)}
            told = capital(found.language.say(_TEXTS[what[0]], **values))
        elif not unsafe.together:
            told = _by_count(found, unsafe, cause.mechanism)
        if told:
            return told
    return ""


def _first(found: Findings, unsafe: Unsafe) -> str:
    """The opponent's first move of the line by which a unit falls; empty where there is none."""
    return found.last_name(unsafe.line[:2]) if len(unsafe.line) > 1 else ""


def cause_after_threat(found: Findings, unsafe: Unsafe) -> str:
    """The skewer that a quiet threat makes by what it moves; empty where it makes none."""
    if len(unsafe.line) < 2:
        return ""
    step = play(found.position.fen, unsafe.line[:2])[-1]
    board = step.after
    for cause in found.causes(unsafe.unit):
        squares = [chess.parse_square(name) for name in cause.squares]
        pinned = pinned_among(board, squares, found.board.turn)
        if cause.mechanism != "skewer" or step.takes:
            continue
        if pinned and pinned[0] == step.move.to_square:
            slider, front, back = (
                on_square(board, chess.square_name(at), found.language, you=found.board.turn)
                for at in pinned
            )
            return found.language.say(
                "Then {slider} attacks {front}, and {back} stands behind.",
                slider=slider,
                front=front,
                back=back,
            )
    return ""


_SIMPLE = ("unguarded", "less valuable attacker", "outnumbered")
_UNSEEN = ("discovered attack", "discovered check")


def _plain_first(unsafe: Unsafe, causes: Sequence[Cause]) -> list[Cause]:
    """Where a unit is simply taken, that is told before what else the taker uncovers.

    That a pawn is pinned tells little: few would move it.
    """
    if unsafe.unit.kind == "pawn":
        causes = [cause for cause in causes if cause.mechanism != "pin"]
    taken_at_once = unsafe.line[1:2] and unsafe.line[1][2:4] == unsafe.unit.square
    simple = any(cause.mechanism in _SIMPLE for cause in causes)
    if not taken_at_once or not simple:
        return list(causes)
    return sorted(causes, key=lambda cause: cause.mechanism in _UNSEEN)


def _by_count(found: Findings, unsafe: Unsafe, name: str) -> str:
    language, count = found.language, found.count(unsafe.unit)
    its = it(unsafe.unit.kind, language)
    attackers = count.attackers if count else ()
    if name == "less valuable attacker":
        attackers = tuple(at for at in attackers if _rank(found, at) < RANK[unsafe.unit.kind])
    values = {"attackers": on_squares(found.board, attackers, language), "it": its}
    if name == "outnumbered" and count and _more_attackers(count):
        return _outnumbered(found, count, its)
    if name == "unguarded" and not attackers:
        return language.say("Nothing guards {it}.", it=its)
    if name == "unguarded":
        told = language.say_many(
            "{attackers} attacks {it}, and nothing guards {it}.",
            "{attackers} attack {it}, and nothing guards {it}.",
            len(attackers),
            **values,
        )
        return capital(told)
    if name == "less valuable attacker" and attackers:
        told = language.say_many(
            "{attackers} attacks {it} and is worth less, so a guard does not help.",
            "{attackers} attack {it} and are worth less, so a guard does not help.",
            len(attackers),
            **values,
        )
        return capital(told)
    return ""


def _outnumbered(found: Findings, count: Count, its: Noun) -> str:
    language, attackers, guards = found.language, count.attackers, count.guards
    if count.behind or not guards or len(attackers) <= len(guards):
        told = capital(language.say("{it} is attacked more often than guarded.", it=its))
        return f"{told} {_behind(found, count)}" if count.behind else told
    told = language.say(
        "{it} is attacked {often}, but guarded only {seldom}.",
        it=its,
        often=times(len(attackers), language),
        seldom=times(len(guards), language),
    )
    return capital(told)


def _behind(found: Findings, count: Count) -> str:
    return capital(
        found.language.say_many(
            "{units} behind {front} counts too.",
            "{units} behind {front} count too.",
            len(count.behind),
            front=in_front(found, count),
            units=on_squares(found.board, count.behind, found.language),
        )
    )


def _more_attackers(count: Count) -> bool:
    attackers = len(count.attackers) + len(count.behind)
    return attackers > len(count.guards) + len(count.behind_guards)


def _rank(found: Findings, square: str) -> int:
    kind = found.board.piece_type_at(chess.parse_square(square))
    return RANK[chess.piece_name(kind)] if kind else 0

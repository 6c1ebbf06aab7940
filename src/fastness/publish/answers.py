"""The answers of an exercise in plain words, each with the line that bears it out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import chess

from fastness.exercises.admission import given_up
from fastness.exercises.exercise import Exercise
from fastness.exercises.marking_grid import likely_wrong
from fastness.exercises.overruling import Overruling
from fastness.exercises.words import (
    AT_A_PRICE,
    ATTACKED_AND_SAFE,
    BEST_TRY,
    FAILS_BY,
    LOSES_NOTHING,
    LOSES_SOMETHING,
    MOVE_WITH_WAY,
    NO_SUCH_UNIT,
    NONE,
    NOT_COUNTED,
    NOT_THIS,
    OVERRULED,
    REMARK,
    RIGHT_ANSWERS,
    SAFE_AFTER_ALL,
    TOGETHER,
    UNIT_WITH_COUNT,
    UNSAFE,
    WHY_WRONG,
    answer_name,
    answer_names,
    answer_word,
    move_asked,
    right_answers,
)
from fastness.language import ENGLISH, Language
from fastness.survey.claim import Falls, Holds, SafeByTactics, Unsafe, WonBack
from fastness.survey.claims import claims
from fastness.survey.findings import Findings
from fastness.survey.nouns import Noun, on_square, on_squares, your_unit
from fastness.survey.plain_causes import plain_cause
from fastness.survey.reasons import reason_in_words
from fastness.survey.scene import play
from fastness.survey.ways import OTHER, way_name
from fastness.survey.words import capital, listed, times

REFUTED = 4
"""Natural wrong moves that are shown with their refutation."""


def answer_in_words(
    exercise: Exercise, said: Sequence[Overruling] = (), language: Language = ENGLISH
) -> tuple[str, ...]:
    """What is right, why, why the natural wrong answers are wrong, and what the teacher says.

    `exercise` is as the teacher has overruled it by `said`. Raises ValueError if a line of the
    survey does not replay.
    """
    found = Findings(claims(exercise.proved.survey), language)
    told = [*_TOLD[exercise.kind](found, exercise)]
    if exercise.not_judged:
        names = answer_names(exercise, exercise.not_judged, language)
        told.append(language.say(NOT_COUNTED, answers=names))
    told += [said_in_words(exercise, one, language) for one in said]
    return tuple(one for one in told if one)


def said_in_words(exercise: Exercise, one: Overruling, language: Language = ENGLISH) -> str:
    """What the teacher says of an answer, or of the exercise, with the reason."""
    if not one.answer:
        return REMARK.format(by=one.by, reason=one.reason)
    answer = answer_name(exercise, one.answer, language)
    return language.say(OVERRULED[one.counts], by=one.by, answer=answer, reason=one.reason)


def _units(found: Findings, exercise: Exercise) -> Iterator[str]:
    say = found.language.say
    if exercise.accepted:
        yield say(RIGHT_ANSWERS, answers=right_answers(exercise, found.language))
    else:
        yield say(NO_SUCH_UNIT, own=found.own)
    for unsafe in found.of(Unsafe):
        if unsafe.unit.square in exercise.accepted:
            yield _unsafe(found, unsafe)
    wrong = [square for square in likely_wrong(exercise) if square != NONE]
    shown = {square: _safe_after_all(found, square) for square in wrong}
    yield from shown.values()
    yield _attacked(found, exercise, [square for square in wrong if not shown[square]])


def _unsafe(found: Findings, unsafe: Unsafe) -> str:
    language = found.language
    others = on_squares(found.board, unsafe.together, language, you=found.board.turn)
    told = language.say(
        TOGETHER if unsafe.together else UNSAFE,
        unit=capital(str(your_unit(unsafe.unit, language))),
        others=others,
        line=found.line_after_pass(unsafe.line),
        cause=plain_cause(found, unsafe),
    )
    return told.strip()


def _safe_after_all(found: Findings, square: str) -> str:
    """A unit that can be taken, but not for nothing; empty for any other."""
    unit = capital(str(_own_unit(found, square)))
    kept: list[SafeByTactics | WonBack] = [*found.of(SafeByTactics), *found.of(WonBack)]
    for one in kept:
        if one.unit.square == square:
            line = found.line_after_pass(one.line)
            return found.language.say(SAFE_AFTER_ALL, unit=unit, line=line)
    return ""


def _own_unit(found: Findings, square: str) -> Noun:
    return on_square(found.board, square, found.language, you=found.board.turn)


def _attacked(found: Findings, exercise: Exercise, squares: Sequence[str]) -> str:
    """The units among these that are attacked and guarded, with how often."""
    units = {unit["square"]: unit for unit in exercise.proved.survey["units"]}
    language = found.language
    told = [
        language.say(
            UNIT_WITH_COUNT,
            unit=_own_unit(found, square),
            attacked=times(len(units[square]["attackers"]), language),
            guarded=times(len(units[square]["guards"]), language),
        )
        for square in squares
        if units[square]["attackers"] and units[square]["guards"]
    ]
    return language.say(ATTACKED_AND_SAFE, units=listed(told, language)) if told else ""


def _moves(found: Findings, exercise: Exercise) -> Iterator[str]:
    say, holding = found.language.say, {one.move: one for one in found.of(Holds)}
    right = [_with_way(found, one, holding.get(one)) for one in exercise.accepted]
    yield say(RIGHT_ANSWERS, answers=", ".join(right) or answer_word(NONE, found.language))
    yield next((told for one in exercise.accepted if (told := _best_try(found, exercise, one))), "")
    wrong = likely_wrong(exercise)
    at_a_price = [one for one in wrong if one in holding]
    if at_a_price:
        yield say(AT_A_PRICE, moves=", ".join(found.moves(at_a_price)))
    falling = {one.move: one for one in found.of(Falls) if one.tries}
    for move in [one for one in wrong if one in falling][:REFUTED]:
        yield _refuted(found, falling[move])


def _with_way(found: Findings, move: str, holds: Holds | None) -> str:
    """``Qe7 (guard)``; the move alone where it works in no way that has a name."""
    way = (holds.ways or OTHER)[0] if holds else "other"
    if way == "other":
        return found.move(move)
    name = way_name(way, found.language)
    return found.language.say(MOVE_WITH_WAY, move=found.move(move), way=name)


def _best_try(found: Findings, exercise: Exercise, move: str) -> str:
    """The opponent's best try against a right move, where it takes something or gives check."""
    verdict = exercise.proved.verdict(move)
    line = verdict["line"] or ()
    if not verdict["holds"] or len(line) < 2:
        return ""
    reply = play(found.position.fen, line[:2])[1]
    if not reply.before.is_capture(reply.move) and not reply.after.is_check():
        return ""
    return found.language.say(BEST_TRY, other=found.other, line=found.numbered(line))


def _refuted(found: Findings, one: Falls) -> str:
    say, move = found.language.say, found.move(one.move)
    line, reason = found.numbered(one.line), reason_in_words(found, one)
    if not reason:
        return say(NOT_THIS, move=move, line=line)
    return say(WHY_WRONG, move=move, reason=reason, line=line)


def _why(found: Findings, exercise: Exercise) -> Iterator[str]:
    yield found.language.say(RIGHT_ANSWERS, answers=right_answers(exercise, found.language))
    yield from _failure(found, exercise)


def _failure(found: Findings, exercise: Exercise) -> Iterator[str]:
    for one in found.of(Falls):
        if one.move == exercise.asked:
            reason = reason_in_words(found, one)
            yield found.language.say(FAILS_BY, reason=reason) if reason else ""
            yield f"{found.numbered(one.line)}."


def _yes_or_no(found: Findings, exercise: Exercise) -> Iterator[str]:
    say, values = (
        found.language.say,
        {"own": found.own, "move": move_asked(exercise, found.language)},
    )
    if exercise.accepted == ("no",):
        yield say(LOSES_SOMETHING, **values)
        yield from _failure(found, exercise)
        return
    yield say(LOSES_NOTHING, **values)
    yield _best_try(found, exercise, exercise.asked or "")


_TOLD = {
    "which unit": _units,
    "every move": _moves,
    "better way": _moves,
    "why it fails": _why,
    "is it safe": _yes_or_no,
}


def ringed(exercise: Exercise) -> tuple[str, ...]:
    """The squares that stand in a broken ring on the answer page: what can be won there."""
    unsafe = ("unsafe", "unsafe together", "in check")
    squares = [
        unit["square"]
        for unit in exercise.proved.survey["units"]
        if unit["status"] in unsafe and not given_up(exercise.fen, unit)
    ]
    return tuple(sorted(squares, key=chess.parse_square))

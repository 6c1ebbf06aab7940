"""Marks answers to an exercise, and says why a wrong one is wrong by its refutation."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import chess
from chess import KING

from fastness import core
from fastness.core.shapes import Survey, UnitName
from fastness.exercises.exercise import Exercise, Kind
from fastness.exercises.words import answer_name
from fastness.language import ENGLISH, Language
from fastness.survey.claim import Falls, Holds, SafeByTactics, UnitAt, Unsafe, WonBack
from fastness.survey.claims import claims
from fastness.survey.failing import fails_in_words
from fastness.survey.findings import Findings
from fastness.survey.lines import numbered
from fastness.survey.nouns import listed, the_unit
from fastness.survey.ways import ways_in_words
from fastness.survey.words import capital, worth

ASKS_ALL: tuple[Kind, ...] = ("which unit", "every move")
"""The questions that ask for all of the right answers: one of them alone is not right yet."""
Verdict = Literal["right", "wrong", "not judged"]


@dataclass(frozen=True, slots=True)
class Marked:
    """One answer given, its verdict, and why in a sentence that its line proves."""

    answer: str
    verdict: Verdict
    told: str


@dataclass(frozen=True, slots=True)
class Marking:
    """All answers given to an exercise, and the right ones that were not given."""

    given: tuple[Marked, ...]
    missing: tuple[str, ...]
    accepted: tuple[str, ...]

    @property
    def partly(self) -> bool:
        """Whether something right was given and nothing wrong, but not all that is asked for."""
        verdicts = {one.verdict for one in self.given}
        return "right" in verdicts and "wrong" not in verdicts and bool(self.missing)

    @property
    def verdict(self) -> Verdict:
        """Right where nothing judged is wrong and nothing is missing.

        Not judged where nothing can be held against the answers but none of them counts either.
        """
        verdicts = {one.verdict for one in self.given}
        if "wrong" in verdicts:
            return "wrong"
        if self.missing:
            return "not judged" if verdicts == {"not judged"} else "wrong"
        return "right"


def mark(exercise: Exercise, answers: Sequence[str], language: Language = ENGLISH) -> Marking:
    """Marks `answers`, which are written as `Exercise.accepted` are.

    "which unit" and "every move" ask for all of the right answers, the other questions for one of
    them; the empty answer to "which unit" says that nothing is unsafe.
    """
    found = Findings(claims(exercise.proved.survey), language)
    return _marking(exercise, tuple(_marked(exercise, answer, found) for answer in answers))


def judge(exercise: Exercise, answers: Sequence[str]) -> Marking:
    """As `mark`, without a word of why: at once, since nothing is looked up or searched."""
    return _marking(
        exercise, tuple(Marked(answer, _verdict(exercise, answer), "") for answer in answers)
    )


def _marking(exercise: Exercise, marked: tuple[Marked, ...]) -> Marking:
    right = {one.answer for one in marked if one.verdict == "right"}
    missing = tuple(answer for answer in exercise.accepted if answer not in right)
    if right and exercise.kind not in ASKS_ALL:
        missing = ()
    return Marking(marked, missing, exercise.accepted)


def _verdict(exercise: Exercise, answer: str) -> Verdict:
    if answer in exercise.not_judged:
        return "not judged"
    return "right" if answer in exercise.accepted else "wrong"


def _marked(exercise: Exercise, answer: str, found: Findings) -> Marked:
    verdict = _verdict(exercise, answer)
    if verdict == "not judged":
        told = found.language.say(
            "{answer} is not judged: looking one move further changes the verdict.",
            answer=answer_name(exercise, answer, found.language),
        )
        return Marked(answer, verdict, told)
    return Marked(answer, verdict, _told(exercise, answer, found))


def _told(exercise: Exercise, answer: str, found: Findings) -> str:
    if exercise.kind == "which unit":
        return _of_unit(answer, found)
    if exercise.kind == "why it fails":
        return _of_reply(exercise, answer, found)
    if exercise.kind == "is it safe":
        return _of_move(exercise, exercise.asked or "", found)
    return _of_move(exercise, answer, found)


def _of_unit(square: str, found: Findings) -> str:
    """The line by which the unit falls, or why it does not."""
    kind = found.board.piece_type_at(chess.parse_square(square))
    unit = UnitAt(_name(kind), square)
    say, name = found.language.say, capital(str(the_unit(unit, found.language)))
    for claim in found.of(Unsafe):
        if claim.unit.square == square:
            line = found.line_after_pass(claim.line)
            return say("{unit} is not safe. The threat: {line}.", unit=name, line=line)
    for back in found.of(WonBack):
        if back.unit.square == square:
            values = {"unit": name, "line": found.line_after_pass(back.line)}
            return say("{unit} can be taken, but is won back. The try: {line}.", **values)
    for safe in found.of(SafeByTactics):
        if safe.unit.square == square:
            values = {"unit": name, "line": found.line_after_pass(safe.line)}
            return say("{unit} is safe by tactics. The try: {line}.", **values)
    return say("{unit} is safe: nothing can be won there.", unit=name)


def _name(kind: chess.PieceType | None) -> UnitName:
    return chess.piece_name(kind or KING)  # type: ignore[return-value]


def _of_move(exercise: Exercise, uci: str, found: Findings) -> str:
    """How the move keeps the material, or its refutation."""
    say = found.language.say
    for falls in found.of(Falls):
        if falls.move == uci:
            told = fails_in_words(found, falls)
            line = found.numbered(falls.line)
            return say("{move} {told}. {line}.", move=found.move(uci), told=told, line=line)
    holds = next(one for one in found.of(Holds) if one.move == uci)
    how = ways_in_words(found, holds) if holds.ways else ""
    move = found.move(uci)
    told = say("{move} keeps the material: it {how}.", move=move, how=how)
    if not how:
        told = say("{move} keeps the material.", move=move)
    if exercise.kind == "better way" and uci not in exercise.accepted:
        better = listed(found.moves(exercise.accepted), found.language)
        told += " " + say("Better is {moves}.", moves=better)
    return told


def _of_reply(exercise: Exercise, reply: str, found: Findings) -> str:
    """What the reply wins, or what it lets slip, by the survey of the position after it."""
    say, language = found.language.say, found.language
    asked, survey = exercise.asked or "", exercise.proved.survey
    after = _after(survey["fen"], asked, survey["reach"], survey["values"])
    verdict = next(move for move in after["moves"] if move["uci"] == reply)
    name, net = answer_name(exercise, reply, language), verdict["net"]
    if net == "mates":
        return say("{move} leads to mate.", move=name)
    if reply in exercise.accepted and isinstance(net, int):
        return say("{move} wins {worth}.", move=name, worth=worth(net, language))
    refutation = next(one for one in found.of(Falls) if one.move == asked)
    line = numbered(survey["fen"], refutation.line, language)
    return say("{move} wins nothing. This does: {line}.", move=name, line=line)


@lru_cache(maxsize=16)
def _after(fen: str, asked: str, reach: int, values: str) -> Survey:
    """The position after the move asked about; where every reply is told it is asked for often."""
    return core.survey(fen, moves=[asked], reach=reach, values=values)

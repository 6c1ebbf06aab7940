"""The verdict on a try, the answer to a position, and what is marked: all from the survey."""

from __future__ import annotations

from fastness.classroom.session import Verdict, Words, in_each_language
from fastness.classroom.surveyed import Surveyed
from fastness.core.shapes import MoveVerdict
from fastness.errors import MoveError
from fastness.language import ENGLISH, Language
from fastness.publish.marks import Marks, marks_of
from fastness.survey.claim import Better, Falls, Holds, LeastLost, TakingMove
from fastness.survey.failing import fails_in_words
from fastness.survey.findings import Findings
from fastness.survey.least_words import nothing_holds
from fastness.survey.remedies import gain
from fastness.survey.ways import ways_in_words
from fastness.survey.whole import whole


def verdict_on(looked: Surveyed, move: str) -> Verdict:
    """What the survey says of a move (UCI). Raises MoveError where it is not legal."""
    found = _move(looked, move)
    return Verdict(
        holds=found["holds"],
        firm=bool(found["firm"]),
        told=in_each_language(lambda language: _told(looked.findings(language), found)),
        line=_line(looked, found),
    )


def _move(looked: Surveyed, uci: str) -> MoveVerdict:
    for move in looked.survey["moves"]:
        if move["uci"] == uci:
            return move
    raise MoveError(f"{uci} is not legal in {looked.survey['fen']}")


def _line(looked: Surveyed, move: MoveVerdict) -> tuple[str, ...]:
    """The refutation of a move that falls; how one that holds works, as far as that is shown."""
    holds = next(
        (one for one in looked.findings(ENGLISH).of(Holds) if one.move == move["uci"]), None
    )
    if holds and holds.answer and len(holds.answer) > 2:
        return holds.answer
    return tuple(move["line"] or (move["uci"],))


def _told(found: Findings, move: MoveVerdict) -> str:
    uci, say = move["uci"], found.language.say
    falls = next((one for one in found.of(Falls) if one.move == uci), None)
    if falls:
        told = say("{move} {told}.", move=found.move(uci), told=fails_in_words(found, falls))
    else:
        told = _held(found, next(one for one in found.of(Holds) if one.move == uci))
    if move["firm"] is False:
        told += " " + say("Not settled: looking one move further, this changes.")
    return told


def _held(found: Findings, holds: Holds) -> str:
    say, name = found.language.say, found.move(holds.move)
    how = ways_in_words(found, holds) if holds.ways else ""
    won = gain(holds.net, found.language)
    if won and how and holds.net != "mates":
        return say("{move} {how}, and {told}.", move=name, how=how, told=won)
    if won:
        return say("{move} {told}.", move=name, told=won)
    if how:
        return say("{move} keeps the material: it {how}.", move=name, how=how)
    return say("{move} keeps the material.", move=name)


def answers_of(looked: Surveyed) -> tuple[tuple[str, Words], ...]:
    """The answers to a position, each with its sentence: UCI moves.

    Where something is to be kept, the better ways in their order, or what loses least if nothing
    holds; else what wins something, the most first. None where nothing is in danger and nothing
    can be won.
    """
    found = looked.findings(ENGLISH)
    moves: tuple[str, ...]
    if not found.needs_remedy():
        winning = [one.move for one in found.of(TakingMove)]
        nets = {one.move: one.net for one in found.of(Holds)}
        moves = tuple(sorted(winning, key=lambda one: _worth(nets[one]), reverse=True))
    elif better := found.one(Better):
        moves = better.moves
    elif least := found.one(LeastLost):
        told = in_each_language(lambda language: _least(looked.findings(language)))
        return tuple((move, told) for move in least.moves)
    else:
        moves = tuple(one.move for one in found.of(Holds))
    return tuple((move, verdict_on(looked, move).told) for move in moves)


def _worth(net: int | str) -> float:
    return net if isinstance(net, int) else float("inf")


def _least(found: Findings) -> str:
    told = nothing_holds(found)
    return told if told.endswith(".") else f"{told}."


def marks_on(looked: Surveyed) -> Marks:
    """What is not safe, with what attacks and guards it, and what can be taken."""
    return marks_of(looked.survey, looked.findings(ENGLISH))


def nothing_marked(looked: Surveyed) -> Words:
    """The sentence where there is nothing to mark: how far that was looked."""

    def told(language: Language) -> str:
        found = looked.findings(language)
        return " ".join(whole(found)) or language.say("Nothing is to be marked here.")

    return in_each_language(told)

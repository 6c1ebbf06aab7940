"""What loses least where nothing keeps the material, in words."""

from __future__ import annotations

from collections.abc import Sequence

import chess

from fastness.survey.claim import AllHolding, Falls, LeastLost, Line, MoreIsLost
from fastness.survey.findings import Findings
from fastness.survey.lines import numbered, taken_at
from fastness.survey.nouns import listed, on_squares
from fastness.survey.scene import play
from fastness.survey.shown_lines import ShownLine
from fastness.survey.words import ahead, worth

SHOWN = 12
"""Moves that lose least that are named before the others are only mentioned."""


def told_as_least(found: Findings) -> tuple[str, ...]:
    """The moves that are named as those that lose least."""
    least = found.one(LeastLost)
    return least.moves[:SHOWN] if least and least.loses != "mate" else ()


def after_the_least(found: Findings) -> list[ShownLine]:
    """What keeps the rest after the first move that loses least, and after which more is lost."""
    least, language, told = found.one(LeastLost), found.language, []
    if least is None:
        return []
    if least.loses != "mate" and (costs := _costs(found, least)):
        told.append(ShownLine(costs))
    rest = found.keeps_the_rest(least.moves[0])
    if rest:
        end = play(found.position.fen, rest.line[: rest.plies])[-1].after
        line = numbered(end.fen(), _as_far_as_taken(end, rest.line[rest.plies :]), language)
        sentence = language.say("After that no more is lost: {line}", line=line)
        told.append(ShownLine(sentence, rest.line))
    worse = [one.move for one in found.of(MoreIsLost)]
    if worse:
        sentence = language.say(
            "Looking further on, more is lost after {moves}.",
            moves=listed(found.moves(worse), language),
        )
        told.append(ShownLine(sentence))
    return told


def nothing_holds(found: Findings) -> str:
    """That no legal move keeps the material, and what loses least."""
    language, least, all_ = found.language, found.one(LeastLost), found.one(AllHolding)
    legal = all_.legal if all_ else 0
    told = language.say_many(
        "The only legal move does not keep the material",
        "None of the {number} legal moves keeps the material",
        legal,
    )
    if least is None or least.loses == "mate":
        seen = ahead(least.reach if least else found.position.reach, language)
        rest = language.say("{own} is mated in every case, {seen}.", own=found.own, seen=seen)
        return f"{told}: {rest}"
    names = found.moves(least.moves[:SHOWN])
    if len(least.moves) > SHOWN:
        shown = language.say("{names} and others", names=", ".join(names))
    else:
        shown = listed(names, language)
    cost = language.say(
        "The least is lost by {names}, {seen}: {worth}.",
        names=shown,
        seen=ahead(least.reach, language),
        worth=worth(least.loses, language),
    )
    return f"{told}. {cost}"


def _as_far_as_taken(board: chess.Board, line: Line) -> Line:
    """The first move of a line alone, unless something is taken or checked at once after it."""
    steps = play(board.fen(), line[:2])
    return line if len(steps) > 1 and (steps[1].takes or steps[0].after.is_check()) else line[:1]


def _costs(found: Findings, least: LeastLost) -> str:
    """What the line of the first of the moves that lose least saves, what it costs and for what."""
    language, board = found.language, found.board
    lost, won = _taken(found, least.line)
    saved = saved_by_the_least(found, least)
    told = {
        "saved": on_squares(board, saved, language),
        "lost": on_squares(board, lost, language),
        "won": on_squares(board, won, language),
    }
    if not lost:
        return ""
    if saved and won:
        return language.say("This saves {saved}, and costs {lost} for {won}.", **told)
    if saved:
        return language.say("This saves {saved}, and costs {lost}.", **told)
    if won:
        return language.say("This costs {lost} for {won}.", **told)
    return language.say("This costs {lost}.", **told)


def saved_by_the_least(found: Findings, least: LeastLost) -> list[str]:
    """Where what was in danger stands and is not lost after the first move that loses least.

    The dearest first.
    """
    falls = next((one for one in found.of(Falls) if one.move == least.moves[0]), None)
    rest = found.keeps_the_rest(least.moves[0])
    gone = _taken(found, rest.line if rest else least.line)[0]
    kept = [at for at in (falls.saves if falls else ()) if at not in gone]
    return sorted(kept, key=lambda at: -(found.board.piece_type_at(chess.parse_square(at)) or 0))


def _taken(found: Findings, line: Sequence[str]) -> tuple[list[str], list[str]]:
    """Where the own units that a line loses stood, and the opponent's that it takes, in turn."""
    fen, board = found.position.fen, found.board
    lost, won = (
        {chess.square_name(at): taken_at(fen, line, chess.square_name(at)) for at in units}
        for units in (
            chess.SquareSet(board.occupied_co[side]) for side in (board.turn, not board.turn)
        )
    )
    return _in_turn(lost), _in_turn(won)


def _in_turn(places: dict[str, int | None]) -> list[str]:
    """The squares of what is taken in a line, in the order of the captures."""
    taken = {square: place for square, place in places.items() if place is not None}
    return sorted(taken, key=lambda square: taken[square])

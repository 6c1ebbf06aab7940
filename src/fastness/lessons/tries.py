"""Claims on moves: whether they hold, fall, are all that hold, or are the better ways."""

from __future__ import annotations

from collections.abc import Sequence

import chess

from fastness.core.shapes import Way
from fastness.language import Language
from fastness.lessons.found import SO, Found
from fastness.lessons.lesson import AllThatKeep, Better, Keeps, Loses
from fastness.lessons.seen import Seen, balance
from fastness.survey.claim import Falls
from fastness.survey.failing import fails_in_words
from fastness.survey.lines import move_name, numbered, numbered_move
from fastness.survey.nouns import listed
from fastness.survey.ways import way_name
from fastness.survey.words import THRESHOLD, ahead


def keeps(seen: Seen, claim: Keeps, language: Language) -> list[Found]:
    """``holds: Be7, Nf6``, move by move."""
    return [SO if seen.holds(uci) else falling(seen, uci, language) for uci in claim.moves]


def falling(seen: Seen, uci: str, language: Language) -> Found:
    """That a move falls, why, and its refutation."""
    found = seen.findings(language)
    falls = next(one for one in found.of(Falls) if one.move == uci)
    told = language.say("{move} {told}", move=found.move(uci), told=fails_in_words(found, falls))
    return Found(False, told, found.numbered(falls.line))


def _holding(seen: Seen, uci: str, language: Language) -> Found:
    """That a move holds, as far as was looked, and the opponent's best try."""
    told = language.say(
        "{move} keeps the material, {there}",
        move=move_name(seen.board, uci, language),
        there=ahead(seen.reach, language),
    )
    verdict = seen.verdict(uci)
    line = verdict["answer"] or verdict["line"] or []
    return Found(False, told, numbered(seen.place.fen, line, language))


def all_that_keep(seen: Seen, claim: AllThatKeep, language: Language) -> list[Found]:
    """``only: Be7`` and ``these are all: Be7, Nf6``."""
    holding = seen.holding()
    for uci in claim.moves:
        if uci not in holding:
            return [falling(seen, uci, language)]
    more = [uci for uci in holding if uci not in claim.moves]
    if not more:
        return [SO]
    if len(more) == 1:
        return [_holding(seen, more[0], language)]
    names = listed([move_name(seen.board, uci, language) for uci in more], language)
    told = language.say(
        "{moves} keep the material too, {there}", moves=names, there=ahead(seen.reach, language)
    )
    return [Found(False, told)]


def loses(seen: Seen, claim: Loses, language: Language) -> list[Found]:
    """``falls: Qxg5 because Nxg5``: the move falls, and each answer in the line wins something."""
    if seen.holds(claim.move):
        return [_holding(seen, claim.move, language)]
    board = seen.board.copy()
    board.push_uci(claim.move)
    for uci in claim.because:
        if board.turn != seen.board.turn and not _wins(seen, board, uci):
            told = language.say(
                "{move} wins nothing there, {there}; {falling}",
                move=numbered_move(board, uci, language),
                there=ahead(seen.reach, language),
                falling=falling(seen, claim.move, language).told,
            )
            return [Found(False, told, falling(seen, claim.move, language).line)]
        board.push_uci(uci)
    return [SO]


def _wins(seen: Seen, board: chess.Board, uci: str) -> bool:
    """Whether the opponent wins something by a move, counted from before the move that falls.

    The move is the first of those searched, so one fewer is left.
    """
    replies = seen.bare(board.fen(), max(seen.reach - 1, 1))["moves"]
    net = next(one["net"] for one in replies if one["uci"] == uci)
    if not isinstance(net, int):
        return net == "mates"
    return balance(board, board.turn) + seen.base() + net >= THRESHOLD


def better(seen: Seen, claim: Better, language: Language) -> list[Found]:
    """``better ways: exd5 (capture)``, move by move."""
    return [_better(seen, uci, way, language) for uci, way in claim.moves]


def _better(seen: Seen, uci: str, way: Way | None, language: Language) -> Found:
    if not seen.holds(uci):
        return falling(seen, uci, language)
    if not seen.ranked:
        return Found(None, language.say("the moves that keep the material were not ranked"))
    name = move_name(seen.board, uci, language)
    if uci not in seen.advised:
        names = listed([move_name(seen.board, one, language) for one in seen.advised], language)
        told = language.say(
            "{move} keeps the material, but is not among the better ways: {moves}",
            move=name,
            moves=names,
        )
        likely = (seen.first or seen).verdict(seen.advised[0])["likely"]
        line = numbered(seen.place.fen, likely or (), language)
        return Found(False, told, line)
    if way is None:
        return SO
    ways = seen.verdict(uci)["ways"]
    if way in ways:
        return SO
    return Found(False, _way_told(name, ways, language))


def _way_told(name: str, ways: Sequence[Way], language: Language) -> str:
    if not ways:
        return language.say("nothing is in danger, so that {move} has no way", move=name)
    names = listed([way_name(way, language) for way in ways], language)
    return language.say("the way of {move} is: {ways}", move=name, ways=names)

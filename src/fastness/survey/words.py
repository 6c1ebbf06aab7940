"""Small words of the pages: sides, worths, reaches and lists."""

from __future__ import annotations

import re
from collections.abc import Sequence

import chess

from fastness.core.shapes import Way
from fastness.errors import OptionError
from fastness.language import ENGLISH, Language, marked, marked_as
from fastness.survey.move_claim import Loss
from fastness.survey.nouns import listed, listed_or, on_square

__all__ = ["listed", "listed_or"]

PAWN = 100
"""Centipawns in a pawn, in every table of values."""
THRESHOLD = 50
"""Centipawns from which something counts as won: half a pawn."""

CENTIPAWNS = {
    chess.PAWN: 100,
    chess.KNIGHT: 300,
    chess.BISHOP: 300,
    chess.ROOK: 500,
    chess.QUEEN: 900,
}
"""The classical table, where a sentence weighs units only roughly."""

WAYS: tuple[Way, ...] = ("capture", "move", "block", "guard", "counterattack", "other")
"""The teacher's order of preference."""
KINDS_BY_WORTH = ("queen", "rook", "bishop", "knight", "pawn", "king")
# By rank only: a knight and a bishop count as equal here whatever the table of values says.
RANK = {"pawn": 1, "knight": 2, "bishop": 2, "rook": 3, "queen": 4, "king": 5}


def order_of_ways(text: str) -> tuple[Way, ...]:
    """The ways in the order that `text` prefers, ``"move, block"``; the others as usual.

    Raises OptionError where a word is none of the ways.
    """
    named = [word.strip().lower() for word in text.split(",") if word.strip()]
    for word in named:
        if word not in WAYS:
            raise OptionError(f'"{word}" is no way to keep something; there are {", ".join(WAYS)}')
    return tuple(sorted(WAYS, key=lambda way: named.index(way) if way in named else len(named)))


_SIDES = {"white": marked("White"), "black": marked("Black")}
_NUMBERS = (
    marked_as("a number", "no"),
    marked_as("a number", "one"),
    marked_as("a number", "two"),
    marked_as("a number", "three"),
    marked_as("a number", "four"),
    marked_as("a number", "five"),
    marked_as("a number", "six"),
    marked_as("a number", "seven"),
    marked_as("a number", "eight"),
    marked_as("a number", "nine"),
    marked_as("a number", "ten"),
)

_TIMES = (marked("by nothing"), marked("once"), marked("twice"))


def side_name(side: str, language: Language = ENGLISH) -> str:
    """``White`` or ``Black``."""
    return language.say(_SIDES[side])


def number_word(number: int, language: Language = ENGLISH) -> str:
    """``three`` for 3; figures from 11 on."""
    return language.say_as(*_NUMBERS[number]) if 0 <= number < len(_NUMBERS) else str(number)


def worth(centipawns: int, language: Language = ENGLISH) -> str:
    """``a pawn's worth``, ``3 pawns' worth``, ``3.25 pawns' worth``; the sign is dropped."""
    amount = abs(centipawns)
    pawns = f"{amount / PAWN:g}".replace(".", language.say_as("decimal point", "."))
    if amount == PAWN:
        return language.say("a pawn's worth")
    if amount == PAWN // 2:
        return language.say("half a pawn's worth")
    if amount < PAWN:
        return language.say("{pawns} of a pawn's worth", pawns=pawns)
    return language.say("{pawns} pawns' worth", pawns=pawns)


def lost(loses: Loss, language: Language = ENGLISH) -> str:
    """What a falling move loses, in words."""
    if loses == "mate":
        return language.say("is mated")
    return language.say("loses {worth}", worth=worth(loses, language))


def ahead(reach: int, language: Language = ENGLISH) -> str:
    """``looking 3 moves ahead``; a reach counts the opponent's moves."""
    return language.say_many("looking {number} move ahead", "looking {number} moves ahead", reach)


def ahead_only(reaches: Sequence[int], language: Language = ENGLISH) -> str:
    """``looking only 1 or 2 moves ahead``."""
    numbers = listed_or([str(reach) for reach in reaches], language)
    if list(reaches) == [1]:
        return language.say("looking only {numbers} move ahead", numbers=numbers)
    return language.say("looking only {numbers} moves ahead", numbers=numbers)


def capital(sentence: str) -> str:
    """The sentence with its first letter a capital, the rest untouched.

    A pawn's move at its head stays as it is written: ``e4 attacks ...``.
    """
    if _PAWN_MOVE.match(sentence):
        return sentence
    return sentence[:1].upper() + sentence[1:]


_PAWN_MOVE = re.compile(r"[a-h](?:x[a-h])?[1-8]")


def unit_on(board: chess.Board, square: str, language: Language = ENGLISH) -> str:
    """``the knight on c6``, or ``the square c6`` if nothing stands there."""
    return str(on_square(board, square, language))


def times(count: int, language: Language = ENGLISH) -> str:
    """``by nothing``, ``once``, ``twice``, ``three times``: how often a unit is attacked."""
    if count < 3:
        return language.say(_TIMES[count])
    return language.say("{number} times", number=number_word(count, language))

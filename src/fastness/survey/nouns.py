"""Units named in a sentence, in the case that the sentence wants.

English has one form for all cases. A text of another language writes ``{unit}`` for who does
something, ``{unit:whom}`` for whom it is done to, ``{unit:to}`` for whom it is done with or by.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import chess

from fastness.language import ENGLISH, Language, marked, marked_as
from fastness.survey.claim import UnitAt

CASES = ("who", "whom", "to")

# Each text has the three cases in the order of `CASES`.
_THE = {
    "pawn": marked("the pawn|the pawn|the pawn"),
    "knight": marked("the knight|the knight|the knight"),
    "bishop": marked("the bishop|the bishop|the bishop"),
    "rook": marked("the rook|the rook|the rook"),
    "queen": marked("the queen|the queen|the queen"),
    "king": marked("the king|the king|the king"),
}
_YOUR = {
    "pawn": marked("your pawn|your pawn|your pawn"),
    "knight": marked("your knight|your knight|your knight"),
    "bishop": marked("your bishop|your bishop|your bishop"),
    "rook": marked("your rook|your rook|your rook"),
    "queen": marked("your queen|your queen|your queen"),
    "king": marked("your king|your king|your king"),
}
_A = {
    "pawn": marked("a pawn|a pawn|a pawn"),
    "knight": marked("a knight|a knight|a knight"),
    "bishop": marked("a bishop|a bishop|a bishop"),
    "rook": marked("a rook|a rook|a rook"),
    "queen": marked("a queen|a queen|a queen"),
    "king": marked("a king|a king|a king"),
}
_IT = {
    "pawn": marked_as("the pawn", "it|it|it"),
    "knight": marked_as("the knight", "it|it|it"),
    "bishop": marked_as("the bishop", "it|it|it"),
    "rook": marked_as("the rook", "it|it|it"),
    "queen": marked_as("the queen", "it|it|it"),
    "king": marked_as("the king", "it|it|it"),
}
_BARE = {
    "pawn": marked_as("one unit", "pawn"),
    "knight": marked_as("one unit", "knight"),
    "bishop": marked_as("one unit", "bishop"),
    "rook": marked_as("one unit", "rook"),
    "queen": marked_as("one unit", "queen"),
    "king": marked_as("one unit", "king"),
}


@dataclass(frozen=True, slots=True)
class Noun:
    """A name in its cases; written ``{name}``, ``{name:whom}`` or ``{name:to}`` in a text."""

    forms: tuple[str, ...]

    def __format__(self, case: str) -> str:
        return self.forms[CASES.index(case or "who")]

    def __str__(self) -> str:
        return self.forms[0]


def _on(text: str, square: str, language: Language) -> Noun:
    forms = language.say(text).split("|")
    return Noun(tuple(language.say("{unit} on {square}", unit=one, square=square) for one in forms))


def the_unit(unit: UnitAt, language: Language = ENGLISH) -> Noun:
    """``the knight on c6``."""
    return _on(_THE[unit.kind], unit.square, language)


def your_unit(unit: UnitAt, language: Language = ENGLISH) -> Noun:
    """``your knight on c6``, said to the player whose it is."""
    return _on(_YOUR[unit.kind], unit.square, language)


def a_unit(kind: str, language: Language = ENGLISH) -> Noun:
    """``a knight``."""
    return Noun(tuple(language.say(_A[kind]).split("|")))


def something(language: Language = ENGLISH) -> Noun:
    """``something``, where no unit can be named."""
    return Noun(tuple(language.say("something|something|something").split("|")))


def it(kind: str, language: Language = ENGLISH) -> Noun:
    """``it``, for a unit of this kind."""
    return Noun(tuple(language.say_as(*_IT[kind]).split("|")))


def bare_unit(unit: UnitAt, language: Language = ENGLISH) -> str:
    """``knight c6``, as in a list."""
    return f"{language.say_as(*_BARE[unit.kind])} {unit.square}"


def on_square(
    board: chess.Board, square: str, language: Language = ENGLISH, *, you: bool | None = None
) -> Noun:
    """What stands on `square`: ``the knight on c6``, or ``the square c6`` if nothing does.

    With `you`, the side spoken to, that side's units are ``your knight on c6``.
    """
    piece = board.piece_at(chess.parse_square(square))
    if piece is None:
        forms = language.say("the square|the square|the square").split("|")
        return Noun(tuple(f"{one} {square}" for one in forms))
    table = _YOUR if piece.color == you else _THE
    return _on(table[chess.piece_name(piece.piece_type)], square, language)


def all_of(nouns: Sequence[Noun], language: Language = ENGLISH) -> Noun:
    """Several names as one: ``the pawn on d3 and the knight on c3``."""
    return Noun(
        tuple(listed([noun.forms[case] for noun in nouns], language) for case in range(len(CASES)))
    )


def on_squares(
    board: chess.Board,
    squares: Iterable[str],
    language: Language = ENGLISH,
    *,
    you: bool | None = None,
) -> Noun:
    """What stands on `squares`, as one name."""
    return all_of([on_square(board, at, language, you=you) for at in squares], language)


def listed(items: Sequence[str], language: Language = ENGLISH) -> str:
    """``a, b and c``."""
    if len(items) < 2:
        return "".join(items)
    return language.say("{items} and {last}", items=", ".join(items[:-1]), last=items[-1])


def listed_or(items: Sequence[str], language: Language = ENGLISH) -> str:
    """``a, b or c``."""
    if len(items) < 2:
        return "".join(items)
    return language.say("{items} or {last}", items=", ".join(items[:-1]), last=items[-1])

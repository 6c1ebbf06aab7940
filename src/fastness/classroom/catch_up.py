"""The sheet for those who were absent: look first, then read the answers."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import chess

from fastness.classroom.judging import verdict_on
from fastness.classroom.session import BoardPosition
from fastness.classroom.surveyed import Surveyed, look_at
from fastness.classroom.taught import Taught
from fastness.errors import InputError
from fastness.exercises.words import DATE, NAME
from fastness.language import ENGLISH, Language
from fastness.publish.document import (
    Beside,
    Block,
    Diagram,
    Diagrams,
    Document,
    Heading,
    NewPage,
    Paper,
    Paragraph,
    ToFill,
)
from fastness.publish.html import html
from fastness.publish.pdf import pdf
from fastness.publish.writing import write_files
from fastness.survey.student import student_text
from fastness.survey.words import side_name

LINES = 3
"""Lines to write on below a position."""


@dataclass(frozen=True, slots=True)
class _Looked:
    """A position that was taught, as the survey sees it."""

    number: int
    taught: Taught
    surveyed: Surveyed

    @property
    def fen(self) -> str:
        return self.taught.position.fen

    @property
    def black(self) -> bool:
        return chess.Board(self.fen).turn == chess.BLACK


def catch_up(
    theme: str,
    held: datetime.date,
    positions: Sequence[Taught],
    language: Language = ENGLISH,
    *,
    paper: Paper = "a4",
    large: bool = False,
    on_progress: Callable[[int], None] | None = None,
    look: Callable[[BoardPosition], Surveyed] = look_at,
) -> Document:
    """A sheet with the positions of a lesson as questions, and on a page of its own the answers.

    Every move that was tried has its verdict by the survey, and its refutation where it falls. No
    name, no hand and no note is on it. `on_progress` is told how many positions are looked at,
    each of which takes up to some seconds; `look` is what looks at it. Raises InputError where
    there is no position.
    """
    if not positions:
        raise InputError("there is no position to catch up on; give a lesson that shows one")
    looked = []
    for number, one in enumerate(positions, 1):
        looked.append(_Looked(number, one, look(one.position)))
        if on_progress is not None:
            on_progress(number)
    title = language.say("Catch-up: {theme}", theme=theme)
    return Document(
        title,
        tuple(_blocks(held, looked, language)),
        language=language.code,
        paper=paper,
        large=large,
        black=True,
        footer=title,
    )


def _blocks(held: datetime.date, looked: Sequence[_Looked], language: Language) -> Iterator[Block]:
    say = language.say
    yield ToFill((say(NAME), say(DATE)))
    yield Paragraph(
        say(
            "Your group looked at these positions on {date}. Look at each one yourself first and "
            "write down what you find. The answers come after the questions.",
            date=held.isoformat(),
        )
    )
    yield Diagrams(tuple(_question(one, language) for one in looked), across=2)
    yield NewPage()
    yield Heading(say("The answers"))
    yield from (_answer(one, language) for one in looked)
    reach = looked[0].surveyed.survey["reach"]
    yield Paragraph(
        say(
            "Every move was looked at {reach} moves ahead and once more {deeper} moves ahead.",
            reach=reach,
            deeper=reach + 1,
        ),
        small=True,
    )


def _question(one: _Looked, language: Language) -> Diagram:
    side = side_name("black" if one.black else "white", language)
    told = one.taught.asked or language.say(
        "{side} to move. Is anything not safe? What would you play?", side=side
    )
    if one.taught.tries:
        told = f"{told} {_tried(one, language)}"
    return Diagram(one.fen, told, flip=one.black, lines=LINES, label=f"{one.number}.")


def _tried(one: _Looked, language: Language) -> str:
    found = one.surveyed.findings(language)
    names, values = found.moves(one.taught.tries), {"own": found.own}
    moves = ", ".join(names)
    if len(names) == 1 and one.taught.by_class:
        return language.say(
            "The group tried {move}. Does {own} lose nothing then? Say why.", move=moves, **values
        )
    if len(names) == 1:
        return language.say("Does {own} lose nothing after {move}? Say why.", move=moves, **values)
    if one.taught.by_class:
        return language.say(
            "The group tried {moves}. After which of these does {own} lose nothing, and why not "
            "after the others?",
            moves=moves,
            **values,
        )
    return language.say(
        "After which of these moves does {own} lose nothing, and why not after the others: "
        "{moves}?",
        moves=moves,
        **values,
    )


def _answer(one: _Looked, language: Language) -> Beside:
    found = one.surveyed.findings(language)
    drawn = Diagram(one.fen, "", tuple(found.endangered()), one.black)
    head = language.say("{number}. {side} to move.", number=one.number, side=found.own)
    told = [head, student_text(found)]
    for move in one.taught.tries:
        verdict = verdict_on(one.surveyed, move)
        sentence = verdict.told[language.code]
        if not verdict.holds:
            sentence = f"{sentence} {found.numbered(verdict.line)}."
        told.append(sentence)
    told.append(_unsettled(one, language))
    return Beside(drawn, (*filter(None, told), *one.taught.said))


def _unsettled(one: _Looked, language: Language) -> str:
    """The moves that hold only as far as was looked first, but for those tried, which say so."""
    moves = [
        move["uci"]
        for move in one.surveyed.survey["moves"]
        if move["holds"] and move["firm"] is False and move["uci"] not in one.taught.tries
    ]
    if not moves:
        return ""
    names = ", ".join(one.surveyed.findings(language).moves(moves))
    return language.say(
        "Not settled, since looking one move further changes it: {moves}.", moves=names
    )


def write_catch_up(document: Document, folder: Path) -> tuple[Path, ...]:
    """Write the sheet to a folder as ``catch-up.pdf`` and ``catch-up.html``; the files.

    The folder is made where it is not there. Raises PrintError where no type face at hand has the
    letters of a text, FileError where the folder cannot be written.
    """
    made = {"catch-up.pdf": pdf(document), "catch-up.html": html(document).encode()}
    return write_files(folder, made)

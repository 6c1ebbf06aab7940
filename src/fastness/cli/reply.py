"""`fastness reply`: a student's question with a position becomes a checked draft of a reply."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter
from cyclopts.validators import Number

from fastness.cli.languages import TextLanguage
from fastness.core.shapes import Side
from fastness.errors import FileError, InputError, QuestionError
from fastness.language import language as language_of
from fastness.publish.writing import write_files
from fastness.workflows.answering import Reply, answer_question, png_of
from fastness.workflows.writable import check_writable

BAD_INPUT = 2


def reply(
    question: str,
    *,
    position: Annotated[str, Parameter(show_default=False)] = "",
    moves: Annotated[str, Parameter(show_default=False)] = "",
    game: Annotated[Path | None, Parameter(show_default=False)] = None,
    move: Annotated[int | None, Parameter(validator=Number(gte=1), show_default=False)] = None,
    colour: Annotated[Side | None, Parameter(show_default=False)] = None,
    to: Annotated[Path | None, Parameter(show_default=False)] = None,
    language: TextLanguage = None,
) -> int:
    """Answer a student's question about a position or a game, and prove the answer.

    It answers why not a move, what is wrong with it, whether it was good, whether a move or a
    piece is safe, what to play, and what the other side threatens. A move may be written (Nf6,
    Sf6, g8-f6) or told (the knight to f6, castle short).

    Args:
        question: The question, in quotes, in English or German.
        position: The position as FEN or EPD, in quotes.
        moves: Moves in SAN or UCI to play from the position first.
        game: A PGN file with the game, instead of a position.
        move: The number of the move in the game that is asked about.
        colour: Whose move that is.
        to: Write the text and its pictures there: reply.txt, reply.svg and reply.png for "reply".
        language: The language of the answer; that of the question unless it is given.
    """
    if bool(position.strip()) == (game is not None):
        raise InputError("Give a position or a game: --position FEN, or --game FILE.pgn.")
    if moves and game is not None:
        raise InputError("--moves goes with a position, not with a game.")
    if to is not None:
        check_writable(to.with_suffix(".txt"), folder=False)
    try:
        answered = answer_question(
            question,
            position=position,
            moves=moves,
            game=_text(game),
            number=move,
            colour=colour,
            language=language_of(language) if language else None,
        )
    except QuestionError as error:
        print(f"fastness: {error}", file=sys.stderr)
        return BAD_INPUT
    print(answered.text, end="")
    for path in _written(answered, to):
        print(path)
    return 0


def _text(path: Path | None) -> str:
    if path is None:
        return ""
    try:
        return path.read_text(encoding="utf-8-sig", errors="replace")
    except OSError as error:
        raise FileError(f"{path} cannot be opened: {error.strerror}") from None


def _written(answered: Reply, to: Path | None) -> list[Path]:
    """The text and each picture beside it, the second one with a 2."""
    if to is None:
        return []
    files: list[tuple[Path, bytes]] = [(to.with_suffix(".txt"), answered.text.encode())]
    for number, picture in enumerate(answered.pictures, 1):
        name = to.stem if number == 1 else f"{to.stem}-{number}"
        files.append((to.with_name(f"{name}.svg"), picture.svg.encode()))
        files.append((to.with_name(f"{name}.png"), png_of(picture)))
    return list(write_files(to.parent, {path.name: data for path, data in files}))

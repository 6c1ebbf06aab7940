"""The diagrams of the reports: a position held, one to be solved, and the answer to it."""

from __future__ import annotations

from fastness.language import Language
from fastness.publish.document import Diagram
from fastness.record import Episode
from fastness.survey.lines import notation
from fastness.survey.words import side_name
from fastness.workflows.record_words import SHOWN, holding_moves, move_played, ringed, units_of
from fastness.workflows.recording import StudentRecord
from fastness.workflows.remarks import for_the_class


def position(one: Episode, caption: str) -> Diagram:
    """The position with what was in danger ringed, from the student's own side.

    Where the move played made the danger, nothing was in danger yet, and nothing is ringed.
    """
    flip = one.occasion["colour"] == "black"
    return Diagram(one.occasion["fen"], caption, () if _made(one) else ringed(one), flip)


def kept(record: StudentRecord, one: Episode, language: Language, *, you: bool) -> Diagram:
    """A danger that was held, with the move played."""
    move = move_played(one, language)
    told = (
        language.say("You played {move}.", move=move)
        if you
        else language.say("The move played: {move}.", move=move)
    )
    return position(one, _and(told, for_the_class(record, one, language)))


def question(one: Episode, number: int, language: Language) -> Diagram:
    """The position with nothing ringed and a line to write on."""
    side = side_name(one.occasion["colour"], language)
    caption = language.say("{number}. {side} to move.", number=number, side=side)
    flip = one.occasion["colour"] == "black"
    return Diagram(one.occasion["fen"], caption, (), flip, lines=1)


def answer(
    record: StudentRecord,
    one: Episode,
    language: Language,
    number: int | None = None,
    nameless: tuple[str, ...] = (),
) -> str:
    """What was in danger, the moves that keep everything, and what the teacher said of moves."""
    parts = [f"{number}."] if number is not None else []
    units = units_of(one, language)
    if _made(one):
        # Without its number, which would stand beside that of the question.
        move = notation(one.occasion["played"]["san"], language)
        parts.append(language.say("{move} puts something in danger.", move=move))
    elif units is not None:
        parts.append(language.say("In danger: {units}.", units=units))
    moves = ", ".join(holding_moves(one, language))
    if len(one.occasion["holding"]) > SHOWN:
        moves = language.say("{names} and others", names=moves)
    parts.append(
        language.say_many(
            "This move keeps everything: {moves}.",
            "These moves keep everything: {moves}.",
            len(one.occasion["holding"]),
            moves=moves,
        )
    )
    parts.append(for_the_class(record, one, language, nameless=nameless))
    return " ".join(part for part in parts if part)


def _made(one: Episode) -> bool:
    """Whether the danger was made by the move played."""
    return one.occasion["outcome"] == "exposed"


def _and(told: str, more: str) -> str:
    return f"{told} {more}" if more else told

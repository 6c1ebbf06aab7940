"""The teacher's corrections as they are printed, each with its reason."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import chess

from fastness.language import Language, marked_as
from fastness.record import Episode
from fastness.survey.lines import move_name
from fastness.workflows.recording import Remark, StudentRecord

OUTCOMES = {
    "held": marked_as("an outcome", "held"),
    "offered": marked_as("an outcome", "offered"),
    "lessened": marked_as("an outcome", "lessened"),
    "let fall": marked_as("an outcome", "let fall"),
    "saved most": marked_as("an outcome", "saved most"),
    "exposed": marked_as("an outcome", "exposed"),
    "seized": marked_as("an outcome", "seized"),
    "let off": marked_as("an outcome", "let off"),
}


def remarks_on(record: StudentRecord, one: Episode, *, moves_only: bool = False) -> list[Remark]:
    """What the teacher said of the occasion of an episode, or only what was said of moves there."""
    return [
        remark
        for remark in record.game(one.game).remarks
        if (remark.ply, remark.kind) == (one.ply, "danger") and (remark.move or not moves_only)
    ]


def remark_in_words(remark: Remark, language: Language) -> str:
    """A correction with its reason: ``Nf6 holds: we looked at it in class``."""
    if remark.move is None:
        return _of_place(remark, language)
    move = move_name(chess.Board(remark.fen), remark.move, language)
    if remark.action == "strike":
        return language.say("{move} is not judged: {reason}", move=move, reason=remark.reason)
    if remark.action == "comment":
        return language.say("on {move}: {reason}", move=move, reason=remark.reason)
    if remark.outcome == "falls":
        return language.say("{move} does not hold: {reason}", move=move, reason=remark.reason)
    return language.say("{move} holds: {reason}", move=move, reason=remark.reason)


def _of_place(remark: Remark, language: Language) -> str:
    if remark.action == "strike":
        return language.say("not counted: {reason}", reason=remark.reason)
    if remark.outcome is None:
        return remark.reason
    outcome = language.say_as(*OUTCOMES[remark.outcome])
    return language.say('counts as "{outcome}": {reason}', outcome=outcome, reason=remark.reason)


def all_remarks(record: StudentRecord, language: Language) -> list[str]:
    """Every correction on the student's games, with its place."""
    return [
        language.say(
            "game {game}, {at} {remark}",
            game=stored.game.game,
            at=remark.at,
            remark=remark_in_words(remark, language),
        )
        for stored in record.games
        for remark in stored.remarks
    ]


def for_the_class(
    record: StudentRecord, one: Episode, language: Language, *, nameless: Sequence[str] = ()
) -> str:
    """What the teacher said of single moves here, for pages that children and parents see.

    Empty if nothing was said. A reason in which one of the `nameless` is named stays away, since
    such a page tells nobody's name.
    """
    told = [
        remark_in_words(remark, language)
        for remark in remarks_on(record, one, moves_only=True)
        if not _names(remark.reason, nameless)
    ]
    return language.say("From the teacher: {remarks}.", remarks="; ".join(told)) if told else ""


def _names(reason: str, names: Iterable[str]) -> bool:
    words = {word.casefold() for name in names for word in name.replace(",", " ").split()}
    return any(
        word.strip(".,;:!?'()").removesuffix("'s").casefold() in words for word in reason.split()
    )

"""What loses least where nothing keeps the material, in plain sentences for a student."""

from __future__ import annotations

from fastness.survey.claim import LeastLost, MoreIsLost, NotFirm
from fastness.survey.findings import Findings, worth_most
from fastness.survey.least_words import saved_by_the_least
from fastness.survey.nouns import listed_or, on_squares
from fastness.survey.scene import material_won, play
from fastness.survey.student_remedies import NAMED
from fastness.survey.words import worth


def least_lost(found: Findings) -> list[str]:
    """The moves that lose least, what that saves and what it costs; or that mate is not stopped."""
    say, least = found.language.say, found.one(LeastLost)
    if least is None or least.loses == "mate":
        return [say("There is no way to stop mate here."), say("That can happen to everyone.")]
    turned = found.one(NotFirm)
    kept = [uci for uci in turned.holds if uci in least.moves] if turned else []
    if kept:
        moves = listed_or(found.moves(kept[:NAMED]), found.language)
        return [say("{moves} is best: in the end it loses nothing.", moves=moves)]
    # What is saved is known of the first of them alone.
    saved = _saved(found, least)
    named = found.losing_least()[: 1 if saved else NAMED]
    return [
        say("You cannot keep everything here, and that happens to everyone."),
        say("You lose least with {moves}.", moves=listed_or(found.moves(named), found.language)),
        *saved,
        *_taken_at_once(found, least),
        _costs(found, least.loses),
    ]


def _costs(found: Findings, loses: int) -> str:
    """What the move named first costs; more, where more is lost further on."""
    amount = worth(loses, found.language)
    if found.losing_least()[0] in [one.move for one in found.of(MoreIsLost)]:
        return found.language.say("That costs you {worth} or more.", worth=amount)
    return found.language.say("That costs you {worth}.", worth=amount)


def _saved(found: Findings, least: LeastLost) -> list[str]:
    """What of what is in danger is not lost after the move named first."""
    named = found.losing_least()[0] == least.moves[0]
    saved = saved_by_the_least(found, least) if named else []
    if not saved:
        return []
    units = on_squares(found.board, saved, found.language, you=found.board.turn)
    return [found.language.say("That saves {units}.", units=units)]


def _taken_at_once(found: Findings, least: LeastLost) -> list[str]:
    """The answer to the one move that loses least, where that wins all it loses."""
    steps = play(found.position.fen, least.line[:2])
    if len(steps) < 2 or found.losing_least() != [least.line[0]]:
        return []
    if material_won(steps, found.board.turn) != -worth_most(least.loses):
        return []
    reply = found.last_name(least.line[:2])
    return [found.language.say("{other} answers {reply}.", other=found.other, reply=reply)]

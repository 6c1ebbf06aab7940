"""A finding in one plain sentence, which speaks of the games."""

from fastness.language import ENGLISH, Language, marked
from fastness.record.causes import (
    BY_A_PAWN,
    FAR,
    FURTHER,
    GUARDS,
    GUARDS_LESS,
    HITS_BACK,
    HURRIED,
)
from fastness.record.diagnosis import Finding
from fastness.survey.words import number_word

SENTENCES = {
    BY_A_PAWN: marked("In {games}, a piece that a pawn attacked was lost."),
    FAR: marked("In {games}, something was lost that could be seen by looking two moves ahead."),
    FURTHER: marked(
        "In {games}, something was lost that could be seen by looking three moves ahead or more."
    ),
    GUARDS: marked("In {games}, something in danger was guarded, and a guard could not save it."),
    GUARDS_LESS: marked(
        "In {games}, a piece attacked by something less valuable was guarded, and was lost."
    ),
    HITS_BACK: marked(
        "In {games}, a counterattack was played where a plain remedy was at least as good."
    ),
    HURRIED: marked("In {games}, something was lost when little time was left on the clock."),
    "unguarded": marked("In {games}, something that nothing guarded was lost."),
    "less valuable attacker": marked("In {games}, a piece was lost to something less valuable."),
    "outnumbered": marked("In {games}, something was attacked more often than it was guarded."),
    "pinned guard": marked("In {games}, a guard could not help since it was pinned."),
    "overloaded guard": marked("In {games}, one guard had two things to guard."),
    "removal of the guard": marked("In {games}, a guard was taken or driven off first."),
    "trapped": marked("In {games}, a piece had no safe square to go to."),
    "promotion": marked("In {games}, a pawn came to the last rank."),
    "fork": marked("In {games}, something was lost by a fork."),
    "pin": marked("In {games}, something was lost by a pin."),
    "skewer": marked("In {games}, something was lost by a skewer."),
    "discovered attack": marked("In {games}, something was lost by a discovered attack."),
    "discovered check": marked("In {games}, something was lost by a discovered check."),
    "double check": marked("In {games}, something was lost by a double check."),
    "back rank": marked("In {games}, something was lost by a mate on the back rank."),
    "mate threat": marked("In {games}, something was lost by a mate threat."),
    "interference": marked("In {games}, something was lost by interference."),
    "in-between move": marked("In {games}, something was lost by an in-between move."),
    "desperado": marked("In {games}, something was lost by a desperado."),
}


def finding_sentence(finding: Finding, language: Language = ENGLISH) -> str:
    """The finding in one sentence, such as "In three games, a piece ... was lost."."""
    return language.say(SENTENCES[finding.name], games=_games(finding.games, language))


def _games(number: int, language: Language) -> str:
    if number == 1:
        return language.say_as("in so many", "one game")
    return language.say_as("in so many", "{number} games", number=number_word(number, language))

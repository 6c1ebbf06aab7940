"""A finding in one plain sentence, which speaks of the games."""

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

_SENTENCES = {
    BY_A_PAWN: "In {games}, a piece that a pawn attacked was lost.",
    FAR: "In {games}, something was lost that could be seen by looking two moves ahead.",
    FURTHER: (
        "In {games}, something was lost that could be seen by looking three moves ahead or more."
    ),
    GUARDS: "In {games}, something in danger was guarded, and a guard could not save it.",
    GUARDS_LESS: (
        "In {games}, a piece attacked by something less valuable was guarded, and was lost."
    ),
    HITS_BACK: (
        "In {games}, a counterattack was played where a plain remedy was at least as good."
    ),
    HURRIED: "In {games}, something was lost when little time was left on the clock.",
    "unguarded": "In {games}, something that nothing guarded was lost.",
    "less valuable attacker": "In {games}, a piece was lost to something less valuable.",
    "outnumbered": "In {games}, something was attacked more often than it was guarded.",
    "pinned guard": "In {games}, a guard could not help since it was pinned.",
    "overloaded guard": "In {games}, one guard had two things to guard.",
    "removal of the guard": "In {games}, a guard was taken or driven off first.",
    "trapped": "In {games}, a piece had no safe square to go to.",
    "promotion": "In {games}, a pawn came to the last rank.",
}
_ANY = "In {games}, something was lost by {name}."
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def finding_sentence(finding: Finding) -> str:
    """The finding in one sentence, such as "In three games, a piece ... was lost."."""
    name = finding.name
    if name == "back rank":
        name = "a mate on the back rank"
    elif name != "interference":
        name = f"an {name}" if name[0] in "aeiou" else f"a {name}"
    sentence = _SENTENCES.get(finding.name, _ANY)
    return sentence.format(games=_games(finding.games), name=name)


def _games(number: int) -> str:
    if number == 1:
        return "one game"
    return f"{_NUMBERS[number] if number < len(_NUMBERS) else number} games"

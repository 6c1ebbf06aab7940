"""What was found about one thing that a claim says, and what follows for the claim."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fastness.language import Language
from fastness.lessons.lesson import Claim
from fastness.survey.words import ahead

Verdict = Literal["true", "false", "not settled"]


@dataclass(frozen=True, slots=True)
class Found:
    """Whether one thing is so at one reach (None: it cannot be told), what is so, and the line."""

    so: bool | None
    told: str = ""
    line: str = ""


SO = Found(so=True)


@dataclass(frozen=True, slots=True)
class Answer:
    """What a claim is found to be; where it is not true, what is, and the line that shows it."""

    claim: Claim
    verdict: Verdict
    told: str = ""
    line: str = ""


def answer(
    claim: Claim,
    near: Sequence[Found],
    far: Sequence[Found],
    reaches: tuple[int, int],
    language: Language,
) -> Answer:
    """The answer from what was found at the two reaches, thing by thing.

    A claim is true if all it says is so at both, false if one thing is so at neither.
    """
    pairs = list(zip(near, far, strict=True))
    for one, other in pairs:
        if one.so is False and other.so is False:
            return Answer(claim, "false", one.told, one.line)
    for one, other in pairs:
        if one.so is None or other.so is None:
            untold = one if one.so is None else other
            return Answer(claim, "not settled", untold.told, untold.line)
        if one.so != other.so:
            return _turned(claim, one, other, reaches, language)
    return Answer(claim, "true")


def _turned(
    claim: Claim, near: Found, far: Found, reaches: tuple[int, int], language: Language
) -> Answer:
    """A claim that is so at one of the reaches only."""
    wrong, at, true_at = (far, reaches[1], reaches[0]) if near.so else (near, *reaches)
    told = language.say(
        "it is so {true_there}, but not {there}: {told}",
        true_there=ahead(true_at, language),
        there=ahead(at, language),
        told=wrong.told,
    )
    return Answer(claim, "not settled", told, wrong.line)

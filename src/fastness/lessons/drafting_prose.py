"""The prose of drafted lessons: a text for each theme, and phrases that take turns."""

from __future__ import annotations

import tomllib
import zlib
from collections import Counter
from dataclasses import dataclass, fields
from functools import cache
from importlib.resources import files

from fastness.language import Language


@dataclass(frozen=True, slots=True)
class ThemeText:
    """What is said of a theme.

    `what` explains it, `see` is about the small position that shows it, `why` says why the usual
    remedy fails, `far` is for those who know it, `ask` is the question to take home.
    """

    title: str
    what: str
    see: str
    why: str
    far: str
    ask: str


PHRASES = (
    "hook_plain",
    "hook_club",
    "hook_stretch",
    "first_heading",
    "look_first",
    "shown_fails",
    "shown_keeps",
    "game_heading",
    "game_intro",
    "shelf_heading",
    "shelf_intro",
    "through",
    "twin_heading",
    "twin_intro",
    "twin_told",
    "twin_before",
    "questions_heading",
    "questions_intro",
    "ask_which",
    "ask_why",
    "ask_safe",
    "ask_every",
    "ask_one",
    "homework_heading",
    "homework_intro",
    "closing",
)
"""The names of the phrases; each has several wordings in each language."""


@cache
def _texts(code: str) -> dict[str, dict[str, object]]:
    file = files("fastness.lessons").joinpath("prose_texts", f"{code}.toml")
    return tomllib.loads(file.read_text(encoding="utf-8"))


def theme_text(theme: str, language: Language) -> ThemeText:
    """The text of a theme. Raises KeyError where there is none of that name."""
    told = _texts(language.code)[theme]
    return ThemeText(*(str(told[field.name]) for field in fields(ThemeText)))


def wordings(phrase: str, language: Language) -> list[str]:
    """The wordings of a phrase."""
    told = _texts(language.code)["phrases"][phrase]
    return [str(one) for one in told] if isinstance(told, list) else []


class Voice:
    """Says phrases in wordings that take turns; where they begin depends on `seed` alone."""

    def __init__(self, language: Language, seed: str) -> None:
        self.language = language
        self.seed = seed
        self._said: Counter[str] = Counter()

    def phrase(self, phrase: str, **values: object) -> str:
        """A phrase in its next wording."""
        told = wordings(phrase, self.language)
        first = zlib.crc32(f"{self.seed} {phrase}".encode()) % len(told)
        at = (first + self._said[phrase]) % len(told)
        self._said[phrase] += 1
        return told[at].format(**values)

"""Texts for people in more than one language, by gettext catalogues. English is the source."""

from __future__ import annotations

import gettext
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal, get_args

from fastness.errors import OptionError

DOMAIN = "fastness"
FOLDER = Path(__file__).with_name("locale")

LanguageName = Literal["en", "de"]
LANGUAGES: tuple[LanguageName, ...] = get_args(LanguageName)
"""The languages there are texts for, English first."""

_VARIABLES = ("LC_ALL", "LC_MESSAGES", "LANG")  # in this order: POSIX.1-2017, 8.2


@dataclass(frozen=True, slots=True)
class Language:
    """One language: `code` (ISO 639-1) and its catalogue of texts.

    A text is written in English where it is said, with values in braces; the catalogue has it in
    the other language with the same values. `make words` collects the texts by these names.
    """

    code: LanguageName
    catalogue: gettext.NullTranslations

    def say(self, text: str, /, **values: object) -> str:
        """`text` in this language, with its values."""
        return self.catalogue.gettext(text).format(**values)

    def say_many(self, one: str, many: str, number: int, /, **values: object) -> str:
        """`one` for a number of 1, else `many`, as the language counts; `{number}` is a value."""
        return self.catalogue.ngettext(one, many, number).format(number=number, **values)

    def say_as(self, context: str, text: str, /, **values: object) -> str:
        """`text` where the same English words need other ones by `context`."""
        return self.catalogue.pgettext(context, text).format(**values)


ENGLISH = Language("en", gettext.NullTranslations())


def marked(text: str) -> str:
    """`text`, untouched: it stands in a table, is collected there and said elsewhere."""
    return text


def marked_as(context: str, text: str) -> tuple[str, str]:
    """As `marked`, for `say_as`."""
    return context, text


@cache
def language(code: str) -> Language:
    """The language with this code, its catalogue loaded once. Raises OptionError if none has it."""
    for known in LANGUAGES:
        if code == known:
            if known == ENGLISH.code:
                return ENGLISH
            return Language(known, gettext.translation(DOMAIN, FOLDER, [known]))
    raise OptionError(f"There are no texts in {code!r}; there are in {', '.join(LANGUAGES)}.")


def preferred(environment: Mapping[str, str]) -> LanguageName:
    """The language that the environment's variables ask for, English if there is none of it."""
    asked = next(filter(None, map(environment.get, _VARIABLES)), "")
    code = asked.partition(".")[0].partition("@")[0].partition("_")[0]
    return next((known for known in LANGUAGES if code == known), ENGLISH.code)

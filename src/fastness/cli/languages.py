"""The language of the texts, for every command that has the option."""

from __future__ import annotations

import os
from typing import Annotated

from cyclopts import Parameter

from fastness.language import Language, LanguageName, preferred
from fastness.language import language as language_of

TextLanguage = Annotated[LanguageName | None, Parameter(show_default=False)]
"""A language, or None for that of the environment."""


def chosen(language: LanguageName | None) -> Language:
    """The language asked for, else that of the environment if there are texts in it."""
    return language_of(language or preferred(os.environ))

"""Whether there is danger: half a pawn or more, or mate."""

from __future__ import annotations

from fastness.core.shapes import Danger, Survey
from fastness.survey.words import THRESHOLD


def endangers(danger: Danger | None) -> bool:
    """Whether a danger is one: half a pawn or more, or mate."""
    return danger == "mate" or (isinstance(danger, int) and danger >= THRESHOLD)


def has_danger(survey: Survey) -> bool:
    """Whether there is danger at the full reach; False in check, where it is not defined."""
    return bool(survey["danger"]) and endangers(survey["danger"][-1])  # type: ignore[index]

"""A position of the class with its survey: ranked, and checked one move deeper."""

from __future__ import annotations

from dataclasses import dataclass

from fastness.classroom.session import BoardPosition
from fastness.core.shapes import Survey
from fastness.language import Language
from fastness.survey.claim import Claim
from fastness.survey.claims import claims
from fastness.survey.findings import Findings
from fastness.workflows.surveying import survey_position


@dataclass(frozen=True, slots=True)
class Surveyed:
    """A survey and what it claims, to be told in any language."""

    survey: Survey
    moves_given: bool
    claims: tuple[Claim, ...]

    def findings(self, language: Language) -> Findings:
        """The claims as a rendering reads them."""
        return Findings(self.claims, language)


def look_at(position: BoardPosition) -> Surveyed:
    """The survey of a position of the class; it takes up to some seconds."""
    moves = " ".join(position.moves)
    survey = survey_position(position.start, moves, firm=True, ranks=True)
    given = bool(position.moves)
    return Surveyed(survey, given, tuple(claims(survey, moves_given=given)))

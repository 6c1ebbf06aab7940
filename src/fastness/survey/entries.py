"""An entry of the page: sentences on units, and below them the line that proves them."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.survey.claim import SafeByTactics, Taking, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.lines import PASS, wrapped
from fastness.survey.nouns import Noun, the_unit
from fastness.survey.words import capital


def entry(found: Findings, told: Sequence[str], line: Sequence[str]) -> str:
    """Sentences, and below them the line that proves them."""
    rows = [wrapped(" ".join(told))]
    if line:
        rows.append(line_alone(found, line))
    return "\n".join(rows)


def line_alone(found: Findings, line: Sequence[str], falls: Noun | None = None) -> str:
    """A line in a row of its own, and what falls in it."""
    if falls is None:
        return wrapped(f"{found.line(line)}.", indent=4, hang=2)
    told = found.language.say("{line}: {unit} is taken.", line=found.line(line), unit=falls)
    return wrapped(told, indent=4, hang=2)


def shown_of(group: Sequence[Unsafe | Taking]) -> Unsafe | Taking:
    """The one of a group unsafe together whose line to show.

    A line in which the defender passes shows only the threat, so another is shown if there is one.
    """
    return min(group, key=lambda one: PASS in one.line[1:])


def safe_by_tactics(found: Findings, claim: SafeByTactics) -> str:
    """That trying to win a unit of either side wins nothing."""
    told = found.language.say(
        "{unit} is safe by tactics: trying to win it wins nothing, as the line shows.",
        unit=the_unit(claim.unit, found.language),
    )
    return capital(told)

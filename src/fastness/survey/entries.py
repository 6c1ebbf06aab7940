"""An entry of the page: sentences on units, and below them the line that proves them."""

from __future__ import annotations

from collections.abc import Sequence

from fastness.survey.claim import Retaken, SafeByTactics, Taking, UnitAt, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.lines import PASS, wrapped
from fastness.survey.nouns import Noun, the_unit
from fastness.survey.words import capital, worth


def entry(
    found: Findings, told: Sequence[str], line: Sequence[str], fall: Sequence[UnitAt] = ()
) -> str:
    """Sentences, and below them the line that proves them.

    `fall`: the units that fall by the line; where taking one back does not help, that is shown.
    """
    rows = [wrapped(" ".join(told))]
    if line:
        rows.append(line_alone(found, line))
    backs = filter(None, map(found.retaken, fall))
    return "\n".join([*rows, *(taken_back(found, back) for back in backs)])


def line_alone(found: Findings, line: Sequence[str], falls: Noun | None = None) -> str:
    """A line in a row of its own, and what falls in it."""
    if falls is None:
        return wrapped(f"{found.line(line)}.", indent=4, hang=2)
    told = found.language.say("{line}: {unit} is taken.", line=found.line(line), unit=falls)
    return wrapped(told, indent=4, hang=2)


def taken_back(found: Findings, back: Retaken) -> str:
    """A row below a proof line: how taking back fails."""
    side = found.own if found.is_own(back.unit) else found.other
    values = {"side": side, "line": found.line_after_pass(back.line)}
    if back.loses == "mate":
        told = found.language.say("If {side} takes back: {line}. That is mate.", **values)
    else:
        worth_ = worth(back.loses, found.language)
        told = found.language.say(
            "If {side} takes back: {line}. That costs {worth}.", **values, worth=worth_
        )
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

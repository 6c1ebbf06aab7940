"""A student's record as a page of plain text for the teacher, at most 88 columns wide."""

from __future__ import annotations

from collections.abc import Iterator

from fastness.language import ENGLISH, Language
from fastness.record import ENOUGH, Finding
from fastness.survey.lines import wrapped
from fastness.workflows.record_words import (
    decimal,
    finding_name,
    games_counted,
    numbers,
    place,
    summary,
)
from fastness.workflows.recording import StudentRecord
from fastness.workflows.remarks import all_remarks

SHOWN = 12
"""Causes in the table."""


def record_page(record: StudentRecord, language: Language = ENGLISH) -> str:
    """The record: what was held, what stands out with the best own examples, every cause."""
    parts = [
        _head(record, language),
        _held(record, language),
        *_findings(record, language),
        _table(record, language),
        _remarks(record, language),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _head(record: StudentRecord, language: Language) -> str:
    group = f" ({record.group})" if record.group else ""
    title = f"{record.name}{group}: {games_counted(record.diagnosis.games, language)}"
    return f"{title}\n{wrapped(summary(record, language))}"


def _held(record: StudentRecord, language: Language) -> str:
    held = record.diagnosis.held_examples
    rows = [wrapped(place(record, one, language), hang=2) for one in held]
    return "\n".join([language.say_as("a heading", "Held"), *rows]) if rows else ""


def _findings(record: StudentRecord, language: Language) -> Iterator[str]:
    found = record.diagnosis
    if not found.told:
        enough = language.say("Nothing stands out.")
        few = language.say("Too few dangers to tell anything yet.")
        reason = enough if found.held.of >= ENOUGH else few
        yield f"{language.say('What stands out')}\n{wrapped(reason)}"
    for number, finding in enumerate(found.told, 1):
        name = finding_name(finding.name, language)
        rows = [language.say("What stands out, {number}: {name}", number=number, name=name)]
        rows.append(wrapped(numbers(finding, language)))
        rows += [wrapped(place(record, one, language), hang=2) for one in finding.examples]
        yield "\n".join(rows)


def _table(record: StudentRecord, language: Language) -> str:
    rows = [_row(one, language) for one in record.diagnosis.causes[:SHOWN]]
    if not rows:
        return ""
    title = language.say(
        "All causes: what fell, pawns' worth lost a game, and in the others' games"
    )
    return "\n".join([title, *rows])


def _row(finding: Finding, language: Language) -> str:
    group = finding.group_per_game
    own = decimal(finding.lost_per_game / 100, language)
    beside = "-" if group is None else decimal(group / 100, language)
    name = finding_name(finding.name, language)
    return f"  {name:<44} {finding.fell:3}  {own:>6}  {beside:>6}"


def _remarks(record: StudentRecord, language: Language) -> str:
    rows = [wrapped(remark, hang=2) for remark in all_remarks(record, language)]
    return "\n".join([language.say("Your corrections"), *rows]) if rows else ""

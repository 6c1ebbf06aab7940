"""The teacher's report on one student: everything, with the numbers."""

from __future__ import annotations

from collections.abc import Iterator

from fastness.language import Language, marked, marked_as
from fastness.publish.document import Block, Diagram, Diagrams, Grid, Heading, Paragraph, Points
from fastness.publish.plots import held_by_period
from fastness.record import Episode, all_episodes, rates_by, trend
from fastness.record.groups import By
from fastness.survey.words import ahead, capital
from fastness.workflows.record_words import (
    day,
    decimal,
    finding_name,
    in_words,
    numbers,
    place,
    summary,
)
from fastness.workflows.recording import StudentRecord
from fastness.workflows.remarks import all_remarks
from fastness.workflows.report_diagrams import position

_SPLITS: tuple[tuple[By, str], ...] = (
    ("mechanism", marked("By cause")),
    ("danger", marked("By what hides it")),
    ("reach", marked("By how far one has to look")),
    ("unit", marked("By what was in danger")),
    ("phase", marked("By phase")),
    ("hurried", marked("By the clock")),
)
_ROWS = {
    "pawn": marked_as("one unit", "pawn"),
    "knight": marked_as("one unit", "knight"),
    "bishop": marked_as("one unit", "bishop"),
    "rook": marked_as("one unit", "rook"),
    "queen": marked_as("one unit", "queen"),
    "king": marked_as("one unit", "king"),
    "none": marked_as("what was in danger", "a pawn was to promote"),
    "opening": marked_as("a phase", "opening"),
    "middlegame": marked_as("a phase", "middlegame"),
    "endgame": marked_as("a phase", "endgame"),
    "hurried": marked_as("the clock", "little time left"),
    "with time": marked_as("the clock", "time left"),
}


def for_teacher(record: StudentRecord, language: Language) -> Iterator[Block]:
    """What stands out with examples, what was held, every rate, and the corrections."""
    say, found = language.say, record.diagnosis
    yield Paragraph(summary(record, language))
    yield Heading(say("What stands out"))
    if not found.told:
        yield Paragraph(say("Nothing stands out."))
    for finding in found.told:
        yield Heading(capital(finding_name(finding.name, language)), 2)
        yield Paragraph(numbers(finding, language))
        drawn = [_example(record, one, language) for one in finding.examples]
        yield Diagrams(tuple(drawn), across=3)
    if found.held_examples:
        yield Heading(language.say_as("a heading", "Held"))
        drawn = [_example(record, one, language) for one in found.held_examples]
        yield Diagrams(tuple(drawn), across=3)
    yield from _tables(record, language)
    remarks = all_remarks(record, language)
    if remarks:
        yield Heading(say("Your corrections"))
        yield Points(tuple(capital(remark) for remark in remarks))


def _example(record: StudentRecord, one: Episode, language: Language) -> Diagram:
    return position(one, capital(place(record, one, language)))


def _tables(record: StudentRecord, language: Language) -> Iterator[Block]:
    say = language.say
    episodes = all_episodes(one.game for one in record.games)
    if not episodes:
        return
    yield Heading(say("Over time"))
    periods = [one for one in trend(episodes) if one.rate.of]
    if len(periods) > 1:
        yield held_by_period(
            [(day(one.first, language), one.rate.held, one.rate.of) for one in periods], language
        )
    else:
        yield Paragraph(say("All games are from one day, or without a date."))
    yield Heading(say("Rates"))
    for by, title in _SPLITS:
        split = rates_by(by, episodes)
        if split:
            rows = [
                (_row(by, name, language), in_words(rate, language)) for name, rate in split.items()
            ]
            yield Heading(say(title), 2)
            header = ("", say("held, and the 95 % interval"))
            yield Grid(header, tuple(rows), numbers=2)
    yield from _costs(record, language)


def _row(by: By, name: str, language: Language) -> str:
    if by == "reach":
        return ahead(int(name), language)
    return (
        finding_name(name, language)
        if by in ("mechanism", "danger")
        else language.say_as(*_ROWS[name])
    )


def _costs(record: StudentRecord, language: Language) -> Iterator[Block]:
    say = language.say
    rows = [
        (
            finding_name(one.name, language),
            str(one.fell),
            decimal(one.lost_per_game / 100, language),
            "-" if one.group_per_game is None else decimal(one.group_per_game / 100, language),
        )
        for one in record.diagnosis.causes
    ]
    yield Heading(say("What it cost"))
    header = (say("cause"), say("fell"), say("pawns a game"), say("the others'"))
    yield Grid(header, tuple(rows))

"""Homework as documents: the slips, a student's result, and the teacher's grid."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from fastness.language import ENGLISH, Language, marked, marked_as
from fastness.practice.explaining import Outcome
from fastness.publish.document import (
    Beside,
    Block,
    Diagram,
    Document,
    Grid,
    Heading,
    Paper,
    Paragraph,
)
from fastness.workflows.homework_told import (
    ExerciseResult,
    GivenTold,
    HandedIn,
    HomeworkRow,
    HomeworkTold,
)
from fastness.workflows.record_words import day

ACROSS = 8
"""Exercises beside each other in a table of the grid."""
_PARTS: tuple[tuple[Outcome, str], ...] = (
    ("right", marked("You saw this")),
    ("wrong", marked("Look at this once more")),
    ("not judged", marked("This does not count either way")),
    ("open", marked("You left this open")),
)
_CELLS: dict[Outcome, tuple[str, str]] = {
    "right": marked_as("in a table", "right"),
    "wrong": marked_as("in a table", "not yet"),
    "not judged": marked_as("in a table", "aside"),
    "open": marked_as("in a table", "open"),
}


def slips_document(
    told: HomeworkTold,
    language: Language = ENGLISH,
    *,
    address: str = "",
    file: str = "",
    links: Mapping[str, str] | None = None,
    paper: Paper = "a4",
    large: bool = False,
) -> Document:
    """A slip for each student with the word that is theirs alone, to be printed and cut.

    `links` are addresses of pages of their own, each by the student's word. `file` is the name of
    the page's file, `address` where it stands in the club's network; how the page is opened is told
    by what is given.
    """
    say = language.say
    blocks: list[Block] = [Paragraph(say("Cut between the names."), small=True)]
    ways = []
    if file:
        ways.append(
            say("Open the file {file} on a phone or a computer. It needs no network.", file=file)
        )
    if address:
        ways.append(say("The page, in the club's network: {address}", address=address))
    title, due = told.row.title, day_in_words(told, language)
    for student in told.students:
        blocks += [
            Heading(student.name),
            Paragraph(say("{title}, due on {day}", title=title, day=due)),
            Heading(say("Your word: {word}", word=student.word), level=2),
            *(
                [Paragraph(say("Your own page, for you alone: {address}", address=own))]
                if (own := (links or {}).get(student.word))
                else []
            ),
            *map(Paragraph, ways),
            Paragraph(say("At the end there is a code. Send it to your teacher or write it here:")),
            Paragraph("_ _ _ _ - " * 9 + "_ _ _ _"),
        ]
    return Document(
        say("{title}: slips", title=title),
        tuple(blocks),
        language=language.code,
        paper=paper,
        large=large,
        black=True,
    )


def day_in_words(told: HomeworkTold, language: Language) -> str:
    """The day that a homework is due."""
    return day(f"{told.row.due:%Y.%m.%d}", language)


def result_document(
    handed: HandedIn, language: Language = ENGLISH, *, paper: Paper = "a4", large: bool = False
) -> Document:
    """What a student is told of a homework: first what was seen, then what to look at again."""
    blocks: list[Block] = []
    for outcome, heading in _PARTS:
        found = [one for one in handed.results if one.verdict == outcome]
        if found:
            blocks.append(Heading(language.say(heading)))
            blocks += [_result(one, language) for one in found]
    title = language.say("{name}: {title}", name=handed.student, title=handed.title)
    return Document(title, tuple(blocks), language=language.code, paper=paper, large=large)


def _result(one: ExerciseResult, language: Language) -> Beside:
    asked = f"{one.label}. {one.question}"
    given = language.say("Your answer: {answer}.", answer=one.given_names)
    told = ([given] if one.given is not None else []) + list(one.told)
    return Beside(Diagram(one.fen, "", flip=one.flip), (asked, *told))


def grid_document(
    told: HomeworkTold, language: Language = ENGLISH, *, paper: Paper = "a4", large: bool = False
) -> Document:
    """For the teacher: who handed in, and what became of each exercise."""
    say, row = language.say, told.row
    whom = row.group or say("some students")
    due = say("Due on {day}.", day=day_in_words(told, language))
    numbers = say("Homework {number}, for {whom}.", number=row.number, whom=whom)
    blocks: list[Block] = [Paragraph(f"{numbers} {due}")]
    blocks += [_table(told, at, language) for at in range(0, len(told.exercises), ACROSS)]
    missing = [one.name for one in told.students if not one.hand_ins]
    if missing:
        blocks.append(Paragraph(say("Nothing came yet from: {names}.", names="; ".join(missing))))
    if any(len(one.hand_ins) > 1 for one in told.students):
        blocks.append(
            Paragraph(
                say("What was handed in first counts. What came later stands below it."),
                small=True,
            )
        )
    blocks.append(Heading(say("The exercises")))
    blocks += [
        Paragraph(
            say(
                "{label}. {question} Exercise {number} of the shelf.",
                label=one.label,
                question=one.question,
                number=one.shelf_number,
            )
        )
        for one in told.exercises
    ]
    return Document(row.title, tuple(blocks), language=language.code, paper=paper, large=large)


def _table(told: HomeworkTold, first: int, language: Language) -> Grid:
    labels = tuple(one.label for one in told.exercises[first : first + ACROSS])
    rows = [
        row for student in told.students for row in _rows(student, first, len(labels), language)
    ]
    return Grid((language.say("Name"), *labels), tuple(rows), numbers=len(labels) + 1)


def _rows(
    student: GivenTold, first: int, count: int, language: Language
) -> Iterator[tuple[str, ...]]:
    if not student.hand_ins:
        yield (student.name, *[""] * count)
    for kept in student.hand_ins:
        date = day(f"{kept.made:%Y.%m.%d}", language)
        name = student.name if kept.counts else language.say("later, {day}", day=date)
        yield (name, *_cells(kept.verdicts[first : first + count], language))


def _cells(verdicts: Sequence[Outcome], language: Language) -> list[str]:
    return [language.say_as(*_CELLS[one]) for one in verdicts]


def row_in_words(row: HomeworkRow, language: Language = ENGLISH) -> str:
    """A homework on a line: ``205  Is it safe?, Evening group, due on 2026-12-03: 2 of 9 came``."""
    return language.say(
        "{number}  {title}, {whom}, due on {day}: came back from {came} of {all}",
        number=row.number,
        title=row.title,
        whom=row.group or language.say("some students"),
        day=day(f"{row.due:%Y.%m.%d}", language),
        came=row.handed_in,
        all=row.students,
    )


def handed_in_words(handed: HandedIn, language: Language = ENGLISH) -> str:
    """Whose homework was marked, on a line, and whether it counts."""
    say = language.say
    told = [say("{name}: {title}", name=handed.student, title=handed.title)]
    if not handed.new:
        told.append(say("this was there already; nothing is changed"))
    elif not handed.counts:
        told.append(say("another try; what was handed in first counts"))
    if handed.later:
        told.append(say("after the day it was due"))
    for outcome, _ in _PARTS:
        labels = [one.label for one in handed.results if one.verdict == outcome]
        if labels:
            name = language.say_as(*_CELLS[outcome])
            told.append(f"{name} {', '.join(labels)}")
    return "; ".join(told)

"""Reports for the student, the parents, the teacher and the group, as documents to be printed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from fastness.language import ENGLISH, Language
from fastness.publish.document import (
    Block,
    Diagrams,
    Document,
    Heading,
    NewPage,
    Paper,
    Paragraph,
    Points,
    ToFill,
)
from fastness.record import Finding, months_plan
from fastness.workflows.advice import task_for_parents, task_for_student
from fastness.workflows.record_words import day, finding_name, games_counted, ringed
from fastness.workflows.recording import StudentRecord, owner_of
from fastness.workflows.report_diagrams import answer, kept, position, question
from fastness.workflows.teacher_report import for_teacher

Reader = Literal["student", "parents", "teacher"]


def report(
    record: StudentRecord,
    reader: Reader,
    *,
    paper: Paper = "a4",
    large: bool = False,
    language: Language = ENGLISH,
) -> Document:
    """The report on one student's games for one reader."""
    make = {"student": _for_student, "parents": _for_parents, "teacher": for_teacher}[reader]
    given = _given(record.name)
    title = {
        "student": language.say("{name}: what your games show", name=given),
        "parents": language.say("{name}'s chess", name=given),
        "teacher": language.say("{name}: the record", name=record.name),
    }[reader]
    return Document(
        title,
        tuple(make(record, language)),
        language=language.code,
        paper=paper,
        large=large,
        footer=_footer(record, language),
    )


def _given(name: str) -> str:
    """The given name: "Flourdust, Ivy" is Ivy, "Ivy Flourdust" too."""
    family, comma, given = name.partition(",")
    return given.strip() if comma else family.split()[0]


def _footer(record: StudentRecord, language: Language) -> str:
    games = games_counted(len(record.games), language)
    dates = sorted(one.game.date for one in record.games if "?" not in one.game.date)
    if not dates:
        return games
    first, last = day(dates[0], language), day(dates[-1], language)
    return language.say("{games}, {first} to {last}", games=games, first=first, last=last)


def _for_student(record: StudentRecord, language: Language) -> Iterator[Block]:
    say, found = language.say, record.diagnosis
    if not record.games:
        yield Paragraph(say("There are no games yet."))
        return
    held = found.held_examples[:1]
    if held:
        yield Heading(say("You held this"))
        yield Paragraph(
            say("Something of yours was in danger here. You found a move that keeps it.")
        )
        yield Diagrams(tuple(kept(record, one, language, you=True) for one in held), across=1)
    chosen = _one_thing(record)
    if chosen is None:
        yield Heading(say("What comes next"))
        yield Paragraph(say("Play on as you do. With more games there will be more to say."))
        return
    yield Heading(say("One thing to work on"))
    yield Paragraph(task_for_student(chosen.name, language))
    yield Paragraph(say("Here are positions from your own games. What keeps everything?"))
    asked = chosen.examples
    questions = [question(one, number, language) for number, one in enumerate(asked, 1)]
    yield Diagrams(tuple(questions), across=max(2, min(3, len(questions))))
    yield NewPage()
    yield Heading(say("Answers"))
    answers = [answer(record, one, language, number) for number, one in enumerate(asked, 1)]
    yield Points(tuple(answers))


def _one_thing(record: StudentRecord) -> Finding | None:
    """What to work on: what is told, else what stands out by itself, else what cost most."""
    likely = (one for one in record.diagnosis.causes if one.stands_out)
    clear = [*record.diagnosis.told, *likely]
    if clear:
        return clear[0]
    with_examples = [one for one in record.diagnosis.causes if one.examples]
    return max(with_examples, key=lambda one: (one.lost_per_game, one.name), default=None)


def _for_parents(record: StudentRecord, language: Language) -> Iterator[Block]:
    say, name = language.say, _given(record.name)
    if not record.games:
        yield Paragraph(say("There are no games yet."))
        return
    yield Paragraph(
        say(
            "We have gone through {name}'s games. In chess a piece is lost most often because one"
            " does not notice that it can be taken. This page shows one place where it was"
            " noticed, and what comes next.",
            name=name,
        )
    )
    held = record.diagnosis.held_examples[:1]
    if held:
        yield Heading(say("{name} saw this", name=name))
        yield Paragraph(
            language.say_many(
                "The piece in the broken ring was in danger, and the move played kept it.",
                "The pieces in the broken rings were in danger, and the move played kept them.",
                len(ringed(held[0])),
            )
        )
        yield Diagrams(tuple(kept(record, one, language, you=False) for one in held), across=1)
    chosen = _one_thing(record)
    if chosen is None:
        return
    yield Heading(say("What comes next"))
    task = task_for_parents(chosen.name, language)
    yield Paragraph(say("We are practising {task}.", task=task))
    shown = chosen.examples[:1]
    if shown:
        yield Paragraph(say("For instance here. You can look at it together: what is in danger?"))
        drawn = [position(one, answer(record, one, language)) for one in shown]
        yield Diagrams(tuple(drawn), across=1)


def group_report(
    records: Sequence[StudentRecord],
    group: str,
    *,
    paper: Paper = "a4",
    large: bool = False,
    language: Language = ENGLISH,
) -> Document:
    """Positions of a group without names, by the themes of the coming weeks."""
    say = language.say
    names = tuple(one.name for one in records)
    blocks: list[Block] = []
    answers: list[str] = []
    for theme in months_plan({one.name: one.diagnosis for one in records}):
        cause = finding_name(theme.cause, language)
        blocks += [
            Heading(say("Week {number}: {theme}", number=theme.week, theme=cause)),
            Paragraph(task_for_student(theme.cause, language)),
        ]
        asked = []
        for number, one in enumerate(theme.examples, len(answers) + 1):
            asked.append(question(one, number, language))
            answers.append(answer(owner_of(records, one), one, language, number, names))
        if asked:
            blocks.append(Diagrams(tuple(asked), across=3))
    if not blocks:
        blocks.append(Paragraph(say("Nothing stands out in these games yet.")))
    else:
        blocks += [NewPage(), Heading(say("Answers")), Points(tuple(answers))]
    blocks.insert(0, ToFill((say("Name"), say("Date"))))
    games = {game.game.game for record in records for game in record.games}
    return Document(
        say("{group}: what to look at next", group=group),
        tuple(blocks),
        language=language.code,
        paper=paper,
        large=large,
        footer=games_counted(len(games), language),
    )

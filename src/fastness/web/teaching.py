"""Routes from a lesson on: a draft of one, and the class board that teaches it."""

from __future__ import annotations

import datetime
from typing import Annotated

from fastapi import APIRouter, Depends
from pydantic import BaseModel, Field

from fastness.classroom.of_lesson import of_lesson
from fastness.classroom.preparing import begin
from fastness.exercises.exercise import Level
from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.web.classes import ClassHere, class_here
from fastness.web.games import Number
from fastness.web.jobs import Job, JobTold
from fastness.web.results import DraftResult
from fastness.web.weeks import folder_of
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.drafting import draft_lesson, source_of
from fastness.workflows.lesson_tries import LessonTaught, forget_taught, lesson_taught
from fastness.workflows.lesson_tries import put_back as keep_again

router = APIRouter(prefix="/api/lessons", tags=["lessons"])

Bench = Annotated[Workbench, Depends(workbench_of)]
Name = Annotated[str, Field(max_length=200)]


class Draft(BaseModel):
    """A lesson to draft: from one of a group's record, a student's, a theme, or a written week."""

    name: Name = Field(examples=["A first draft"])
    group: Name = ""
    student: Name = ""
    theme: Name = ""
    week: str = Field("", max_length=40)
    level: Level = "club"
    language: LanguageName = "en"


@router.post("/drafts", status_code=202, summary="Draft a lesson")
def draft(what: Draft, bench: Bench) -> JobTold:
    """A job looks positions up, proves what it says of them, and adds the lesson."""
    lessons = bench.lessons
    lessons.free(what.name)
    if what.week:
        bench.weeks.get(what.week)
    folder = folder_of(bench, what.week) if what.week else None

    def work(job: Job) -> DraftResult:
        source = source_of(
            bench.store, group=what.group, student=what.student, theme=what.theme, week=folder
        )
        made = draft_lesson(
            source,
            what.level,
            language_of(what.language),
            on_progress=lambda done: job.tell(done, count=done),
        )
        return DraftResult(lesson=lessons.add(what.name, made.text).name)

    return bench.jobs.begin("draft", what.name, work, what.name).told()


@router.get("/{name}/taught", summary="When a lesson was taught, and what was tried")
def taught(name: str, bench: Bench, language: LanguageName = "en") -> list[LessonTaught]:
    """The last time first; moves and hands, and no student's name."""
    lesson = bench.lessons.lesson(name)
    return lesson_taught(bench.store, name, lesson, language_of(language))


@router.delete("/{name}/taught/{number}", summary="Forget what was tried at a class board")
def forget(name: str, number: Number, bench: Bench) -> LessonTaught:
    """What it was is answered, so that it can be put back."""
    return forget_taught(bench.store, name, number)


@router.post("/{name}/taught", status_code=204, summary="Put back what was forgotten")
def put_back(name: str, what: LessonTaught, bench: Bench) -> None:
    """As it was answered."""
    bench.lessons.open(name)
    keep_again(bench.store, name, what)


class Teach(BaseModel):
    """The language of the class's screen."""

    language: LanguageName = "en"


@router.post("/{name}/class", status_code=201, summary="Begin a class board from a lesson")
async def teach(name: str, how: Teach, bench: Bench) -> ClassHere:
    """Its positions in order; its prose is the teacher's notes, which no class sees."""
    classes = bench.classes
    found = await classes.beside(lambda: of_lesson(bench.lessons.lesson(name)))
    bench.access.keep_links()
    today = datetime.date.today()
    session = begin(classes.number(), name, found, how.language, lesson=name, held=today)
    classes.add(session, of_demo=bench.in_demo)
    return class_here(bench, session, how.language)

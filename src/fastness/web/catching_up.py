"""A route for the sheet of those who were absent."""

from __future__ import annotations

import asyncio
from typing import Annotated, Literal

from fastapi import APIRouter, Depends
from fastapi.responses import Response
from pydantic import BaseModel, Field

from fastness.classroom.catch_up import catch_up
from fastness.classroom.taught import Taught, taught_by_board, taught_in
from fastness.errors import InputError
from fastness.language import Language, LanguageName
from fastness.language import language as language_of
from fastness.publish.document import Paper
from fastness.web.documents import FILE_ANSWER, document_file
from fastness.web.games import Number
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.attending import lesson_numbered, theme_without_names
from fastness.workflows.lessons import demand_true

router = APIRouter(prefix="/api", tags=["students"])

Bench = Annotated[Workbench, Depends(workbench_of)]


class CatchUp(BaseModel):
    """What was shown: a class board by its number, or a lesson by its name; and the print."""

    board: Number | None = None
    lesson: str = Field("", max_length=200)
    form: Literal["pdf", "html"] = "pdf"
    paper: Paper = "a4"
    large: bool = False
    language: LanguageName = "en"


@router.post(
    "/groups/{number}/lessons/{lesson}/catch-up",
    summary="A sheet of a lesson for those who were absent",
    response_class=Response,
    responses=FILE_ANSWER,
)
async def sheet(number: Number, lesson: Number, what: CatchUp, bench: Bench) -> Response:
    """Questions first, then the answers; no student's name is on it."""
    language = language_of(what.language)
    held = await asyncio.to_thread(lesson_numbered, bench.store, number, lesson)
    shown = await bench.classes.beside(lambda: _shown(bench, what, language))
    looked = {id(one.position): await bench.classes.look(one.position) for one in shown}

    def made() -> Response:
        theme = theme_without_names(bench.store, held.theme, language)
        document = catch_up(
            theme,
            held.held,
            shown,
            language,
            paper=what.paper,
            large=what.large,
            look=lambda position: looked[id(position)],
        )
        return document_file(document, what.form)

    return await bench.classes.beside(made)


def _shown(bench: Workbench, what: CatchUp, language: Language) -> tuple[Taught, ...]:
    if (what.board is None) == (not what.lesson):
        raise InputError("Say what was shown: a class board, or a lesson.")
    if what.board is not None:
        return taught_by_board(bench.classes.get(what.board).session, bench.store, language)
    lesson = bench.lessons.lesson(what.lesson)
    demand_true(lesson, language)
    return taught_in(lesson)

"""Routes for a student's question, answered, and for a student's practice for a week."""

from __future__ import annotations

import asyncio
from typing import Annotated, Literal

from fastapi import APIRouter, Depends
from fastapi.responses import Response
from pydantic import BaseModel, Field

from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.practice.weekly import MOST_MINUTES
from fastness.publish.sheet import Layout
from fastness.web.documents import FILE_ANSWER, DocumentTold, content, file, told, zipped
from fastness.web.games import Number
from fastness.web.positions import EXAMPLE
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows import answering
from fastness.workflows.people import tell_student
from fastness.workflows.practice_sheets import file_names, practice_sheet
from fastness.workflows.practising import practice_for

router = APIRouter(prefix="/api", tags=["replies and practice"])

Bench = Annotated[Workbench, Depends(workbench_of)]


class Question(BaseModel):
    """A student's question about a position, or about a move of one game (PGN).

    `number` and `colour` name the move of the game; left out, it is found from the question.
    """

    question: str = Field(min_length=1, max_length=500, examples=["Is my knight on e5 safe?"])
    fen: str = Field("", max_length=500, examples=[EXAMPLE])
    moves: str = Field("", max_length=2000, examples=[""])
    game: str = Field("", max_length=100_000, examples=[""])
    number: int | None = Field(None, ge=1, le=500, examples=[None])
    colour: Literal["white", "black"] | None = None


@router.post("/replies", summary="Answer a student's question")
async def reply(asked: Question, bench: Bench) -> answering.Reply:
    """A drafted reply, every sentence of it proved, in the language of the question."""

    def work() -> answering.Reply:
        return answering.answer_question(
            asked.question,
            position=asked.fen,
            moves=asked.moves,
            game=asked.game,
            number=asked.number,
            colour=asked.colour,
        )

    return await asyncio.get_running_loop().run_in_executor(bench.surveyor.slow, work)


@router.get("/replies/examples", summary="What can be asked")
def examples(language: LanguageName = "en") -> list[str]:
    """A question of each kind."""
    return list(answering.examples_of_questions(language_of(language)))


class PracticeOrder(BaseModel):
    """A set of about so many minutes for the week from today."""

    minutes: int = Field(20, ge=1, le=int(MOST_MINUTES))
    large: bool = False
    language: LanguageName = "en"


class PracticeTold(BaseModel):
    """A student's practice: the page for the student, and about how long it takes."""

    minutes: int
    exercises: list[int]
    document: DocumentTold


@router.post("/students/{number}/practice", summary="A student's practice for a week")
def practice(number: Number, order: PracticeOrder, bench: Bench) -> PracticeTold:
    """What was missed comes back when it is due; what is new is chosen by the record."""
    made = practice_for(bench.store, tell_student(bench.store, number).name, order.minutes)
    layout = Layout(large=order.large, language=language_of(order.language))
    sheet = practice_sheet(bench.store, made, layout)
    return PracticeTold(
        minutes=round(made.set.seconds / 60),
        exercises=[one.item.exercise.number for one in made.set.asked],
        document=told(sheet.questions),
    )


@router.post(
    "/students/{number}/practice/files",
    summary="A student's practice to print",
    response_class=Response,
    responses=FILE_ANSWER,
)
def practice_files(number: Number, order: PracticeOrder, bench: Bench) -> Response:
    """The page and the answers as PDF, in a zip."""
    name = tell_student(bench.store, number).name
    made = practice_for(bench.store, name, order.minutes)
    layout = Layout(large=order.large, language=language_of(order.language))
    sheet = practice_sheet(bench.store, made, layout)
    plain = file_names([name])[0]
    files = [(f"{plain}.pdf", sheet.questions), (f"{plain}-answers.pdf", sheet.answers)]
    whole = zipped([(one, content(document, "pdf")) for one, document in files])
    return file(whole, f"practice-{plain}.zip", "application/zip")

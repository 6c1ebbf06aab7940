"""Routes for homework on the teacher's side: handed out, printed, taken back, looked at."""

from __future__ import annotations

import datetime
from typing import Annotated

from fastapi import APIRouter, Depends
from fastapi.responses import Response
from pydantic import BaseModel, Field

from fastness.errors import InputError
from fastness.exercises.exercise import Level
from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.practice.code import MOST_STUDENTS, read_word
from fastness.publish.document import Paper
from fastness.publish.sheet import Layout
from fastness.web.documents import FILE_ANSWER, content, document_file, file, zipped
from fastness.web.games import Number
from fastness.web.weeks import folder_of
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows import homework as handed_out
from fastness.workflows.homework import MOST, list_homework, page_html, show
from fastness.workflows.homework_files import paper_version
from fastness.workflows.homework_hand_in import hand_in_code, hand_in_paper, result_of
from fastness.workflows.homework_results import grid_document, result_document, slips_document
from fastness.workflows.homework_sources import of_lesson, of_week
from fastness.workflows.homework_told import HandedIn, HomeworkRow, HomeworkTold

router = APIRouter(prefix="/api/homework", tags=["homework"])

PAGE = "/h/"
"""The page of the front end that shows a student's homework."""
MOST_CODES = 200

Bench = Annotated[Workbench, Depends(workbench_of)]
Name = Annotated[str, Field(max_length=200)]


class NewHomework(BaseModel):
    """Homework for a group or for some students: from exercises, a lesson, or a written week.

    Exercises of all three are put together in this order; `level` is that of the week's sheet.
    `anyway`: although the lesson says something that is not true.
    """

    title: Name = Field(examples=["Pinned guards"])
    due: datetime.date
    group: Name | None = Field(None, examples=["Monday"])
    students: list[Name] = Field([], max_length=100)
    exercises: list[Number] = Field([], max_length=MOST)
    lesson: Name = ""
    anyway: bool = False
    week: str = Field("", max_length=40)
    level: Level = "club"
    language: LanguageName = "en"


class OwnLink(BaseModel):
    """A student's link to the homework, where the workbench is shared."""

    student: str
    path: str = Field(examples=["/h/nabcd-efghi"])
    addresses: list[str]


class HomeworkHere(BaseModel):
    """A homework with what came back, and the students' links; none where nothing is shared."""

    told: HomeworkTold
    links: list[OwnLink]


class Print(BaseModel):
    """How something is printed."""

    paper: Paper = "a4"
    large: bool = False
    language: LanguageName = "en"


class Codes(BaseModel):
    """Codes that came back, one on each line."""

    text: str = Field(max_length=40_000)
    language: LanguageName = "en"


class CodeTaken(BaseModel):
    """A code and what it brought; where it has a `problem` nothing is kept."""

    code: str
    handed: HandedIn | None = None
    problem: str = ""


class OnPaper(BaseModel):
    """A sheet by the letters of its marking grid, such as "a bc - o"."""

    student: Name
    letters: str = Field(max_length=500, examples=["a b - c"])
    language: LanguageName = "en"


def word_number(number: int, word: str) -> int:
    """What a student's link to a homework stands for, from the word on their slip."""
    student: int = read_word(word)[0]
    return number * int(MOST_STUDENTS) + student


@router.get("", summary="All homework, the newest first")
def homework(bench: Bench) -> list[HomeworkRow]:
    """With how many handed something in."""
    return list_homework(bench.store)


@router.post("", status_code=201, summary="Hand out homework")
def make(new: NewHomework, bench: Bench) -> HomeworkTold:
    """What is not on the shelf yet is proved and put there first."""
    numbers = list(new.exercises)
    if new.lesson:
        file_of = bench.lessons.file(new.lesson)
        found = of_lesson(bench.store, file_of, language_of(new.language), anyway=new.anyway)
        numbers += found.numbers
    if new.week:
        if not bench.weeks.get(new.week).told().files:
            raise InputError("Write the week's sheets first; then its exercises are on the shelf.")
        numbers += of_week(bench.store, folder_of(bench, new.week), new.level)
    words = language_of(new.language)
    return handed_out.make(
        bench.store,
        new.title,
        numbers,
        new.due,
        group=new.group,
        students=new.students,
        language=words,
    )


@router.post("/codes", summary="Take in codes")
def codes(given: Codes, bench: Bench) -> list[CodeTaken]:
    """Each by itself: one that is mistyped keeps none of the others from being taken."""
    lines = [line.strip() for line in given.text.splitlines() if line.strip()]
    if len(lines) > MOST_CODES:
        raise InputError(f"At most {MOST_CODES} codes at a time; send the others after these.")
    return [_taken(bench, line, given.language) for line in lines]


def _taken(bench: Workbench, code: str, language: LanguageName) -> CodeTaken:
    try:
        return CodeTaken(code=code, handed=hand_in_code(bench.store, code, language_of(language)))
    except InputError as error:
        return CodeTaken(code=code, problem=str(error))


@router.get("/{number}", summary="One homework with what came back")
def one(number: Number, bench: Bench, language: LanguageName = "en") -> HomeworkHere:
    """With each student's link."""
    told = show(bench.store, number, language_of(language))
    return HomeworkHere(told=told, links=_links(bench, told))


def _links(bench: Workbench, told: HomeworkTold) -> list[OwnLink]:
    if not bench.settings.shared or bench.in_demo:
        return []
    found = []
    for student in told.students:
        word = bench.access.word("h", word_number(told.row.number, student.word))
        addresses = [f"{address}{PAGE}{word}" for address in bench.settings.addresses]
        found.append(OwnLink(student=student.name, path=f"{PAGE}{word}", addresses=addresses))
    return found


@router.get(
    "/{number}/page",
    summary="The page of a homework as one file",
    response_class=Response,
    responses=FILE_ANSWER,
)
def page(number: Number, bench: Bench) -> Response:
    """It needs no network; every student opens the same file and types their word."""
    made = page_html(bench.store, number)
    title = show(bench.store, number).row.title
    return file(made.encode(), f"{title}.html", "text/html; charset=utf-8")


@router.post(
    "/{number}/slips",
    summary="Slips with each student's word",
    response_class=Response,
    responses=FILE_ANSWER,
)
def slips(number: Number, how: Print, bench: Bench) -> Response:
    """A page to print and cut, as PDF; with the student's own link where it is shared."""
    told = show(bench.store, number, language_of(how.language))
    words = {one.name: one.word for one in told.students}
    links = {words[one.student]: one.addresses[0] for one in _links(bench, told) if one.addresses}
    made = slips_document(
        told,
        language_of(how.language),
        file=f"{told.row.title}.html",
        links=links,
        paper=how.paper,
        large=how.large,
    )
    return document_file(made, "pdf")


@router.post(
    "/{number}/sheets",
    summary="The homework on paper, with the answers",
    response_class=Response,
    responses=FILE_ANSWER,
)
def sheets(number: Number, how: Print, bench: Bench) -> Response:
    """Two PDFs in a zip."""
    layout = Layout(paper=how.paper, large=how.large, language=language_of(how.language))
    sheet = paper_version(bench.store, number, layout)
    made = [("sheet.pdf", sheet.questions), ("answers.pdf", sheet.answers)]
    whole = zipped([(name, content(document, "pdf")) for name, document in made])
    return file(whole, f"homework-{number}.zip", "application/zip")


@router.post(
    "/{number}/grid",
    summary="What came back, as a table to print",
    response_class=Response,
    responses=FILE_ANSWER,
)
def grid(number: Number, how: Print, bench: Bench) -> Response:
    """For the teacher, as PDF."""
    words = language_of(how.language)
    told = show(bench.store, number, words)
    return document_file(grid_document(told, words, paper=how.paper, large=how.large), "pdf")


@router.post("/{number}/paper", summary="Take in a sheet")
def paper(number: Number, given: OnPaper, bench: Bench) -> HandedIn:
    """Marked by the letters of the marking grid."""
    words = language_of(given.language)
    return hand_in_paper(bench.store, number, given.student, given.letters, words)


class Whose(BaseModel):
    """The student whose result is told."""

    student: Name
    language: LanguageName = "en"


@router.post("/{number}/result", summary="What a student answered, explained")
def result(number: Number, whose: Whose, bench: Bench) -> HandedIn | None:
    """What counts of it; nothing where nothing came back."""
    return result_of(bench.store, number, whose.student, language_of(whose.language))


@router.post(
    "/{number}/result/file",
    summary="A student's result to print",
    response_class=Response,
    responses=FILE_ANSWER,
)
def result_file(number: Number, whose: Whose, bench: Bench) -> Response:
    """For the student, as PDF."""
    words = language_of(whose.language)
    handed = result_of(bench.store, number, whose.student, words)
    if handed is None:
        raise InputError(f"Nothing came back from {whose.student} yet.")
    return document_file(result_document(handed, words), "pdf")

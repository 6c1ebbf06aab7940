"""Routes for the shelf and the sheets made from it."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Depends, Query
from fastapi.responses import Response
from pydantic import BaseModel, Field

from fastness.core.shapes import Mechanism, UnitName, Way
from fastness.exercises.exercise import Kind, Level, Made
from fastness.exercises.marking_grid import Row
from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.publish.document import Paper
from fastness.publish.sheet import Layout, Sheet
from fastness.store.shelf import Action, Verdict, Wanted
from fastness.web.documents import (
    FILE_ANSWER,
    MEDIA_TYPES,
    DocumentTold,
    Form,
    content,
    file,
    told,
    zipped,
)
from fastness.web.games import Number
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows import shelf_page
from fastness.workflows.sheet_making import MOST, choose_for_sheet, make_sheets
from fastness.workflows.shelf_page import (
    ExerciseSaid,
    ExerciseTold,
    SaidNow,
    ShelfList,
    ShelfRow,
    list_shelf,
    tell_exercise,
)

router = APIRouter(prefix="/api", tags=["shelf"])

Bench = Annotated[Workbench, Depends(workbench_of)]
Phase = Literal["opening", "middlegame", "endgame"]


class Filter(BaseModel):
    """Which exercises: within a field one value is enough, all fields must fit."""

    mechanism: list[Mechanism] = Field([], max_length=20)
    way: list[Way] = Field([], max_length=6)
    unit: list[UnitName] = Field([], max_length=6)
    reach: list[Annotated[int, Field(ge=0, le=5)]] = Field([], max_length=5)
    phase: list[Phase] = Field([], max_length=3)
    level: list[Level] = Field([], max_length=3)
    kind: list[Kind] = Field([], max_length=5)
    made: list[Made] = Field([], max_length=3)
    least: int | None = Field(None, ge=0, le=300, description="Moves that hold, at least.")
    most_holding: int | None = Field(None, ge=0, le=300, description="Moves that hold, at most.")
    struck: bool = Field(False, description="Those that were struck, too.")

    def wanted(self) -> Wanted:
        """As the shelf takes it."""
        return Wanted(
            mechanism=self.mechanism,
            way=self.way,
            unit=self.unit,
            reach=self.reach,
            phase=self.phase,
            level=self.level,
            kind=self.kind,
            made=self.made,
            holding=(self.least, self.most_holding),
            struck=self.struck,
        )


class FilterPage(Filter):
    """Which exercises, from the one after `after` on."""

    after: int = Field(0, ge=0, le=1_000_000)
    most: int = Field(60, ge=1, le=200)
    language: LanguageName = "en"


class SaidOfExercise(BaseModel):
    """What the teacher says of an exercise; an overruling names the answer and its verdict."""

    action: Action
    reason: str = Field(min_length=1, max_length=1000)
    answer: str | None = Field(None, max_length=10, examples=["Nf6"])
    verdict: Verdict | None = None


class Choice(BaseModel):
    """How many exercises are chosen of those that fit; another `seed` gives others.

    `of`: only these are chosen from; with none all that fit.
    """

    fits: Filter | None = None
    of: list[Number] = Field([], max_length=1000)
    count: int = Field(6, ge=1, le=MOST)
    seed: int = Field(0, ge=0, le=2**31 - 1)
    language: LanguageName = "en"


class SheetOrder(BaseModel):
    """A sheet: its theme, the exercises in order, and how it is laid out.

    `side_by_side`: all levels in columns of one sheet. `across` boards stand in a row, `blanks`
    are empty boards to fill. `own_side_below`: the side to move is at the bottom. `sources`: the
    answers say from which game a position is.
    """

    theme: str = Field(min_length=1, max_length=120, examples=["Pinned guards"])
    exercises: list[Number] = Field(min_length=1, max_length=MOST)
    side_by_side: bool = False
    across: Literal[1, 2, 3] = 2
    blanks: int = Field(0, ge=0, le=12)
    paper: Paper = "a4"
    large: bool = False
    own_side_below: bool = False
    sources: bool = False
    language: LanguageName = "en"

    def layout(self) -> Layout:
        """As the sheet takes it."""
        return Layout(
            side_by_side=self.side_by_side,
            across=self.across,
            blanks=self.blanks,
            paper=self.paper,
            large=self.large,
            own_side_below=self.own_side_below,
            sources=self.sources,
            language=language_of(self.language),
        )


class SheetFile(SheetOrder):
    """A sheet as files. Without `sheet` and `part` all of them come in a zip."""

    form: Form = "pdf"
    sheet: int | None = Field(None, ge=0, le=2, description="Which sheet, counted from 0.")
    part: Literal["questions", "answers"] = "questions"


class SheetTold(BaseModel):
    """A sheet as a page shows it, its answers, and the boxes of the marking grid."""

    questions: DocumentTold
    answers: DocumentTold
    rows: list[Row]


@router.get("/shelf", summary="The exercises that fit")
def exercises(asked: Annotated[FilterPage, Query()], bench: Bench) -> ShelfList:
    """By number, and how many there are."""
    words = language_of(asked.language)
    return list_shelf(
        bench.store, asked.wanted(), after=asked.after, most=asked.most, language=words
    )


@router.get("/shelf/{number}", summary="An exercise with its answer")
def exercise(number: Number, bench: Bench, language: LanguageName = "en") -> ExerciseTold:
    """With its proof, how hard it is held to be, and what the teacher said of it."""
    return tell_exercise(bench.store, number, language_of(language))


@router.post("/shelf/{number}/corrections", status_code=201, summary="Correct an exercise")
def say(
    number: Number, said: SaidOfExercise, bench: Bench, language: LanguageName = "en"
) -> SaidNow:
    """Strike it, comment on it, or overrule an answer.

    To undo it take it back, and say again what it replaced.
    """
    return shelf_page.say(
        bench.store,
        number,
        said.action,
        said.reason,
        answer=said.answer,
        verdict=said.verdict,
        language=language_of(language),
    )


@router.delete("/shelf/{number}/corrections/{correction}", summary="Take a correction back")
def unsay(
    number: Number, correction: Number, bench: Bench, language: LanguageName = "en"
) -> ExerciseSaid:
    """What it said is answered, so that it can be said again."""
    return shelf_page.unsay(bench.store, number, correction, language_of(language))


@router.post("/sheets/choice", summary="Let exercises be chosen for a sheet")
def choice(wanted: Choice, bench: Bench) -> list[ShelfRow]:
    """A balanced choice: levels, causes, ways and kinds, and some where nothing falls."""
    fits = wanted.fits.wanted() if wanted.fits else Wanted()
    words = language_of(wanted.language)
    return choose_for_sheet(
        bench.store, fits, wanted.count, of=wanted.of or None, seed=wanted.seed, language=words
    )


@router.post("/sheets", summary="A sheet as it will be printed")
def sheet(order: SheetOrder, bench: Bench) -> list[SheetTold]:
    """The questions, the answers, and the boxes to enter what was written."""
    made = make_sheets(bench.store, order.theme, order.exercises, order.layout())
    return [
        SheetTold(questions=told(one.questions), answers=told(one.answers), rows=list(one.rows))
        for one in made
    ]


@router.post(
    "/sheets/file", summary="A sheet as a file", response_class=Response, responses=FILE_ANSWER
)
def sheet_file(order: SheetFile, bench: Bench) -> Response:
    """One part of one sheet, or all of them in a zip."""
    made = make_sheets(bench.store, order.theme, order.exercises, order.layout())
    if order.sheet is None:
        files = [part for one in made for part in _parts(one, order.form)]
        return file(zipped(files), f"{order.theme}.zip", "application/zip")
    one = made[min(order.sheet, len(made) - 1)]
    document = one.questions if order.part == "questions" else one.answers
    data = content(document, order.form)
    return file(data, f"{document.title}.{order.form}", MEDIA_TYPES[order.form])


def _parts(sheet: Sheet, form: Form) -> list[tuple[str, bytes]]:
    return [
        (f"{_file_name(document.title)}.{form}", content(document, form))
        for document in (sheet.questions, sheet.answers)
    ]


def _file_name(title: str) -> str:
    """A title without what divides folders."""
    return "".join(letter if letter.isalnum() or letter in " -_.,()" else "_" for letter in title)

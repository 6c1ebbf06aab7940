"""Routes for the teacher's week as one guided page."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Literal

from fastapi import APIRouter, Depends
from fastapi.responses import Response
from pydantic import BaseModel, Field

from fastness import core
from fastness.errors import InputError, MissingError
from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.publish.document import Paper
from fastness.publish.sheet import Layout
from fastness.web.documents import FILE_ANSWER, file, zipped
from fastness.web.games import DATE, Number
from fastness.web.jobs import Job, JobTold
from fastness.web.results import WeekResult
from fastness.web.uploads import Named, files_of
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.import_summary import ImportSummary, bring_in_all
from fastness.workflows.looking_over import settle_names
from fastness.workflows.reading import position_of
from fastness.workflows.sifting import SiftSettings
from fastness.workflows.week_desk import WeekDesk, WeekTold, games_since

router = APIRouter(prefix="/api/weeks", tags=["week"])

Bench = Annotated[Workbench, Depends(workbench_of)]


class NewWeek(BaseModel):
    """A week for a group: from the files of an upload, or from its games since a day.

    `group` names it; a group that is not there is made. With an upload, `names` say what names in
    the games mean, as for an import.
    """

    group: str = Field(min_length=1, max_length=200, examples=["Evening group"])
    upload: str | None = Field(None, max_length=40)
    names: list[Named] = Field([], max_length=2000)
    offers: bool = True
    since: str = Field("", pattern=DATE, description="A PGN date, 2026.09.01.")


class WeekHere(BaseModel):
    """A week and its number."""

    id: str
    week: WeekTold


class Answer(BaseModel):
    """Yes or no."""

    taken: bool


class Instead(BaseModel):
    """A position of the teacher's own, as FEN or EPD; left out, the next best is proposed."""

    fen: str = Field("", max_length=500)


class Write(BaseModel):
    """How the sheets are laid out, and in which language."""

    paper: Paper = "a4"
    large: bool = False
    language: LanguageName = "en"


@router.post("", status_code=202, summary="Begin a week")
def begin(new: NewWeek, bench: Bench) -> JobTold:
    """A job brings the games in and proposes six positions; its result names the week."""
    number = secrets.token_urlsafe(9)
    paths = files_of(bench, new.upload) if new.upload else []
    meant = {one.name: one.meant() for one in new.names}
    settings = SiftSettings(offer_nodes=core.OFFER_NODES if new.offers else 0)

    def work(job: Job) -> WeekResult:
        store = bench.store
        if new.upload:
            settle_names(store, meant, new.group)

            def told(so_far: ImportSummary) -> None:
                job.tell(so_far.games, count=so_far.new)

            games = bring_in_all(store, paths, settings, told).played
        else:
            games = games_since(store, new.group, new.since)
        if not games:
            raise InputError("There is no game of the group's students to make a week from.")
        desk = WeekDesk(store, new.group, games)
        desk.propose(lambda done, of: job.tell(done, of, done))
        bench.weeks.add(number, desk)
        return WeekResult(week=number)

    return bench.jobs.begin("week", new.group, work, number).told()


@router.get("", summary="The weeks that are worked on, the last begun first")
def weeks(bench: Bench, language: LanguageName = "en") -> list[WeekHere]:
    """They are kept while the workbench runs."""
    words = language_of(language)
    return [WeekHere(id=number, week=desk.told(words)) for number, desk in bench.weeks.all()]


@router.get("/{number}", summary="How far a week is")
def week(number: str, bench: Bench, language: LanguageName = "en") -> WeekTold:
    """Its positions with the answers given so far, the twins, and the files once written."""
    return bench.weeks.get(number).told(language_of(language))


@router.put("/{number}/positions/{position}", summary="Yes or no to a position")
def take(
    number: str, position: Number, answer: Answer, bench: Bench, language: LanguageName = "en"
) -> WeekTold:
    """What was refused can be taken after all."""
    desk = bench.weeks.get(number)
    desk.take(position, taken=answer.taken)
    return desk.told(language_of(language))


@router.put("/{number}/positions/{position}/twin", summary="Yes or no to a twin")
def take_twin(
    number: str, position: Number, answer: Answer, bench: Bench, language: LanguageName = "en"
) -> WeekTold:
    """What was refused can be taken after all."""
    desk = bench.weeks.get(number)
    desk.take_twin(position, taken=answer.taken)
    return desk.told(language_of(language))


@router.post("/{number}/positions/{position}/other", status_code=202, summary="Another position")
def other(number: str, position: Number, instead: Instead, bench: Bench) -> JobTold:
    """A job puts the next best position in the place of this one, or one of the teacher's own."""
    desk = bench.weeks.get(number)
    if instead.fen:
        position_of(instead.fen)
        return _job(bench, "propose", number, lambda _: desk.own(position, instead.fen))
    return _job(bench, "propose", number, lambda job: desk.another(position, _check(job)))


@router.post("/{number}/twins", status_code=202, summary="Look for twins")
def twins(number: str, bench: Bench) -> JobTold:
    """A job looks for twins of the positions taken, until there are two."""
    desk = bench.weeks.get(number)
    return _job(bench, "twins", number, lambda job: desk.find_twins(_check(job)))


@router.post("/{number}/files", status_code=202, summary="Write the sheets")
def write(number: str, how: Write, bench: Bench) -> JobTold:
    """A job lays out sheets at three levels with their answers, and fills the shelf."""
    desk = bench.weeks.get(number)
    folder = folder_of(bench, number)

    def work(job: Job) -> None:
        job.check()
        words = language_of(how.language)
        desk.write(folder, Layout(paper=how.paper, large=how.large, language=words))

    return _job(bench, "write", number, work)


@router.get(
    "/{number}/folder",
    summary="All files of a week",
    response_class=Response,
    responses=FILE_ANSWER,
)
def folder(number: str, bench: Bench) -> Response:
    """In a zip. Raises a problem where it is not written yet."""
    told = bench.weeks.get(number).told()
    if not told.files:
        raise InputError("This week is not written yet.")
    place = folder_of(bench, number)
    files = [(name, (place / name).read_bytes()) for name in told.files]
    return file(zipped(files), f"week-{told.day.isoformat()}.zip", "application/zip")


@router.get(
    "/{number}/files/{name}",
    summary="One file of a week",
    response_class=Response,
    responses=FILE_ANSWER,
)
def one_file(number: str, name: str, bench: Bench) -> Response:
    """By its name, as the week tells it."""
    told = bench.weeks.get(number).told()
    if name not in told.files:
        raise MissingError(f'The week has no file "{name}".')
    media = "application/pdf" if name.endswith(".pdf") else "application/octet-stream"
    return file((folder_of(bench, number) / name).read_bytes(), name, media)


def folder_of(bench: Workbench, number: str) -> Path:
    """Where the files of a week are written while the workbench runs."""
    place = bench.folder / f"week-{number}"
    place.mkdir(exist_ok=True, mode=0o700)
    return place


def _check(job: Job) -> Callable[[int, int], None]:
    return lambda done, of: job.tell(done, of, done)


def _job(
    bench: Workbench,
    kind: Literal["propose", "twins", "write"],
    number: str,
    what: Callable[[Job], None],
) -> JobTold:
    def work(job: Job) -> WeekResult:
        what(job)
        return WeekResult(week=number)

    return bench.jobs.begin(kind, bench.weeks.get(number).group, work, number).told()

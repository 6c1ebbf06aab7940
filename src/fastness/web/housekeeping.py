"""Routes for the store: what it holds, the demo club, backups, exports, erasing."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Annotated

from fastapi import APIRouter, Depends, File, Form, UploadFile
from fastapi.responses import Response
from pydantic import BaseModel, Field

from fastness.errors import InputError
from fastness.web.documents import FILE_ANSWER, file
from fastness.web.games import Number
from fastness.web.jobs import Job, JobTold
from fastness.web.results import DemoResult, EraseResult
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows import housekeeping
from fastness.workflows.demo import fill_with_demo
from fastness.workflows.housekeeping import Holdings, holdings
from fastness.workflows.people import tell_student

router = APIRouter(prefix="/api", tags=["store"])

GRACE = 10
"""Seconds in which an erasing can still be stopped."""

Bench = Annotated[Workbench, Depends(workbench_of)]
Passphrase = Annotated[str, Field(max_length=500)]


class StoreTold(BaseModel):
    """What the store holds. `demo`: it is the invented club's, and not the teacher's own."""

    demo: bool
    place: str
    holds: Holdings


class Backup(BaseModel):
    """A backup; with a passphrase it is sealed."""

    passphrase: Passphrase = ""


class Restored(BaseModel):
    """The name of the store that was there and is kept; null where there was none."""

    kept: str | None


class PutBack(BaseModel):
    """A store that a restoring kept."""

    kept: str = Field(max_length=300)


class BroughtBack(BaseModel):
    """How many games an export added."""

    games: int


class Erase(BaseModel):
    """The student's name, typed, since erasing is for good."""

    name: str = Field(max_length=200)


@router.get("/store", summary="What the store holds")
def store(bench: Bench) -> StoreTold:
    """All zeros mean a first run: offer the demo club, or an import."""
    return StoreTold(demo=bench.in_demo, place=bench.store.place, holds=holdings(bench.store))


@router.post("/demo", status_code=202, summary="Open the invented club")
def demo(bench: Bench) -> JobTold:
    """A job fills a store of its own; the teacher's is left alone, and is there again after it."""
    place = str(bench.demo_place)

    def work(job: Job) -> DemoResult:
        there = bench.store_at(place)
        # What is there so far can be looked at while the rest comes.
        bench.enter_demo()
        fill_with_demo(there, lambda done, of: job.tell(done, of, done))
        held = holdings(there)
        return DemoResult(students=held.students, games=held.games, exercises=held.exercises)

    return bench.jobs.begin("demo", "Millrace Chess Club", work).told()


@router.delete("/demo", summary="Leave the invented club")
def leave_demo(bench: Bench) -> StoreTold:
    """The teacher's own store is worked with again; what was made in the demo is removed."""
    bench.leave_demo()
    return store(bench)


@router.post("/store/backup", summary="A backup", response_class=Response, responses=FILE_ANSWER)
def backup(how: Backup, bench: Bench) -> Response:
    """Of the whole store, as a file to keep elsewhere."""
    data = housekeeping.backup(bench.store, how.passphrase or None)
    name = f"fastness-{datetime.date.today().isoformat()}.sqlite"
    return file(data, name + (".sealed" if how.passphrase else ""), "application/octet-stream")


@router.post("/store/restore", summary="Put a backup in the store's place")
def restore(
    bench: Bench,
    backup: Annotated[UploadFile, File()],
    passphrase: Annotated[str, Form(max_length=500)] = "",
) -> Restored:
    """The store that was there is kept beside it; putting that back undoes the restoring."""
    data = backup.file.read()
    with bench.replacing() as to:
        return _restored(housekeeping.restore(to, data, passphrase or None))


@router.post("/store/put-back", summary="Undo a restoring")
def put_back(which: PutBack, bench: Bench) -> Restored:
    """Put the store back that a restoring kept."""
    with bench.replacing() as to:
        return _restored(housekeeping.put_back(to, which.kept))


def _restored(kept: Path | None) -> Restored:
    return Restored(kept=kept.name if kept else None)


@router.post(
    "/store/export",
    summary="All that the store holds",
    response_class=Response,
    responses=FILE_ANSWER,
)
def export(bench: Bench) -> Response:
    """As plain files in a zip."""
    name = f"fastness-{datetime.date.today().isoformat()}.zip"
    return file(housekeeping.export(bench.store), name, "application/zip")


@router.post("/store/bring-back", summary="Add what an export holds")
def bring_back(bench: Bench, archive: Annotated[UploadFile, File()]) -> BroughtBack:
    """What is there already stays."""
    return BroughtBack(games=housekeeping.bring_back(bench.store, archive.file.read()))


@router.post(
    "/students/{number}/export",
    summary="A student's part of the store",
    response_class=Response,
    responses=FILE_ANSWER,
)
def export_student(number: Number, bench: Bench) -> Response:
    """As plain files in a zip: what is known of them, and their games."""
    name = tell_student(bench.store, number).name
    return file(housekeeping.export(bench.store, number), f"{name}.zip", "application/zip")


@router.post("/students/{number}/erase", status_code=202, summary="Erase a student for good")
def erase(number: Number, named: Erase, bench: Bench) -> JobTold:
    """A job waits for ten seconds, in which it can be stopped; then nothing brings them back."""
    name = tell_student(bench.store, number).name
    if " ".join(named.name.split()) != name:
        raise InputError(f'erasing is for good; type the name as it stands: "{name}"')
    there = bench.store

    def work(job: Job) -> EraseResult:
        for second in range(GRACE):
            job.tell(second, GRACE)
            job.rest(1)
        erased = housekeeping.erase(there, number)
        return EraseResult(name=erased.name, told=list(erased.told))

    return bench.jobs.begin("erase", name, work, str(number)).told()

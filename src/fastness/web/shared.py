"""Routes for what is shared with students and parents: links are made, followed and withdrawn.

What lies below `/api/shared/` is reached by whoever has a link, and shows only what that names.
"""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Depends
from fastapi.responses import Response
from pydantic import BaseModel, Field

from fastness.errors import InputError, MissingError
from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.publish.document import Document, Paper
from fastness.web.access import DAYS, Kind
from fastness.web.documents import FILE_ANSWER, DocumentTold, document_file, told
from fastness.web.games import Number
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.people import list_students, tell_group, tell_student
from fastness.workflows.recording import record_numbered
from fastness.workflows.reporting import report
from fastness.workflows.slips import slips

router = APIRouter(prefix="/api", tags=["shared"])

PAGE = "/s/"
"""The page of the front end that shows what a link names."""
READERS: dict[Kind, Literal["student", "parents"]] = {"s": "student", "p": "parents"}

Bench = Annotated[Workbench, Depends(workbench_of)]
Word = Annotated[str, Field(max_length=80)]


class Share(BaseModel):
    """A report that is shared: with the student, or with the parents."""

    student: Number
    reader: Literal["student", "parents"] = "student"


class Shared(BaseModel):
    """A link: its word, the path of its page, and the whole addresses that others can reach."""

    word: str
    path: str = Field(examples=["/s/omg34-aeaqc-aibae"])
    addresses: list[str]
    days: int = DAYS


class SlipOrder(BaseModel):
    """Slips to cut out, one for each student of a group, with the link to the report."""

    reader: Literal["student", "parents"] = "student"
    paper: Paper = "a4"
    large: bool = False
    language: LanguageName = "en"


class SharedReport(BaseModel):
    """A report that was shared."""

    kind: Literal["report"] = "report"
    reader: Literal["student", "parents"]
    document: DocumentTold


@router.post("/shares", status_code=201, summary="Share a report by a link")
def share(what: Share, bench: Bench) -> Shared:
    """The link is good for some weeks, or until all links are withdrawn."""
    tell_student(bench.store, what.student)
    return _link(bench, "s" if what.reader == "student" else "p", what.student)


@router.delete("/shares", status_code=204, summary="Withdraw all links")
def withdraw(bench: Bench) -> None:
    """No link that was given out is good any more."""
    bench.withdraw_links()


@router.post(
    "/groups/{number}/slips",
    summary="Slips with the students' links",
    response_class=Response,
    responses=FILE_ANSWER,
)
def print_slips(number: Number, order: SlipOrder, bench: Bench) -> Response:
    """A page to print and cut, as PDF."""
    group = tell_group(bench.store, number)
    kind: Kind = "s" if order.reader == "student" else "p"
    links = [
        (one.name, _link(bench, kind, one.id).addresses[0])
        for one in list_students(bench.store, number)
    ]
    language = language_of(order.language)
    made = slips(group.name, links, language, paper=order.paper, large=order.large)
    return document_file(made, "pdf")


def _link(bench: Workbench, kind: Kind, number: int) -> Shared:
    if not bench.settings.shared or bench.in_demo:
        raise InputError(
            "Links are for a workbench that is shared: start it with fastness serve --share."
        )
    word = bench.access.word(kind, number)
    addresses = [f"{address}{PAGE}{word}" for address in bench.settings.addresses]
    return Shared(word=word, path=f"{PAGE}{word}", addresses=addresses)


@router.get("/shared/reports/{word}", summary="A report that was shared")
def shared_report(word: Word, bench: Bench, language: LanguageName = "en") -> SharedReport:
    """Whatever its student's games show by now; no other student is in it."""
    reader, document = _shared(bench, word, language)
    return SharedReport(reader=reader, document=told(document))


@router.get(
    "/shared/reports/{word}/file",
    summary="A report that was shared, to print",
    response_class=Response,
    responses=FILE_ANSWER,
)
def shared_file(word: Word, bench: Bench, language: LanguageName = "en") -> Response:
    """As PDF."""
    return document_file(_shared(bench, word, language)[1], "pdf")


def _shared(
    bench: Workbench, word: str, language: LanguageName
) -> tuple[Literal["student", "parents"], Document]:
    named = bench.access.named(word) if bench.settings.shared else None
    if named is None or named[0] not in READERS:
        raise MissingError("This link is not good, or no longer; ask your teacher for another.")
    reader = READERS[named[0]]
    found = record_numbered(bench.store_at(bench.place), named[1])
    return reader, report(found, reader, language=language_of(language))

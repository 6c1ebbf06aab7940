"""Routes for what the games show: the record, reports to print or change, the plan."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends
from fastapi.responses import Response

from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.publish.editing import edited
from fastness.web.documents import FILE_ANSWER, DocumentTold, Print, document_file, told
from fastness.web.games import Number
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.planning import Plan, plan
from fastness.workflows.recording import record_numbered, records_of_group_numbered
from fastness.workflows.reporting import Reader, group_report, report

router = APIRouter(prefix="/api", tags=["reports"])

Bench = Annotated[Workbench, Depends(workbench_of)]


@router.get("/students/{number}/reports/{reader}", summary="A report on a student's games")
def student_report(
    number: Number, reader: Reader, bench: Bench, language: LanguageName = "en"
) -> DocumentTold:
    """For the student and the parents in plain words; for the teacher the whole record."""
    found = record_numbered(bench.store, number)
    return told(report(found, reader, language=language_of(language)))


@router.post(
    "/students/{number}/reports/{reader}/file",
    summary="A report as a file",
    response_class=Response,
    responses=FILE_ANSWER,
)
def student_file(number: Number, reader: Reader, how: Print, bench: Bench) -> Response:
    """With the teacher's own words in place of some texts, if there are any."""
    found = record_numbered(bench.store, number)
    language = language_of(how.language)
    made = report(found, reader, paper=how.paper, large=how.large, language=language)
    return document_file(edited(made, how.texts), how.form)


@router.get("/groups/{number}/report", summary="A group's positions, without names")
def of_group(number: Number, bench: Bench, language: LanguageName = "en") -> DocumentTold:
    """By the themes of the coming weeks, with the answers."""
    name, records = records_of_group_numbered(bench.store, number)
    return told(group_report(records, name, language=language_of(language)))


@router.post(
    "/groups/{number}/report/file",
    summary="A group's positions as a file",
    response_class=Response,
    responses=FILE_ANSWER,
)
def group_file(number: Number, how: Print, bench: Bench) -> Response:
    """With the teacher's own words in place of some texts, if there are any."""
    name, records = records_of_group_numbered(bench.store, number)
    language = language_of(how.language)
    made = group_report(records, name, paper=how.paper, large=how.large, language=language)
    return document_file(edited(made, how.texts), how.form)


@router.get("/students/{number}/plan", summary="What to teach a student in the coming weeks")
def student_plan(number: Number, bench: Bench, language: LanguageName = "en") -> Plan:
    """A theme a week, with examples from the student's own games."""
    return plan([record_numbered(bench.store, number)], language_of(language))


@router.get("/groups/{number}/plan", summary="What to teach a group in the coming weeks")
def group_plan(number: Number, bench: Bench, language: LanguageName = "en") -> Plan:
    """A theme a week, for whom it is, with examples from their games."""
    _, records = records_of_group_numbered(bench.store, number)
    return plan(records, language_of(language))

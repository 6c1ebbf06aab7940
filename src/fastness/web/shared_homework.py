"""Routes for a student's own homework: the page, and the answers that come back by its code."""

from __future__ import annotations

import datetime
import re
from typing import Annotated

from fastapi import APIRouter, Depends
from fastapi.responses import Response
from pydantic import BaseModel, Field

from fastness.errors import CodeError, MissingError
from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.practice.code import MOST_STUDENTS, read_code, read_word
from fastness.store import Store
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.homework import page_html, show
from fastness.workflows.homework_hand_in import hand_in_code, result_of
from fastness.workflows.homework_told import GivenTold, HandedIn, HomeworkTold

router = APIRouter(prefix="/api/shared/homework", tags=["shared"])

_POLICY = re.compile(r'http-equiv="Content-Security-Policy" content="([^"]+)"')

Bench = Annotated[Workbench, Depends(workbench_of)]
Word = Annotated[str, Field(max_length=80)]


class Own(BaseModel):
    """A student's homework, with what they handed in first, marked; no other student is in it."""

    title: str
    due: datetime.date
    exercises: int
    language: LanguageName
    handed: HandedIn | None


class GivenCode(BaseModel):
    """The code that the page gave at its end."""

    code: str = Field(max_length=400)


class OneHomework:
    """What a link names: one homework for one student."""

    def __init__(self, store: Store, told: HomeworkTold, student: GivenTold) -> None:
        self.store, self.told, self.student = store, told, student


def named(word: Word, bench: Bench) -> OneHomework:
    """The homework of a link. Raises MissingError where the link is not good."""
    refused = MissingError("This link is not good, or no longer; ask your teacher for another.")
    found = bench.access.named(word) if bench.settings.shared else None
    if found is None or found[0] != "h":
        raise refused
    number, own = divmod(found[1], MOST_STUDENTS)
    store = bench.store_at(bench.place)
    told = show(store, number)
    student = next((one for one in told.students if read_word(one.word)[0] == own), None)
    if student is None:
        raise refused
    return OneHomework(store, told, student)


Link = Annotated[OneHomework, Depends(named)]


@router.get("/{word}", summary="A student's own homework")
def own(link: Link, language: LanguageName = "en") -> Own:
    """What it is, and the result once something came back."""
    row = link.told.row
    handed = result_of(link.store, row.number, link.student.name, language_of(language))
    return Own(
        title=row.title,
        due=row.due,
        exercises=row.exercises,
        language=language_of(link.told.language).code,
        handed=handed,
    )


@router.get(
    "/{word}/page",
    summary="The page to do it on",
    response_class=Response,
    responses={200: {"content": {"text/html": {"schema": {"type": "string"}}}}},
)
def page(link: Link) -> Response:
    """With the student's word filled in. It may run its own script and nothing else."""
    made = page_html(link.store, link.told.row.number, word=link.student.word)
    policy = _POLICY.search(made)
    headers = {"content-security-policy": policy[1]} if policy else None
    return Response(made, headers=headers, media_type="text/html; charset=utf-8")


@router.post("/{word}/code", summary="Hand it in")
def hand_in(link: Link, given: GivenCode, language: LanguageName = "en") -> HandedIn:
    """By the code; one of another student or another homework is refused, and nothing kept."""
    read = read_code(given.code)
    if (read.homework, read.student) != (
        link.told.row.number,
        read_word(link.student.word)[0],
    ):
        raise CodeError("This code belongs to another homework or another word; copy it once more.")
    return hand_in_code(link.store, given.code, language_of(language))

"""Routes for lessons: the teacher's files, their parts, and what is found of their claims."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Hashable
from typing import Annotated

from fastapi import APIRouter, Depends
from fastapi.responses import Response
from pydantic import BaseModel, Field, TypeAdapter

from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.web.documents import FILE_ANSWER, file
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.lesson_desk import (
    Part,
    RowChecked,
    block_of,
    checked,
    claims_by_cost,
    parts_of,
    what_is_true,
)
from fastness.workflows.lesson_folder import BOM, MOST, LessonListed, LessonText, title_of
from fastness.workflows.lesson_tries import taught_under

router = APIRouter(prefix="/api/lessons", tags=["lessons"])

MOST_OF_BLOCK = 20_000

Bench = Annotated[Workbench, Depends(workbench_of)]
Text = Annotated[str, Field(max_length=MOST)]
Name = Annotated[str, Field(max_length=200, examples=["guard or move"])]


class NewLesson(BaseModel):
    """A lesson to add; without a text it is a small true one to begin with, in the language."""

    name: Name
    text: Text = ""
    language: LanguageName = "en"


class OtherName(BaseModel):
    """The name that a lesson is given."""

    name: Name


class Saved(BaseModel):
    """The whole text of a lesson, and the version of the file that it was made from."""

    text: Text
    version: str = Field(max_length=40)


class LessonHere(BaseModel):
    """A lesson in its parts, whose texts together are the file's."""

    name: str
    title: str
    version: str
    parts: list[Part]


class WholeText(BaseModel):
    """The text of a lesson that is not kept yet."""

    text: Text


class BlockText(BaseModel):
    """A position block as it is written, with its fences.

    `better`: what needs moves to be ranked, which takes seconds; else all that does not.
    """

    text: str = Field(
        max_length=MOST_OF_BLOCK,
        examples=["```position\n8/8/8/3Kp3/4Pk2/8/8/8 w - - 0 1\nunsafe: e4\n```"],
    )
    better: bool = False
    language: LanguageName = "en"


_CHECKED = TypeAdapter(tuple[RowChecked, ...])
_CLAIMS = TypeAdapter(list[str])


def here(told: LessonText) -> LessonHere:
    """A lesson as the editor has it; a mark at the head of the file belongs to its first part."""
    text = told.text.removeprefix(BOM)
    return LessonHere(
        name=told.name, title=title_of(text), version=told.version, parts=list(parts_of(text))
    )


@router.get("", summary="All lessons, the one changed last first")
def lessons(bench: Bench) -> list[LessonListed]:
    """The files of the folder beside the store."""
    return bench.lessons.list()


@router.post("", status_code=201, summary="Add a lesson")
def add(new: NewLesson, bench: Bench) -> LessonHere:
    """A new file; nothing is written over."""
    return here(bench.lessons.add(new.name, new.text, language_of(new.language)))


@router.post("/parts", summary="Take the text of a lesson apart")
def parts(whole: WholeText) -> list[Part]:
    """Nothing is kept."""
    return list(parts_of(whole.text))


@router.post(
    "/checks", summary="Prove the claims about one position", response_model=list[RowChecked]
)
async def checks(block: BlockText, bench: Bench) -> Response:
    """Those that can be read, beside the event loop; what was found before is kept."""
    found = await asyncio.to_thread(block_of, block.text)
    place, claims = found.place, claims_by_cost(found)[block.better]
    assert place is not None
    words = language_of(block.language)
    key = (place.start, place.moves, block.language, *(claim.text for claim in claims))
    return await _kept(
        bench, ("checks", *key), lambda: _CHECKED.dump_json(checked(place, claims, words))
    )


@router.post("/true", summary="What is true of a position, as claims", response_model=list[str])
async def true(block: BlockText, bench: Bench) -> Response:
    """Each is proved; written as a lesson has it."""
    found = await asyncio.to_thread(block_of, block.text)
    place = found.place
    assert place is not None
    key = ("true", place.start, place.moves, block.better)
    return await _kept(
        bench, key, lambda: _CLAIMS.dump_json(what_is_true(place, better=block.better))
    )


async def _kept(bench: Workbench, key: Hashable, work: Callable[[], bytes]) -> Response:
    told = await bench.surveyor.answers.get(key, bench.surveyor.slow, work)
    return Response(told, media_type="application/json")


@router.get("/{name}", summary="One lesson in its parts")
def lesson(name: str, bench: Bench) -> LessonHere:
    """As the file has it now."""
    return here(bench.lessons.open(name))


@router.put("/{name}", summary="Keep the text of a lesson")
def save(name: str, saved: Saved, bench: Bench) -> LessonHere:
    """A problem (409) where the file was changed elsewhere since that version; it stays then."""
    return here(bench.lessons.write(name, saved.text, saved.version))


@router.put("/{name}/name", summary="Give a lesson another name")
def rename(name: str, other: OtherName, bench: Bench) -> LessonHere:
    """The file is renamed; what classes tried stays with it."""
    told = bench.lessons.rename(name, other.name)
    taught_under(bench.store, name, told.name)
    return here(told)


@router.delete("/{name}", summary="Remove a lesson")
def remove(name: str, bench: Bench) -> NewLesson:
    """What it was is answered: add it again to undo it."""
    gone = bench.lessons.remove(name)
    return NewLesson(name=gone.name, text=gone.text)


@router.get(
    "/{name}/file",
    summary="The file of a lesson",
    response_class=Response,
    responses=FILE_ANSWER,
)
def fetch(name: str, bench: Bench) -> Response:
    """As it is, byte by byte."""
    told = bench.lessons.open(name)
    return file(told.text.encode(), f"{told.name}.md", "text/markdown; charset=utf-8")

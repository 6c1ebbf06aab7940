"""Routes for students and groups."""

from __future__ import annotations

import datetime
from typing import Annotated

from fastapi import APIRouter, Depends
from pydantic import BaseModel, Field

from fastness.web.games import Number
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows import people
from fastness.workflows.people import GroupTold, LessonTold, StudentTold

router = APIRouter(prefix="/api", tags=["students"])

Bench = Annotated[Workbench, Depends(workbench_of)]
Name = Annotated[str, Field(min_length=1, max_length=200)]


class NewGroup(BaseModel):
    """A group that is to be made."""

    name: Name = Field(examples=["Evening group"])
    club: str = Field("", max_length=200, examples=["Millrace Chess Club"])


class NewStudent(BaseModel):
    """A student who is to be added, by the name that the teacher uses."""

    name: Name = Field(examples=["Ivy Flourdust"])
    group: Number | None = None


class OtherName(BaseModel):
    """A name as games write it."""

    name: Name = Field(examples=["Flourdust, I."])


class Move(BaseModel):
    """Students who are put into a group, or into none."""

    students: list[Number] = Field(min_length=1, max_length=500)
    group: Number | None


class NewLesson(BaseModel):
    """A day that a group was taught, what, and the students who were there, if that is known."""

    theme: str = Field(min_length=1, max_length=200, examples=["Pinned guards"])
    held: datetime.date
    present: list[Number] = Field(default=[], max_length=500)


class Removed(BaseModel):
    """A group that was removed: whom it had, so that it can be made again."""

    name: str
    club: str
    students: list[int]


@router.get("/groups", summary="All groups")
def groups(bench: Bench) -> list[GroupTold]:
    """By name, with their lessons, the last first."""
    return people.list_groups(bench.store)


@router.post("/groups", status_code=201, summary="Add a group")
def add_group(new: NewGroup, bench: Bench) -> GroupTold:
    """A new group, without students."""
    return people.add_group(bench.store, new.name, new.club)


@router.get("/groups/{number}", summary="One group")
def group(number: Number, bench: Bench) -> GroupTold:
    """With its lessons, the last first."""
    return people.tell_group(bench.store, number)


@router.delete("/groups/{number}", summary="Remove a group; its students stay")
def remove_group(number: Number, bench: Bench) -> Removed:
    """Its lessons go with it. To undo it add the group again, and put the students into it."""
    told = people.tell_group(bench.store, number)
    members = people.remove_group(bench.store, number)
    return Removed(name=told.name, club=told.club, students=members)


@router.post("/groups/{number}/lessons", status_code=201, summary="Note a lesson")
def add_lesson(number: Number, new: NewLesson, bench: Bench) -> LessonTold:
    """What a group was taught on a day."""
    return people.add_lesson(bench.store, number, new.theme, new.held, new.present)


@router.delete("/groups/{number}/lessons/{lesson}", summary="Remove the note of a lesson")
def remove_lesson(number: Number, lesson: Number, bench: Bench) -> LessonTold:
    """What it said is answered, so that it can be noted again."""
    return people.remove_lesson(bench.store, number, lesson)


@router.get("/students", summary="All students, or those of a group")
def students(bench: Bench, group: Number | None = None) -> list[StudentTold]:
    """By name."""
    return people.list_students(bench.store, group)


@router.post("/students", status_code=201, summary="Add a student")
def add_student(new: NewStudent, bench: Bench) -> StudentTold:
    """Known in games by this name."""
    return people.add_student(bench.store, new.name, new.group)


@router.put("/students/groups", status_code=204, summary="Put students into a group")
def move_students(move: Move, bench: Bench) -> None:
    """Or into none."""
    people.move_students(bench.store, move.students, move.group)


@router.get("/students/{number}", summary="One student")
def student(number: Number, bench: Bench) -> StudentTold:
    """With the other names that games have for them."""
    return people.tell_student(bench.store, number)


@router.put("/students/{number}/name", summary="Give a student another name")
def rename(number: Number, new: OtherName, bench: Bench) -> StudentTold:
    """The old one goes on to mean them in games."""
    return people.rename_student(bench.store, number, new.name)


@router.post("/students/{number}/names", status_code=201, summary="Let another name mean them")
def add_name(number: Number, new: OtherName, bench: Bench) -> StudentTold:
    """In games that are brought in from now on."""
    return people.add_name(bench.store, number, new.name)


@router.delete("/students/{number}/names", summary="Let a name no longer mean them")
def remove_name(number: Number, name: Name, bench: Bench) -> StudentTold:
    """Games that were brought in stay."""
    return people.remove_name(bench.store, number, name)

"""What comes of long work, one shape for each kind of job."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, Field

from fastness.workflows.composing import ComposedTold
from fastness.workflows.looking_over import LookedOver
from fastness.workflows.places import PlaceGroup
from fastness.workflows.shelf_page import ShelfRow


class LookResult(BaseModel):
    """What was found in the files of an upload."""

    kind: Literal["look over"] = "look over"
    upload: str
    found: LookedOver


class ImportResult(BaseModel):
    """What was brought in, counted. `new_students` are names."""

    kind: Literal["import"] = "import"
    new_students: list[str]
    new: int
    before: int
    again: int
    completed: int
    nobodys: int
    places: int
    problems: list[str]
    more_problems: int


class SiftResult(BaseModel):
    """The places to look in games that are not kept; `game` counts from 1 in the upload."""

    kind: Literal["sift"] = "sift"
    games: int
    players: list[str]
    groups: list[PlaceGroup]
    problems: list[str]


class WeekResult(BaseModel):
    """The week that something was done for; `GET /api/weeks/{id}` tells how far it is."""

    kind: Literal["week"] = "week"
    week: str


class DraftResult(BaseModel):
    """The lesson that was drafted, by its name."""

    kind: Literal["draft"] = "draft"
    lesson: str


class TwinFound(BaseModel):
    """A position that differs in one detail: what was changed, what it does, the better moves."""

    fen: str
    changed: str
    told: str
    squares: list[str]
    better: list[str]


class TwinsResult(BaseModel):
    """The twins of a position. `none_found` says so in a sentence; empty where there are some."""

    kind: Literal["twins"] = "twins"
    fen: str
    best: str
    twins: list[TwinFound]
    none_found: str


class MineResult(BaseModel):
    """How many positions were put on the shelf, with how many new exercises.

    `rows` are the exercises of those positions, and of what was on the shelf already: the first
    200 of them.
    """

    kind: Literal["mine"] = "mine"
    positions: int
    exercises: int
    rows: list[ShelfRow]
    problems: list[str]


class ComposeResult(BaseModel):
    """The positions made, how many exercises were put on the shelf, and how the search went."""

    kind: Literal["compose"] = "compose"
    positions: list[ComposedTold]
    exercises: int
    told: str


class DemoResult(BaseModel):
    """What the invented club has."""

    kind: Literal["demo"] = "demo"
    students: int
    games: int
    exercises: int


class EraseResult(BaseModel):
    """The name that was erased, and what else there is to say of it."""

    kind: Literal["erase"] = "erase"
    name: str
    told: list[str]


Result = Annotated[
    LookResult
    | ImportResult
    | SiftResult
    | WeekResult
    | DraftResult
    | TwinsResult
    | MineResult
    | ComposeResult
    | DemoResult
    | EraseResult,
    Field(discriminator="kind"),
]
"""What came of a job, by its kind."""

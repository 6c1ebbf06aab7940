"""What comes of long work, one shape for each kind of job."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, Field

from fastness.workflows.looking_over import LookedOver
from fastness.workflows.places import PlaceGroup


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


Result = Annotated[LookResult | ImportResult | SiftResult, Field(discriminator="kind")]
"""What came of a job, by its kind."""

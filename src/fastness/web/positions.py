"""Routes for one position: whether it can stand, what may be played, and what stands in it."""

from __future__ import annotations

import asyncio
from typing import Annotated, Literal

from fastapi import APIRouter, Depends, Query
from fastapi.responses import Response
from pydantic import BaseModel, Field, TypeAdapter

from fastness.errors import PositionError
from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.survey import order_of_ways
from fastness.web.problems import Fault as Broken
from fastness.web.problems import answer_for
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.reading import (
    Fault,
    Position,
    PositionRead,
    faults_of,
    position_of,
    read_survey,
)
from fastness.workflows.replying import ReplyRead, best_reply
from fastness.workflows.surveying import other_side, survey_position

router = APIRouter(prefix="/api", tags=["positions"])

EXAMPLE = "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12"
ValuesName = Literal["classical", "turing", "kaufman", "berliner"]

Fen = Annotated[
    str, Query(max_length=500, description="A position as FEN or EPD.", examples=[EXAMPLE])
]
Moves = Annotated[
    str,
    Query(max_length=2000, description="Moves since, in SAN or UCI.", examples=["12...Ng6 13.Bd4"]),
]
InLanguage = Annotated[LanguageName, Query(description="The language of the texts.")]


class Standing(BaseModel):
    """Whether a position can stand on a board; every rule that it breaks if it cannot."""

    position: Position | None
    faults: list[Fault]


class Depth(BaseModel):
    """How a survey is made: `ranks` and `firm` take seconds more."""

    fen: str = Field(max_length=500, description="A position as FEN or EPD.", examples=[EXAMPLE])
    moves: str = Field("", max_length=2000, description="Moves since, in SAN or UCI.")
    reach: int = Field(3, ge=1, le=4, description="The opponent's moves to look ahead.")
    values: ValuesName = "classical"
    ranks: bool = Field(False, description="Tell the better ways from the others.")
    firm: bool = Field(False, description="Check every verdict one move deeper.")
    other: bool = Field(False, description="The other side's view: as if this one passed.")
    ways: str = Field("", max_length=100, description='The ways preferred, such as "move,block".')
    language: LanguageName = "en"


class Reply(BaseModel):
    """A position in which the side to move is to be answered for."""

    fen: str = Field(max_length=500, examples=[EXAMPLE])
    moves: str = Field("", max_length=2000, examples=["12...Bf5"])
    language: LanguageName = "en"


READ = TypeAdapter(PositionRead)


@router.get("/position", summary="What may be played in a position, or why it cannot stand")
def standing(fen: Fen, moves: Moves = "", language: InLanguage = "en") -> Standing:
    """Every rule that the position breaks is told; where it breaks none, what may be played.

    A move that cannot be played is a problem, with the legal ones in its detail.
    """
    words = language_of(language)
    faults = faults_of(fen, words)
    position = None if faults else position_of(fen, moves, words)
    return Standing(position=position, faults=faults)


@router.get("/survey", summary="What stands in a position", response_model=PositionRead)
async def survey(
    asked: Annotated[Depth, Query()], bench: Annotated[Workbench, Depends(workbench_of)]
) -> Response:
    """What is not safe and why, what keeps it, the tries that fail, each with its line."""

    def work() -> bytes:
        given, moves = asked.fen, asked.moves
        if asked.other:
            given, moves = other_side(given, moves), ""
        found = survey_position(
            given,
            moves,
            reach=asked.reach,
            firm=asked.firm,
            values=asked.values,
            ranks=asked.ranks,
        )
        read = read_survey(
            found,
            language_of(asked.language),
            moves_given=bool(moves.strip()),
            order=order_of_ways(asked.ways),
        )
        return READ.dump_json(read)

    pool = bench.surveyor.pool(reach=asked.reach, ranks=asked.ranks, firm=asked.firm)
    key = tuple(asked.model_dump().values())
    try:
        told = await bench.surveyor.answers.get(key, pool, work)
    except PositionError as error:
        return _refused(error, asked.fen, asked.language)
    return Response(told, media_type="application/json")


def _refused(error: PositionError, fen: str, language: LanguageName) -> Response:
    """A position that cannot stand, with every rule that it breaks."""
    try:
        broken = faults_of(fen, language_of(language))
    except PositionError:
        broken = []
    faults = [Broken(where="query.fen", code=one.code, told=one.told) for one in broken]
    return answer_for(error, faults or None)


@router.get("/reply", summary="The other side's answer, to play on")
async def reply(
    asked: Annotated[Reply, Query()], bench: Annotated[Workbench, Depends(workbench_of)]
) -> ReplyRead:
    """The move that wins most, or keeps most, for the side to move; to play a line on against."""
    loop = asyncio.get_running_loop()
    words = language_of(asked.language)
    return await loop.run_in_executor(
        bench.surveyor.slow, lambda: best_reply(asked.fen, asked.moves, words)
    )

"""Routes for the class's screen: whoever has the link sees what the teacher shows, and no more."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends
from fastapi.responses import Response, StreamingResponse
from pydantic import Field

from fastness.classroom.telling import ClassBoard
from fastness.errors import MissingError
from fastness.web.class_desk import OVER_TOLD, ClassDesk
from fastness.web.topics import followed
from fastness.web.workbench import Workbench, workbench_of

router = APIRouter(prefix="/api/shared/boards", tags=["shared"])

Bench = Annotated[Workbench, Depends(workbench_of)]


def _is_good(bench: Workbench, word: str, number: int) -> bool:
    return bench.access.named(word) == ("b", number)


def _desk(word: Annotated[str, Field(max_length=80)], bench: Bench) -> ClassDesk:
    named = bench.access.named(word)
    if named is None or named[0] != "b":
        raise MissingError("This link is not good, or no longer; ask your teacher for another.")
    return bench.classes.get(named[1])


Desk = Annotated[ClassDesk, Depends(_desk)]


@router.get("/{word}", summary="What the class sees", response_model=ClassBoard)
async def board(desk: Desk) -> Response:
    """As it is now."""
    return Response(desk.board(), media_type="application/json")


@router.get(
    "/{word}/events",
    summary="Follow what the class sees by server-sent events",
    response_class=StreamingResponse,
    responses={200: {"content": {"text/event-stream": {}}}},
)
async def events(word: str, desk: Desk, bench: Bench) -> StreamingResponse:
    """As it is now and after every change, as JSON; the stream ends with the class board."""
    number = desk.session.number

    def over() -> bool:
        return desk.over or not _is_good(bench, word, number)

    def told() -> str:
        return OVER_TOLD if over() else desk.board()

    return followed(desk.topic, told, over)

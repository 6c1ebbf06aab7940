"""What an answer says when something is wrong: RFC 9457, Problem Details for HTTP APIs."""

from __future__ import annotations

from collections.abc import Sequence
from http import HTTPStatus
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import Response
from pydantic import BaseModel, Field
from pydantic.json_schema import models_json_schema
from starlette.exceptions import HTTPException

from fastness.errors import (
    BusyError,
    FastnessError,
    InputError,
    MissingError,
    PlayerError,
    PositionError,
    PrintError,
    StoreError,
    StudentError,
    UntrueError,
)

MEDIA_TYPE = "application/problem+json"


class Fault(BaseModel):
    """One thing that is wrong: where, a short code for programs, and a sentence."""

    where: str = Field(examples=["query.fen"])
    code: str = Field(examples=["no_king"])
    told: str = Field(examples=["White has no king; each side needs one."])


class Problem(BaseModel):
    """What was wrong, where, and what would be right.

    `title` and `status` are those of the HTTP status. `detail` is a sentence for people, `code`
    a short fixed name for programs. `near` are names that may have been meant.
    """

    type: str = "about:blank"
    title: str = Field(examples=["Unprocessable Content"])
    status: int = Field(examples=[422])
    code: str = Field(examples=["position"])
    detail: str = Field(examples=["The position cannot stand on a board."])
    faults: list[Fault] = []
    near: list[str] = []


def describe(app: FastAPI) -> None:
    """Let the description of the API say that every route may answer with a problem."""
    described = app.openapi

    def with_problems() -> dict[str, Any]:
        if app.openapi_schema is None:
            told = described()
            schemas = told["components"]["schemas"]
            _, own = models_json_schema([(Problem, "serialization")], ref_template=_REFERENCE)
            schemas.update(own["$defs"])
            for name in ("HTTPValidationError", "ValidationError"):
                schemas.pop(name, None)
            for path in told["paths"].values():
                for operation in path.values():
                    operation["responses"].pop("422", None)
                    operation["responses"]["default"] = _ANSWER
        return app.openapi_schema or {}

    app.openapi = with_problems  # type: ignore[method-assign]


_REFERENCE = "#/components/schemas/{model}"
_ANSWER = {
    "description": "Something was wrong: problem details by RFC 9457.",
    "content": {MEDIA_TYPE: {"schema": {"$ref": _REFERENCE.format(model="Problem")}}},
}


def problem(
    status: int,
    code: str,
    detail: str,
    *,
    faults: Sequence[Fault] = (),
    near: Sequence[str] = (),
    headers: dict[str, str] | None = None,
) -> Response:
    """The answer for something wrong."""
    told = Problem(
        title=HTTPStatus(status).phrase,
        status=status,
        code=code,
        detail=detail,
        faults=list(faults),
        near=list(near),
    )
    return Response(told.model_dump_json(), status, headers, media_type=MEDIA_TYPE)


def answer_for(error: FastnessError, faults: Sequence[Fault] | None = None) -> Response:
    """The answer for an exception of the project, with what it is about if that is known."""
    code = type(error).__name__.removesuffix("Error").lower()
    if isinstance(error, PositionError):
        own = Fault(where="position", code=error.code, told=error.message)
        return problem(422, code, str(error), faults=faults or [own])
    if isinstance(error, UntrueError):
        told = [Fault(where="lesson", code="untrue", told=one) for one in error.faults]
        return problem(422, code if error.readable else "unread", str(error.args[0]), faults=told)
    near = error.near if isinstance(error, PlayerError | StudentError) else ()
    status = next((status for kind, status in _STATUS if isinstance(error, kind)), 500)
    return problem(status, code, str(error), near=near)


_STATUS: tuple[tuple[type[FastnessError], int], ...] = (
    (MissingError, 404),
    (InputError, 422),
    (PrintError, 422),
    (StoreError, 409),
    (BusyError, 429),
)


def handle(app: FastAPI) -> None:
    """Let every error of an application be answered in the one shape."""

    @app.exception_handler(FastnessError)
    async def of_the_project(_: Request, error: FastnessError) -> Response:
        return answer_for(error)

    @app.exception_handler(RequestValidationError)
    async def of_the_request(_: Request, error: RequestValidationError) -> Response:
        faults = [
            Fault(where=".".join(map(str, one["loc"])), code=one["type"], told=one["msg"])
            for one in error.errors()
        ]
        return problem(422, "request", "The request is not as it should be.", faults=faults)

    @app.exception_handler(HTTPException)
    async def of_http(_: Request, error: HTTPException) -> Response:
        code = HTTPStatus(error.status_code).phrase.lower().replace(" ", "_")
        headers = dict(error.headers) if error.headers else None
        return problem(error.status_code, code, str(error.detail), headers=headers)

"""Routes for who is there: what this workbench is, logging in and out."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import Response
from pydantic import BaseModel, Field

from fastness import __version__
from fastness.language import LANGUAGES, LanguageName
from fastness.web.access import COOKIE, HOURS, LONGEST
from fastness.web.problems import problem
from fastness.web.workbench import Workbench, workbench_of

router = APIRouter(prefix="/api/session", tags=["session"])


class Session(BaseModel):
    """What this workbench is, and who asks.

    `shared`: others on the network can reach it, at the `addresses`. `teacher`: whoever asks may do
    everything.
    """

    version: str
    shared: bool
    addresses: list[str]
    teacher: bool
    languages: list[LanguageName]


class Password(BaseModel):
    """The teacher's password."""

    password: str = Field(max_length=LONGEST, examples=["eight letters or more"])


Bench = Annotated[Workbench, Depends(workbench_of)]


@router.get("", summary="Who is there")
def session(request: Request, bench: Bench) -> Session:
    """What this workbench is, and whether whoever asks is the teacher."""
    shared = bench.settings.shared
    return Session(
        version=__version__,
        shared=shared,
        addresses=list(bench.settings.addresses),
        teacher=not shared or bench.access.is_teacher(request.headers.get("cookie", "")),
        languages=list(LANGUAGES),
    )


@router.post("", status_code=204, summary="Log in")
def log_in(given: Password, request: Request, bench: Bench) -> Response:
    """Log in with the teacher's password; needed only where the workbench is shared."""
    client = request.client.host if request.client else ""
    wait = bench.tries.wait(client)
    if wait:
        told = f"Too many tries; the next one is in {wait} seconds."
        return problem(429, "pace", told, headers={"retry-after": str(wait)})
    if not bench.access.is_password(given.password):
        return problem(403, "password", "That is not the teacher's password.")
    answer = Response(status_code=204)
    answer.set_cookie(COOKIE, bench.access.cookie(), HOURS * 3600, httponly=True, samesite="strict")
    return answer


@router.delete("", status_code=204, summary="Log out")
def log_out() -> Response:
    """Forget the cookie."""
    answer = Response(status_code=204)
    answer.delete_cookie(COOKIE, httponly=True, samesite="strict")
    return answer

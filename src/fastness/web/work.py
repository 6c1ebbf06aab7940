"""Routes for long work: what there is, how far it is, and stopping it."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends
from fastapi.responses import StreamingResponse
from starlette.exceptions import HTTPException

from fastness.web.jobs import Job, JobTold
from fastness.web.topics import followed
from fastness.web.workbench import Workbench, workbench_of

router = APIRouter(prefix="/api/jobs", tags=["jobs"])

Bench = Annotated[Workbench, Depends(workbench_of)]


def _job(bench: Bench, number: str) -> Job:
    job = bench.jobs.get(number)
    if job is None:
        raise HTTPException(404, f'There is no job "{number}"; it may be long over.')
    return job


OneJob = Annotated[Job, Depends(_job)]


@router.get("", summary="All long work, the last begun first")
def jobs(bench: Bench) -> list[JobTold]:
    """What is being worked on, what waits, and what came of the last ones."""
    return [job.told() for job in bench.jobs.all()]


@router.get("/{number}", summary="How far a job is")
def job(found: OneJob) -> JobTold:
    """One job, with its result when it is done."""
    return found.told()


@router.get(
    "/{number}/events",
    summary="Follow a job by server-sent events",
    response_class=StreamingResponse,
    responses={200: {"content": {"text/event-stream": {}}}},
)
async def events(found: OneJob) -> StreamingResponse:
    """The job as it is now and after every change, as JSON; the stream ends when it is over."""
    return followed(found.topic, lambda: found.told().model_dump_json(), lambda: found.is_over)


@router.delete("/{number}", summary="Stop a job")
def stop(found: OneJob) -> JobTold:
    """Let a job end as soon as it can; what was done before stays."""
    found.stop()
    return found.told()

"""Routes for new exercises: twins of a position, and mining games."""

from __future__ import annotations

import time
from contextlib import closing
from typing import Annotated

from fastapi import APIRouter, Depends
from pydantic import BaseModel, Field

from fastness.core.shapes import Mechanism, UnitName, Way
from fastness.exercises.exercise import Kind
from fastness.intake import Problem
from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.web.jobs import Job, JobTold
from fastness.web.positions import EXAMPLE
from fastness.web.results import MineResult, TwinFound, TwinsResult
from fastness.web.uploads import files_of, without_folder
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.looking_over import PROBLEMS
from fastness.workflows.mining import MOST_HOLDING, Wanted, mine_files
from fastness.workflows.mining_to import Shelf
from fastness.workflows.reading import position_of
from fastness.workflows.twinning import told_twins, twins_of

router = APIRouter(prefix="/api", tags=["making"])

Bench = Annotated[Workbench, Depends(workbench_of)]


class Twins(BaseModel):
    """A position of which twins are looked for, and for how long."""

    fen: str = Field(max_length=500, examples=[EXAMPLE])
    moves: str = Field("", max_length=2000)
    count: int = Field(2, ge=1, le=5)
    seconds: int = Field(20, ge=1, le=120)
    language: LanguageName = "en"


class Mine(BaseModel):
    """Which exercises are looked for in the games of an upload; an empty list asks for nothing.

    `limit` is of positions; 0 goes through all games.
    """

    upload: str = Field(max_length=40)
    kinds: list[Kind] = Field([], max_length=5)
    mechanisms: list[Mechanism] = Field([], max_length=20)
    units: list[UnitName] = Field([], max_length=6)
    ways: list[Way] = Field([], max_length=6)
    ahead: list[Annotated[int, Field(ge=1, le=3)]] = Field([], max_length=3)
    least: int = Field(1, ge=1, le=20)
    most: int = Field(MOST_HOLDING, ge=1, le=20)
    quiet: bool = True
    limit: int = Field(0, ge=0, le=5000)

    def wanted(self) -> Wanted:
        """As the workflow takes it."""
        return Wanted(
            kinds=frozenset(self.kinds),
            mechanisms=frozenset(self.mechanisms),
            units=frozenset(self.units),
            ways=frozenset(self.ways),
            reaches=frozenset(self.ahead),
            least=self.least,
            most=self.most,
            quiet=self.quiet,
        )


@router.post("/twins", status_code=202, summary="Look for twins of a position")
def twins(asked: Twins, bench: Bench) -> JobTold:
    """A job changes one detail after another, and keeps what wants another move."""
    position_of(asked.fen, asked.moves)
    words = language_of(asked.language)

    def work(job: Job) -> TwinsResult:
        begun = time.monotonic()

        def clock() -> float:
            now = time.monotonic()
            job.tell(min(asked.seconds, round(now - begun)), asked.seconds)
            return now

        found = twins_of(
            asked.fen, asked.moves, count=asked.count, seconds=asked.seconds, clock=clock
        )
        told = told_twins(found, words)
        return TwinsResult(
            fen=found.survey["fen"],
            best=told.best,
            twins=[
                TwinFound(
                    fen=one.fen,
                    changed=one.changed,
                    told=one.told,
                    squares=list(one.squares),
                    better=list(one.better),
                )
                for one in told.twins
            ],
            none_found=told.none_found,
        )

    return bench.jobs.begin("twins", asked.fen, work).told()


@router.post("/mining", status_code=202, summary="Look through games for exercises")
def mine(asked: Mine, bench: Bench) -> JobTold:
    """A job proves what it finds and puts it on the shelf; what is there already is passed over."""
    paths = files_of(bench, asked.upload)
    size = sum(path.stat().st_size for path in paths)

    def work(job: Job) -> MineResult:
        shelf, problems = Shelf(bench.store), []
        positions = exercises = 0

        def told(read: int) -> None:
            job.tell(read, size, positions)

        found = mine_files(paths, asked.wanted(), known=shelf.known(), on_progress=told)
        with closing(found) as items:
            for item in items:
                job.check()
                if isinstance(item, Problem):
                    problems.append(item.message)
                    continue
                exercises += shelf.keep(item)
                positions += 1
                if positions == asked.limit:
                    break
        told_ = without_folder(problems[:PROBLEMS], paths)
        return MineResult(positions=positions, exercises=exercises, problems=told_)

    return bench.jobs.begin("mine", "", work, asked.upload).told()

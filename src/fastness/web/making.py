"""Routes for new exercises: twins of a position, and mining games."""

from __future__ import annotations

import time
from contextlib import closing
from dataclasses import asdict
from typing import Annotated

from fastapi import APIRouter, Depends
from pydantic import BaseModel, Field

from fastness.core.shapes import Mechanism, Side, UnitName, Way
from fastness.exercises.composing import Tally
from fastness.exercises.exercise import Kind, Level
from fastness.exercises.request import Request, check_request
from fastness.intake import Problem
from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.survey.position import position_key
from fastness.web.jobs import Job, JobTold
from fastness.web.positions import EXAMPLE
from fastness.web.results import ComposeResult, MineResult, TwinFound, TwinsResult
from fastness.web.uploads import files_of, without_folder
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.composing import ComposedTold, composed, tally_in_words, told_composed
from fastness.workflows.looked_at import LookedAt
from fastness.workflows.looking_over import PROBLEMS
from fastness.workflows.mining import MOST_HOLDING, Mined, Wanted, mine_files
from fastness.workflows.mining_to import Shelf
from fastness.workflows.reading import position_of
from fastness.workflows.shelf_page import rows_at
from fastness.workflows.twinning import told_twins, twins_of

router = APIRouter(prefix="/api", tags=["making"])

Bench = Annotated[Workbench, Depends(workbench_of)]
MOST_MOVES = 300
"""More than the legal moves of any position."""
MOST_ROWS = 200
"""Exercises told of one job."""


class Twins(BaseModel):
    """A position of which twins are looked for, and for how long."""

    fen: str = Field(max_length=500, examples=[EXAMPLE])
    moves: str = Field("", max_length=2000)
    count: int = Field(2, ge=1, le=5)
    seconds: int = Field(20, ge=1, le=120)
    language: LanguageName = "en"


class Mine(BaseModel):
    """Which exercises are looked for in the games of an upload; an empty list asks for nothing.

    `limit` is of positions; 0 goes through all games. `positions` (FEN) are those of the games that
    are looked at; with none the program chooses.
    """

    upload: str = Field(max_length=40)
    positions: list[Annotated[str, Field(max_length=100)]] = Field([], max_length=300)
    kinds: list[Kind] = Field([], max_length=5)
    mechanisms: list[Mechanism] = Field([], max_length=20)
    units: list[UnitName] = Field([], max_length=6)
    ways: list[Way] = Field([], max_length=6)
    ahead: list[Annotated[int, Field(ge=1, le=3)]] = Field([], max_length=3)
    least: int = Field(1, ge=1, le=20)
    most: int = Field(MOST_HOLDING, ge=1, le=20)
    quiet: bool = True
    limit: int = Field(0, ge=0, le=5000)
    language: LanguageName = "en"

    def wanted(self) -> Wanted:
        """As the workflow takes it."""
        return Wanted(
            kinds=frozenset(self.kinds),
            mechanisms=frozenset(self.mechanisms),
            units=frozenset(self.units),
            ways=frozenset(self.ways),
            reaches=frozenset(self.ahead),
            least=self.least,
            # Whoever chose a position wants it, in however many ways it can be held.
            most=MOST_MOVES if self.positions else self.most,
            quiet=self.quiet,
        )


class Compose(BaseModel):
    """What positions to be made must have; what is left out is not asked for.

    They come from the games of an upload, or from games that the program makes up: the same ones
    for the same `seed`. `keep`: put their exercises on the shelf.
    """

    upload: str | None = Field(None, max_length=40)
    mechanism: Mechanism | None = None
    unit: UnitName | None = None
    ways: list[Way] = Field([], max_length=6)
    ahead: int | None = Field(None, ge=1, le=3)
    least: int = Field(1, ge=1, le=20)
    most: int = Field(MOST_HOLDING, ge=1, le=20)
    side: Side | None = None
    level: Level | None = None
    count: int = Field(6, ge=1, le=30)
    seconds: int = Field(60, ge=1, le=300)
    seed: int = Field(1, ge=0, le=2**31 - 1)
    keep: bool = False
    language: LanguageName = "en"

    def request(self) -> Request:
        """As the workflow takes it."""
        return Request(
            self.mechanism,
            self.unit,
            frozenset(self.ways),
            self.ahead,
            self.least,
            self.most,
            self.side,
            self.level,
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
    paths, wanted = files_of(bench, asked.upload), asked.wanted()
    wanted.check()
    only = {position_key(fen) for fen in asked.positions} or None
    words = language_of(asked.language)

    def work(job: Job) -> MineResult:
        shelf = Shelf(bench.store)
        problems: list[str] = []
        made: dict[str, None] = {}
        there: dict[str, None] = {}
        exercises = 0

        def told(done: int, of: int) -> None:
            job.tell(done, of, len(made))

        def result() -> MineResult:
            rows = rows_at(bench.store, [*made, *there][:MOST_ROWS], words)[:MOST_ROWS]
            told_ = without_folder(problems[:PROBLEMS], paths)
            return MineResult(
                positions=len(made), exercises=exercises, rows=list(rows), problems=told_
            )

        known = shelf.known()
        looked_at = LookedAt("mine", asdict(wanted), known=known)
        found = mine_files(
            paths,
            wanted,
            only=only,
            known=looked_at,
            on_known=there.setdefault,
            on_nothing=looked_at.add,
            on_looked=told,
        )
        with closing(found) as items:
            for item in items:
                job.check()
                if isinstance(item, Problem):
                    problems.append(item.message)
                    continue
                exercises += shelf.keep(item)
                made[position_key(item.proved.fen)] = None
                job.show(result)
                if len(made) == asked.limit:
                    break
        return result()

    return bench.jobs.begin("mine", "", work, asked.upload).told()


@router.post("/composing", status_code=202, summary="Make positions on request")
def compose(asked: Compose, bench: Bench) -> JobTold:
    """A job makes positions with firm answers, as they are asked for."""
    request, words = asked.request(), language_of(asked.language)
    check_request(request)
    paths = files_of(bench, asked.upload) if asked.upload else []

    def work(job: Job) -> ComposeResult:
        begun, tally, kept = time.monotonic(), Tally(), 0
        made: list[ComposedTold] = []

        def clock() -> float:
            now = time.monotonic()
            job.tell(min(asked.seconds, round(now - begun)), asked.seconds, len(made))
            return now

        search = composed(
            request, tally, files=paths, seed=asked.seed, seconds=asked.seconds, clock=clock
        )
        with closing(search) as found:
            for one in found:
                made.append(told_composed(one, words))
                if asked.keep:
                    kept += Shelf(bench.store).keep(Mined(one.proved, one.exercises))
                if len(made) == asked.count:
                    break
        told = tally_in_words(tally, len(made), asked.count, words)
        return ComposeResult(positions=made, exercises=kept, told=told)

    return bench.jobs.begin("compose", "", work, asked.upload or "").told()

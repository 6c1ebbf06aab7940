"""Routes for what happens at the class board: tries, hands, what the class sees, playing on."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Literal

from fastapi import APIRouter, Path
from fastapi.responses import Response
from pydantic import BaseModel, Field

from fastness.classroom import commands
from fastness.classroom.preparing import read_move
from fastness.classroom.session import ClassSession, board_after
from fastness.classroom.telling import ClassTold
from fastness.language import LanguageName
from fastness.web.classes import Bench, Told, as_told, changed
from fastness.web.games import Number
from fastness.web.workbench import Workbench

router = APIRouter(prefix="/api/classes/{number}", tags=["class board"])

TryNumber = Annotated[int, Path(ge=1, le=2**31 - 1, description="The number of a try.")]


class Proposed(BaseModel):
    """A move, in SAN or UCI."""

    move: str = Field(max_length=12, examples=["Ng6"])


class Hands(BaseModel):
    """How many hands more are counted, or fewer where it is below 0."""

    change: int = Field(ge=-999, le=999, examples=[1])


class Show(BaseModel):
    """What the class is to see; a try with its verdict if `said`."""

    what: Literal["position", "side", "marks", "try", "answer"] = Field(examples=["try"])
    number: int = Field(0, ge=0, le=2**31 - 1, description="A try's number.", examples=[2])
    said: bool = Field(True, description="Show the verdict of a try.")


class Step(BaseModel):
    """How many moves of the line shown stand on the board."""

    step: int = Field(ge=0, le=1000, examples=[2])


class Sentence(BaseModel):
    """Whether the sentence to what is shown is shown, too."""

    said: bool = Field(examples=[True])


class PlayOn(BaseModel):
    """The try whose refutation a student plays against."""

    number: Number = Field(examples=[2])


@router.post("/tries", response_model=ClassTold, summary="Enter a try")
async def enter(number: Number, what: Proposed, bench: Bench, language: Told = "en") -> Response:
    """It is answered at once, for the teacher; the class sees it when it is shown."""

    async def do(session: ClassSession) -> ClassSession:
        move = read_move(session.at.fen, what.move)
        return commands.enter_try(session, await bench.classes.look(session.at), move)

    return as_told(await bench.classes.change(number, do), language)


@router.delete("/tries/{tried}", response_model=ClassTold, summary="Take a try out")
async def take_out(
    number: Number, tried: TryNumber, bench: Bench, language: Told = "en"
) -> Response:
    """With its hands."""
    return await changed(bench, number, language, lambda now: commands.take_out(now, tried))


@router.post("/tries/{tried}/hands", response_model=ClassTold, summary="Count hands for a try")
async def hands(
    number: Number, tried: TryNumber, count: Hands, bench: Bench, language: Told = "en"
) -> Response:
    """Never below none."""

    def do(session: ClassSession) -> ClassSession:
        return commands.count_hands(session, tried, count.change)

    return await changed(bench, number, language, do)


@router.put("/shown", response_model=ClassTold, summary="Show the class something")
async def show(number: Number, what: Show, bench: Bench, language: Told = "en") -> Response:
    """The position alone, who is to move, what is not safe, a try, or the next answer."""

    async def do(session: ClassSession) -> ClassSession:
        if what.what == "position":
            return commands.show_clean(session)
        if what.what == "side":
            return commands.show_side(session)
        if what.what == "try":
            return commands.show_try(session, what.number, said=what.said)
        looked = await bench.classes.look(session.at)
        if what.what == "marks":
            return commands.show_marks(session, looked)
        return commands.show_answer(session, looked)

    return as_told(await bench.classes.change(number, do), language)


@router.put("/step", response_model=ClassTold, summary="Step in the line shown")
async def step(number: Number, to: Step, bench: Bench, language: Told = "en") -> Response:
    """Forward or back, as far as the line goes."""
    return await changed(bench, number, language, lambda now: commands.step_to(now, to.step))


@router.put("/said", response_model=ClassTold, summary="Show or hide the sentence")
async def say(number: Number, what: Sentence, bench: Bench, language: Told = "en") -> Response:
    """The verdict of the try shown, or what is settled where a student plays on."""

    def do(session: ClassSession) -> ClassSession:
        return commands.say_it(session, said=what.said)

    return await changed(bench, number, language, do)


@router.post("/play", response_model=ClassTold, summary="Let a student play on")
async def play(number: Number, what: PlayOn, bench: Bench, language: Told = "en") -> Response:
    """Against the refutation of a try, from where it stands on the board."""
    return await _searched(bench, number, language, lambda now: commands.play_on(now, what.number))


@router.post("/play/moves", response_model=ClassTold, summary="The student's move")
async def play_move(
    number: Number, what: Proposed, bench: Bench, language: Told = "en"
) -> Response:
    """It is answered by what wins or keeps the most."""

    def do(session: ClassSession) -> ClassSession:
        stands = board_after(session.at.fen, commands.play_of(session).line)
        return commands.play_move(session, read_move(stands.fen(), what.move))

    return await _searched(bench, number, language, do)


@router.delete("/play/moves", response_model=ClassTold, summary="Take the student's move back")
async def take_back(number: Number, bench: Bench, language: Told = "en") -> Response:
    """With the answer to it."""
    return await _searched(bench, number, language, commands.take_back)


async def _searched(
    bench: Workbench,
    number: int,
    code: LanguageName,
    do: Callable[[ClassSession], ClassSession],
) -> Response:
    """Do a command that searches."""

    async def beside(session: ClassSession) -> ClassSession:
        return await bench.classes.beside(lambda: do(session))

    return as_told(await bench.classes.change(number, beside), code)

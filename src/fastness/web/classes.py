"""Routes for the class board on the teacher's side: sessions, their positions, the screen."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter, Depends
from fastapi.responses import Response, StreamingResponse
from pydantic import BaseModel, Field

from fastness.classroom import commands
from fastness.classroom.lesson_file import lesson_named
from fastness.classroom.preparing import begin, given, of_exercises, of_text, of_week
from fastness.classroom.session import BoardPosition, ClassSession, Theme
from fastness.classroom.telling import ClassTold, PositionListed, tell_class
from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.web.class_desk import FIRST_DAY, ClassDesk
from fastness.web.games import Number
from fastness.web.positions import EXAMPLE, READ
from fastness.web.topics import followed
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.reading import PositionRead, read_survey

router = APIRouter(prefix="/api/classes", tags=["class board"])

PAGE = "/b/"
"""The page of the front end that shows the class's side of what a link names."""

Bench = Annotated[Workbench, Depends(workbench_of)]
Told = Annotated[LanguageName, Field(description="The language of the teacher's screen.")]


class Positions(BaseModel):
    """Positions for the class, from one or several places, in this order.

    `fen` with `moves` is a single one; `exercises` are numbers on the shelf; `week` is a week that
    is worked on, those of its positions that were taken; `text` is `week.json` of a week's folder,
    or a FEN or EPD record a line.
    """

    fen: str = Field("", max_length=500, examples=[EXAMPLE])
    moves: str = Field("", max_length=2000, examples=["12...Bf5"])
    exercises: list[Number] = Field([], max_length=commands.MOST_POSITIONS, examples=[[]])
    week: str = Field("", max_length=40, examples=[""])
    text: str = Field("", max_length=200_000, examples=[""])

    def found(self, bench: Workbench) -> tuple[BoardPosition, ...]:
        """The positions themselves."""
        found = [given(self.fen, self.moves)] if self.fen else []
        found += of_exercises(bench.store, self.exercises) if self.exercises else []
        found += of_week(bench.weeks.get(self.week).told()) if self.week else []
        return (*found, *of_text(self.text))


class NewClass(Positions):
    """A session to begin; `language` is that of the class's screen."""

    title: str = Field("", max_length=120, examples=["Monday, pinned guards"])
    language: LanguageName = "en"


class ClassListed(BaseModel):
    """A session in the list of those that are kept."""

    number: int
    title: str
    begun: datetime.datetime
    positions: list[PositionListed]


class BoardLink(BaseModel):
    """The link to the class's screen: its path, and the whole addresses that others can reach."""

    word: str
    path: str = Field(examples=["/b/minus-abcde"])
    addresses: list[str]


class ClassHere(BaseModel):
    """A session, and the link to the class's screen."""

    link: BoardLink
    told: ClassTold


class Current(BaseModel):
    """The position that is worked on."""

    position: Number = Field(examples=[1])


class Note(BaseModel):
    """The teacher's note on a position; no class sees it."""

    note: str = Field(max_length=4000, examples=["Ask first which pieces nothing guards."])


class Screen(BaseModel):
    """How the class's screen looks; what is left out stays."""

    turned: bool | None = Field(None, examples=[True])
    theme: Theme | None = Field(None, examples=["dark"])
    language: LanguageName | None = Field(None, examples=["de"])


def desk_of(number: Number, bench: Bench) -> ClassDesk:
    """The session that a path names."""
    return bench.classes.get(number)


Desk = Annotated[ClassDesk, Depends(desk_of)]


async def changed(
    bench: Workbench,
    number: int,
    code: LanguageName,
    do: Callable[[ClassSession], ClassSession],
) -> Response:
    """Do a command that is quick; the answer is the session as it is then."""

    async def at_once(session: ClassSession) -> ClassSession:
        return do(session)

    return as_told(await bench.classes.change(number, at_once), code)


def as_told(desk: ClassDesk, code: LanguageName) -> Response:
    """A session for the teacher, as an answer."""
    return Response(desk.told(code), media_type="application/json")


def link_of(bench: Workbench, number: int) -> BoardLink:
    """The link by which the class's screen is reached; withdrawn with all other links."""
    word = bench.access.word("b", number)
    addresses = [f"{address}{PAGE}{word}" for address in bench.settings.addresses]
    return BoardLink(word=word, path=f"{PAGE}{word}", addresses=addresses)


def class_here(bench: Workbench, session: ClassSession, code: LanguageName) -> ClassHere:
    """A session with the link to the class's screen."""
    told = tell_class(session, language_of(code))
    return ClassHere(link=link_of(bench, session.number), told=told)


@router.post("", status_code=201, summary="Begin a class board")
async def new(what: NewClass, bench: Bench) -> ClassHere:
    """At the first of its positions, which the class sees clean."""
    classes = bench.classes
    found = await classes.beside(lambda: what.found(bench))
    bench.access.keep_links()
    session = begin(
        classes.number(),
        what.title,
        found,
        what.language,
        lesson=lesson_named(what.text),
        held=datetime.date.today(),
    )
    classes.add(session, of_demo=bench.in_demo)
    return class_here(bench, session, what.language)


@router.get("", summary="The class boards that are kept, the last begun first")
async def classes(bench: Bench) -> list[ClassListed]:
    """With what they are made of."""
    found = []
    for desk in bench.classes.all(of_demo=bench.in_demo):
        told, seconds = tell_class(desk.session), desk.session.number + FIRST_DAY
        begun = datetime.datetime.fromtimestamp(seconds, datetime.UTC)
        found.append(
            ClassListed(
                number=told.number, title=told.title, begun=begun, positions=list(told.positions)
            )
        )
    return found


@router.get("/{number}", summary="A class board for the teacher")
async def one(desk: Desk, bench: Bench, language: Told = "en") -> ClassHere:
    """Everything, with the link to the class's screen."""
    return class_here(bench, desk.session, language)


@router.get(
    "/{number}/events",
    summary="Follow a class board by server-sent events",
    response_class=StreamingResponse,
    responses={200: {"content": {"text/event-stream": {}}}},
)
async def events(desk: Desk, language: Told = "en") -> StreamingResponse:
    """The session as it is now and after every change, as JSON, for the teacher's screens."""
    return followed(desk.topic, lambda: desk.told(language), lambda: desk.over)


@router.delete("/{number}", status_code=204, summary="End a class board")
async def end(number: Number, bench: Bench) -> None:
    """It is no longer kept, and its link shows nothing any more."""
    bench.classes.end(number)


@router.get("/{number}/survey", summary="What stands in the position", response_model=PositionRead)
async def survey(desk: Desk, bench: Bench, language: Told = "en") -> Response:
    """The survey by which tries are answered: ranked, and checked one move deeper."""
    looked = await bench.classes.look(desk.session.at)
    words = language_of(language)

    def read() -> bytes:
        told = read_survey(looked.survey, words, moves_given=looked.moves_given)
        return READ.dump_json(told)

    return Response(await bench.classes.beside(read), media_type="application/json")


@router.post("/{number}/positions", response_model=ClassTold, summary="Add positions")
async def add(number: Number, more: Positions, bench: Bench, language: Told = "en") -> Response:
    """At the end."""
    found = await bench.classes.beside(lambda: more.found(bench))
    return await changed(bench, number, language, lambda session: commands.add(session, found))


@router.delete(
    "/{number}/positions/{position}", response_model=ClassTold, summary="Remove a position"
)
async def remove(number: Number, position: Number, bench: Bench, language: Told = "en") -> Response:
    """With its tries and its note."""
    return await changed(bench, number, language, lambda now: commands.remove(now, position))


@router.put("/{number}/positions/{position}/note", response_model=ClassTold, summary="Write a note")
async def note(
    number: Number, position: Number, what: Note, bench: Bench, language: Told = "en"
) -> Response:
    """For the teacher's screen alone."""
    return await changed(
        bench, number, language, lambda session: commands.write_note(session, position, what.note)
    )


@router.put("/{number}/current", response_model=ClassTold, summary="Go to a position")
async def go(number: Number, to: Current, bench: Bench, language: Told = "en") -> Response:
    """The class sees it clean."""
    return await changed(bench, number, language, lambda now: commands.go_to(now, to.position))


@router.put("/{number}/screen", response_model=ClassTold, summary="How the class's screen looks")
async def screen(number: Number, how: Screen, bench: Bench, language: Told = "en") -> Response:
    """Which side is at the bottom, paper or slate, and its language."""

    def do(session: ClassSession) -> ClassSession:
        return commands.on_screen(
            session, turned=how.turned, theme=how.theme, language=how.language
        )

    return await changed(bench, number, language, do)

"""Routes for the games of the store: the list, the places to look, the teacher's last word."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Depends, Query
from pydantic import BaseModel, Field

from fastness.language import LanguageName
from fastness.language import language as language_of
from fastness.store.browsing import Asked
from fastness.web.workbench import Workbench, workbench_of
from fastness.workflows.correcting import Corrected, correct, take_back
from fastness.workflows.games import (
    MOST,
    CorrectionTold,
    GameList,
    GameTold,
    list_games,
    tell_game,
)
from fastness.workflows.places import PlaceGroup, places

router = APIRouter(prefix="/api", tags=["games"])

Bench = Annotated[Workbench, Depends(workbench_of)]
Number = Annotated[int, Field(ge=1, le=2**31 - 1)]
DATE = r"^(\d{4}\.\d\d\.\d\d)?$"


class Which(BaseModel):
    """Which games are asked for; what is left out asks for nothing."""

    student: Number | None = None
    group: Number | None = None
    game: Number | None = None
    since: str = Field("", pattern=DATE, description="A PGN date, 2026.09.01.")
    text: str = Field("", max_length=200, description="Stands in a player's name.")

    def asked(self) -> Asked:
        """As the store takes it."""
        return Asked(self.student, self.group, self.game, self.since, self.text)


class WhichPage(Which):
    """Which games, from the one after `after` on."""

    after: int = Field(0, ge=0, le=1_000_000)
    most: int = Field(MOST, ge=1, le=MOST)


class WhichPlaces(Which):
    """Which games' places; with `held` also what was held."""

    held: bool = False
    language: LanguageName = "en"


class Said(BaseModel):
    """What the teacher says of a place in a game, or of one move there.

    An overruling names an outcome: held, offered, lessened, let fall, saved most or exposed (of a
    taking, seized or let off); of a move, holds or falls.
    """

    ply: int = Field(ge=1, le=2000, examples=[24])
    kind: Literal["danger", "taking"] = "danger"
    action: Literal["strike", "overrule", "comment"]
    outcome: str | None = Field(None, max_length=20, examples=["held"])
    move: str | None = Field(None, max_length=10, examples=["Nf6"])
    reason: str = Field(min_length=1, max_length=1000, examples=["We looked at it in class."])


@router.get("/games", summary="The games of the store, the last played first")
def games(which: Annotated[WhichPage, Query()], bench: Bench) -> GameList:
    """The games that fit, and how many there are."""
    return list_games(bench.store, which.asked(), after=which.after, most=which.most)


@router.get("/places", summary="The places to look, grouped by what fell")
def places_to_look(which: Annotated[WhichPlaces, Query()], bench: Bench) -> list[PlaceGroup]:
    """One place for each danger, what cost most first; what the teacher struck is left out."""
    words = language_of(which.language)
    return places(bench.store, which.asked(), words, held=which.held)


@router.get("/games/{number}", summary="A game with its places and corrections")
def game(number: Number, bench: Bench, language: LanguageName = "en") -> GameTold:
    """The moves with the position after each, the places to look, and what the teacher said."""
    return tell_game(bench.store, number, language_of(language))


@router.post("/games/{number}/corrections", status_code=201, summary="Correct a place or a move")
def say(number: Number, said: Said, bench: Bench) -> Corrected:
    """It is printed with its reason, and kept when the games are gone through again.

    To undo it take it back, and say again what it replaced.
    """
    return correct(
        bench.store,
        number,
        said.ply,
        said.action,
        said.reason,
        kind=said.kind,
        outcome=said.outcome,
        move=said.move,
    )


@router.delete("/games/{number}/corrections/{correction}", summary="Take a correction back")
def unsay(number: Number, correction: Number, bench: Bench) -> CorrectionTold:
    """What it said is answered, so that it can be said again."""
    return take_back(bench.store, number, correction)

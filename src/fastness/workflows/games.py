"""The games of the store: listed, and one told with its places and the teacher's corrections."""

from __future__ import annotations

from dataclasses import dataclass

from fastness.core.shapes import Side
from fastness.language import ENGLISH, Language
from fastness.store import Store, tables
from fastness.store.browsing import Asked, game_numbered, games_of
from fastness.survey.reading import Step, told_line
from fastness.workflows.places import Place, places_counted, places_of_seat

MOST = 100
"""Games listed at once."""


@dataclass(frozen=True, slots=True)
class PlayedBy:
    """A student at one side of a game."""

    student: int
    name: str
    colour: Side


@dataclass(frozen=True, slots=True)
class GameRow:
    """A game in a list. `date` is PGN's; `places` counts the occasions, `fell` those that fell."""

    id: int
    date: str
    event: str
    white: str
    black: str
    result: str
    students: tuple[PlayedBy, ...]
    places: int
    fell: int


@dataclass(frozen=True, slots=True)
class GameList:
    """Some of the games that fit, and how many there are."""

    count: int
    games: tuple[GameRow, ...]


@dataclass(frozen=True, slots=True)
class CorrectionTold:
    """What the teacher said of a place in a game, or of one move (UCI) there."""

    id: int
    ply: int
    kind: str
    action: str
    outcome: str | None
    move: str | None
    reason: str


@dataclass(frozen=True, slots=True)
class GameTold:
    """A game: its moves with the position after each, its places, what the teacher said."""

    row: GameRow
    tags: dict[str, str]
    start_fen: str
    steps: tuple[Step, ...]
    places: tuple[Place, ...]
    corrections: tuple[CorrectionTold, ...]


def list_games(store: Store, asked: Asked, *, after: int = 0, most: int = MOST) -> GameList:
    """The games that fit, the last played first, from the one after `after` on."""
    with store.reading() as session:
        count, games = games_of(session, asked, most=most, after=after)
        return GameList(count, tuple(map(_row, games)))


def tell_game(store: Store, number: int, language: Language = ENGLISH) -> GameTold:
    """One game in full. Raises MissingError where there is none of this number."""
    with store.reading() as session:
        game = game_numbered(session, number)
        line = told_line(game.start_fen, game.moves.split(), language)
        found = [one for seat in game.seats for one in places_of_seat(seat, language)]
        return GameTold(
            row=_row(game),
            tags=dict(game.tags),
            start_fen=game.start_fen,
            steps=line.steps,
            places=tuple(sorted(found, key=lambda one: one.ply)),
            corrections=tuple(map(correction_told, game.corrections)),
        )


def correction_told(one: tables.Correction) -> CorrectionTold:
    """A correction out of the store."""
    return CorrectionTold(one.id, one.ply, one.kind, one.action, one.outcome, one.move, one.reason)


def _row(game: tables.Game) -> GameRow:
    places, fell = places_counted(game)
    return GameRow(
        id=game.id,
        date=game.tags.get("Date", "????.??.??"),
        event=game.tags.get("Event", "?"),
        white=game.white,
        black=game.black,
        result=game.result,
        students=tuple(
            PlayedBy(
                seat.student_id, seat.student.name, "white" if seat.colour == "white" else "black"
            )
            for seat in game.seats
        ),
        places=places,
        fell=fell,
    )

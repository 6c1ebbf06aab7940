"""Games gone through without being kept: the places to look in them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import closing
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from fastness.core.shapes import Side
from fastness.errors import InputError
from fastness.intake import Problem
from fastness.language import ENGLISH, Language
from fastness.record import StudentGame
from fastness.workflows.places import Place, PlaceGroup, PlayedSide, grouped, places_of_side
from fastness.workflows.sifting import Sifted, sift_files


@dataclass(frozen=True, slots=True)
class Unkept:
    """What was found in games that are not kept: who played, and the places grouped."""

    games: int
    players: tuple[str, ...]
    groups: tuple[PlaceGroup, ...]
    problems: tuple[str, ...]


def places_in_files(
    paths: Iterable[Path],
    player: str | None = None,
    language: Language = ENGLISH,
    *,
    most: int,
    offers: bool = False,
    held: bool = False,
    on_game: Callable[[int], None],
) -> Unkept:
    """The places of one player, or of both sides, in PGN files; games are numbered from 1.

    `on_game` hears how many games were gone through; what it raises ends it.

    Raises:
        PlayerError: no game names the player.
        InputError: there are more than `most` games.
    """
    found: list[Place] = []
    problems: list[str] = []
    players: dict[str, None] = {}
    numbers = count(1)
    games = 0
    with closing(sift_files(paths, player, offers=offers)) as sifted:
        for item in sifted:
            if isinstance(item, Problem):
                problems.append(item.message)
                continue
            games = next(numbers)
            if games > most:
                raise InputError(f"There are more than {most} games; bring them in to keep them.")
            for side in _sides(item, games):
                players.setdefault(side.student)
                found += places_of_side(side, language)
            on_game(games)
    groups = tuple(grouped(found, language, held=held))
    return Unkept(games, tuple(players), groups, tuple(problems))


def _sides(sifted: Sifted, number: int) -> list[PlayedSide]:
    """The sides of a game that was gone through, those in which something was found."""
    game, tags = sifted.game, sifted.game.tags
    sides: list[tuple[Side, str]] = [
        ("white", tags.get("White", "?")),
        ("black", tags.get("Black", "?")),
    ]
    return [
        PlayedSide(
            student=name,
            student_id=None,
            white=sides[0][1],
            black=sides[1][1],
            start_fen=game.start_fen,
            moves=game.moves,
            found=StudentGame(
                game=str(number),
                date=tags.get("Date", "????.??.??"),
                colour=colour,
                moves=len(game.moves),
                opponent_rating=None,
                rating=None,
                occasions=tuple(one for one in sifted.occasions if one["colour"] == colour),
                start_clock=None,
                score=None,
            ),
        )
        for colour, name in sides
        if name in sifted.players
    ]

"""A game as the record takes it: one student's side of it, with what the sift found there."""

from dataclasses import dataclass

from fastness.core.shapes import Side
from fastness.sift import Occasion


@dataclass(frozen=True, slots=True)
class StudentGame:
    """One student's side of a sifted game.

    `game` is a key that tells the game from every other, `date` its PGN date ("2026.09.07", with
    "?" for what is not known), `moves` the number of the student's own moves. `occasions` are
    those of the student's own moves. `start_clock` is the time at the start in seconds and
    `score` what the student got from the game (1, 0.5 or 0); None where it is not known.
    """

    game: str
    date: str
    colour: Side
    moves: int
    opponent_rating: int | None
    rating: int | None
    occasions: tuple[Occasion, ...]
    start_clock: float | None = None
    score: float | None = None

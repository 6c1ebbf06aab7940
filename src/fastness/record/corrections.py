"""The teacher's corrections, which come before everything that is computed."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from fastness.record.student_game import StudentGame
from fastness.sift import Occasion, Outcome


@dataclass(frozen=True, slots=True)
class Correction:
    """What the teacher says of one occasion: it is struck, or had another outcome.

    `game` is the key of the game. `outcome` None strikes the occasion. `reason` is the teacher's
    and is printed with it.
    """

    game: str
    ply: int
    kind: Literal["danger", "taking"]
    outcome: Outcome | None
    reason: str


def apply_corrections(
    occasions: Iterable[Occasion], corrections: Iterable[Correction]
) -> tuple[Occasion, ...]:
    """The occasions of one game as the teacher has corrected them; the last word on each counts.

    `corrections` are those of this game. A struck occasion is as if it had never been found.
    """
    said = {(one.ply, one.kind): one.outcome for one in corrections}
    corrected: list[Occasion] = []
    for occasion in occasions:
        place = occasion["ply"], occasion["kind"]
        if place not in said:
            corrected.append(occasion)
        elif (outcome := said[place]) is not None:
            corrected.append(_overruled(occasion, outcome))
    return tuple(corrected)


def corrected_games(
    games: Iterable[StudentGame], corrections: Sequence[Correction]
) -> list[StudentGame]:
    """The games with the corrections that name them applied."""
    of_game: dict[str, list[Correction]] = {}
    for one in corrections:
        of_game.setdefault(one.game, []).append(one)
    return [
        replace(game, occasions=apply_corrections(game.occasions, of_game[game.game]))
        if game.game in of_game
        else game
        for game in games
    ]


def _overruled(occasion: Occasion, outcome: Outcome) -> Occasion:
    overruled = occasion.copy()
    overruled["outcome"] = outcome
    return overruled

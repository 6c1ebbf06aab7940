"""The better ways of a position, where they are few and clearly ahead of what else holds."""

from __future__ import annotations

from collections.abc import Collection

from fastness.core.shapes import MoveVerdict, Net, Survey
from fastness.survey.danger import has_danger
from fastness.survey.words import THRESHOLD

MOST = 2
"""Better ways beyond which there is nothing to choose."""
CLEARLY = 75
"""Centipawns of the evaluation by which the better ways must be ahead of the others."""


def better_ways(survey: Survey) -> tuple[str, ...]:
    """The better ways (UCI) of a ranked survey, if they are firm, few, and clearly ahead.

    None where nothing is in danger, or every move that holds is as good.
    """
    holding = [move for move in survey["moves"] if move["holds"]]
    better = [move for move in holding if move["advised"]]
    if not has_danger(survey) or not 1 <= len(better) <= MOST or len(better) == len(holding):
        return ()
    moves = tuple(move["uci"] for move in better)
    return moves if all(move["firm"] for move in better) and are_ahead(survey, moves) else ()


def are_ahead(survey: Survey, moves: Collection[str]) -> bool:
    """Whether each of these moves (UCI) holds, and is clearly ahead of any other that does.

    Ahead in material by half a pawn, or by the evaluation by `CLEARLY`.
    """
    holding = [move for move in survey["moves"] if move["holds"]]
    better = [move for move in holding if move["uci"] in moves]
    others = [move for move in holding if move["uci"] not in moves]
    return len(better) == len(moves) and all(
        _is_ahead(one, other) for one in better for other in others
    )


def _is_ahead(one: MoveVerdict, other: MoveVerdict) -> bool:
    if one["net"] == "mates" or other["net"] == "mates":
        return other["net"] != "mates"
    return _more(one["net"], other["net"], THRESHOLD) or _more(
        one["evaluation"], other["evaluation"], CLEARLY
    )


def _more(one: Net | None, other: Net | None, by: int) -> bool:
    return isinstance(one, int) and isinstance(other, int) and one - other >= by

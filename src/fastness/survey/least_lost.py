"""What loses least where nothing keeps the material, and what becomes of the rest after it."""

from __future__ import annotations

from collections.abc import Iterator

import chess

from fastness import core
from fastness.core.shapes import Deeper, MoveVerdict, Survey
from fastness.survey.claim import KeepsTheRest, LeastLost, Loss, MoreIsLost
from fastness.survey.danger import has_danger
from fastness.survey.tries import loss
from fastness.survey.words import WAYS

CHECKED = 4
"""Moves that lose least of which it is asked what becomes of the rest."""
SHOWN = 3
"""Moves that lose least shown with their lines."""
FURTHER = 2
"""The reach of that question, from where the line of the move ends."""


def least_lost(survey: Survey) -> Iterator[LeastLost | KeepsTheRest | MoreIsLost]:
    """As far as it was looked: one move deeper where that was asked.

    Then of the first of the moves that lose least, after which the rest is in danger, what keeps
    it, or that nothing does. What does comes first, and before that what a player would think of.
    """
    deeper = all(move.get("deeper") for move in survey["moves"])
    ends = {move["uci"]: move["deeper"] or move if deeper else move for move in survey["moves"]}
    least = min(map(loss, ends.values()))
    best = sorted(
        (move for move in survey["moves"] if loss(ends[move["uci"]]) == least),
        key=lambda move: (not move.get("natural"), move["san"]),
    )
    further = [one for move in best[:CHECKED] for one in _further(survey, move, ends[move["uci"]])]
    worse = [one.move for one in further if isinstance(one, MoreIsLost)]
    moves = sorted((move["uci"] for move in best), key=lambda uci: uci in worse)
    first = ends[moves[0]]
    loses: Loss = "mate" if first["net"] == "mated" else loss(first)
    others = [tuple(ends[uci]["line"] or ()) for uci in moves[1:SHOWN]]
    reach = survey["reach"] + deeper
    yield LeastLost(
        tuple(moves), loses, tuple(first["line"] or ()), reach, tuple(filter(None, others))
    )
    yield from further


def _further(
    survey: Survey, move: MoveVerdict, end: MoveVerdict | Deeper
) -> Iterator[KeepsTheRest | MoreIsLost]:
    """What keeps the rest where the line of a move ends, if it is in danger there."""
    line, board = tuple(end["line"] or ()), chess.Board(survey["fen"])
    own = board.turn
    for uci in line:
        board.push_uci(uci)
    if end["net"] == "mated" or board.turn is not own or board.is_game_over(claim_draw=False):
        return
    after = core.survey(board.fen(), reach=FURTHER, values=survey["values"])
    holding = [one for one in after["moves"] if one["holds"]]
    if not holding:
        yield MoreIsLost(move["uci"], line)
    elif has_danger(after):
        best = min(holding, key=lambda one: (_place(one), loss(one), one["san"]))
        kept = tuple(best.get("answer") or best["line"] or [best["uci"]])
        yield KeepsTheRest(move["uci"], (*line, *kept), len(line))


def _place(move: MoveVerdict) -> tuple[bool, int]:
    """What shows its answer to a try first, then by the teacher's order of ways."""
    ways, shown = move["ways"] or ["other"], move.get("answer") or move["line"] or ()
    return len(shown) < 3, WAYS.index(ways[0])

"""Proves a position for exercises: its survey, what stays the same one move deeper, and replies."""

from __future__ import annotations

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey
from fastness.exercises.better import are_ahead, better_ways
from fastness.exercises.difficulty import is_unsafe
from fastness.exercises.exercise import Proved, Source
from fastness.survey.tries import loss
from fastness.survey.words import THRESHOLD

REACH = 3
"""Opponent moves to which answers are judged; one more makes them firm."""
LONGER = 10
"""How many times the nodes tell whether the better ways stay ahead."""
ASKED = 3
"""Moves that fail of which the replies are looked for."""


def prove(
    fen: str,
    source: Source | None = None,
    *,
    reach: int = REACH,
    values: str = "classical",
    rank_nodes: int = core.RANK_NODES,
) -> Proved:
    """`fen` with its survey to `reach` and what is firm of it.

    Raises PositionError where the FEN cannot stand on a board.
    """
    survey = core.survey(fen, reach=reach, firm=True, values=values, rank_nodes=rank_nodes)
    return proved(survey, source, rank_nodes=rank_nodes)


def proved(
    survey: Survey, source: Source | None = None, *, rank_nodes: int = core.RANK_NODES
) -> Proved:
    """The position of a firm survey, ranked by so many nodes, with what else is firm of it."""
    deeper = core.unsafe_units(survey["fen"], reach=survey["reach"] + 1, values=survey["values"])
    settled: dict[str, tuple[str, ...]] = {}
    unsettled: dict[str, tuple[str, ...]] = {}
    for move in natural_failures(survey):
        wins, perhaps = _replies(survey, move)
        if wins:
            settled[move["uci"]], unsettled[move["uci"]] = wins, perhaps
    firm_units = unsafe_squares(survey) == frozenset(deeper)
    firm_better = _stay_ahead(survey, rank_nodes)
    return Proved(survey, firm_units, settled, source or Source(), unsettled, firm_better)


def _stay_ahead(survey: Survey, rank_nodes: int) -> bool:
    """Whether the better ways are ahead one move deeper too, and by a longer look at each."""
    better = better_ways(survey)
    if not better:
        return False
    deeper = core.survey(
        survey["fen"],
        reach=survey["reach"] + 1,
        values=survey["values"],
        rank_nodes=LONGER * rank_nodes,
    )
    return are_ahead(deeper, better)


def unsafe_squares(survey: Survey) -> frozenset[str]:
    """The squares of the units that are unsafe, alone or together."""
    return frozenset(unit["square"] for unit in survey["units"] if is_unsafe(unit))


def natural_failures(survey: Survey) -> list[MoveVerdict]:
    """The first natural tries that firmly fall, those that lose least first: worth a "why"."""
    falling = [move for move in survey["moves"] if not move["holds"]]
    natural = [move for move in falling if move["natural"] and move["firm"] and move["line"]]
    return sorted(natural, key=lambda move: (loss(move), move["san"]))[:ASKED]


def _replies(survey: Survey, move: MoveVerdict) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The opponent's moves that win something after a move that falls, best first, and unsettled.

    The reply is the first of the opponent's moves that were searched, so one fewer is left. What
    wins with that many and with one more is firm; what wins with one of the two is unsettled.
    Nothing where the opponent has hardly any choice, so that the question would answer itself.
    """
    wins: list[dict[str, int]] = []
    for reach in (max(survey["reach"] - 1, 1), survey["reach"]):
        after = core.survey(
            survey["fen"], moves=[move["uci"]], reach=reach, values=survey["values"]
        )
        nets = {reply["uci"]: -loss(reply) for reply in after["moves"]}
        wins.append({uci: net for uci, net in nets.items() if net >= THRESHOLD})
        if len(after["moves"]) < CHOICE:
            return (), ()
    first, second = wins
    firm = sorted(first.keys() & second.keys(), key=lambda uci: (-second[uci], uci))
    return tuple(firm), tuple(sorted(first.keys() ^ second.keys()))


CHOICE = 3
"""Fewer moves than this leave no question."""

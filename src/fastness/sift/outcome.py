"""When a look is an occasion, and what came of it. Numbers are centipawns."""

import math
from typing import Literal

from fastness.core.shapes import Danger, Look, Net

THRESHOLD = 50
"""Half a pawn, in centipawns: what must be won for a danger, lost for a move that falls."""

Outcome = Literal[
    "held", "offered", "lessened", "let fall", "saved most", "exposed", "seized", "let off"
]


def number(value: Net | Danger) -> float:
    """A net or a danger as a number: a mate for the side it is seen from is above every other."""
    if isinstance(value, int):
        return value
    return -math.inf if value == "mated" else math.inf


def gap(more: Net | Danger, less: Net | Danger) -> float:
    """How much more the first is than the second; two mates of one kind are equal."""
    return 0.0 if more == less else number(more) - number(less)


def in_danger(look: Look) -> bool:
    """Whether a pass would have lost something; in check there is no pass, and no danger."""
    danger = look["danger"]
    return not look["in_check"] and danger is not None and number(danger) >= THRESHOLD


def only_owed(look: Look) -> bool:
    """Whether all the danger is what the run of captures has cost already.

    In check the danger is not known; there a debt of the threshold counts as all there is.
    """
    danger = look["danger"]
    if look["in_check"] or danger is None:
        return look["owed"] >= THRESHOLD
    return number(danger) - look["owed"] < THRESHOLD


def holding(look: Look) -> int:
    """How many moves hold; every legal one where there is nothing to see."""
    return look["legal"] if look["holding"] is None else look["holding"]


def played_net(look: Look) -> Net:
    """The net of the move played, which is there wherever the look has a survey."""
    net = look["played"]["net"]
    if net is None:
        raise ValueError(f"no net of the move played at ply {look['ply']}")
    return net


def is_danger(look: Look) -> bool:
    """Whether the look is an occasion of danger."""
    if look["in_check"]:
        return 0 < holding(look) < look["legal"]
    if in_danger(look):
        # Nothing can be done about what was lost, and counted, before.
        return holding(look) > 0 or not only_owed(look)
    return not look["played"]["holds"] and holding(look) > 0


def is_taking(look: Look) -> bool:
    """Whether the look is an occasion of taking: something could be won beyond what is owed.

    What a run of captures has won already is in every net, so a unit must be there to be won too.
    """
    best = look["best_net"]
    return best is not None and number(best) >= look["owed"] + THRESHOLD


def is_recapture(look: Look) -> bool:
    """Whether the move only took back what was owed; such a move is kept out of every rate."""
    return only_owed(look) and look["played"]["retakes"] and look["played"]["holds"]


def is_exposed(look: Look) -> bool:
    """Whether the move itself made the danger."""
    played = look["played"]
    return not (look["in_check"] or in_danger(look) or played["holds"]) and holding(look) > 0


def danger_outcome(look: Look) -> Outcome:
    """What came of an occasion of danger: the first that fits.

    Where nothing held, the move that loses least is forced: nothing was offered by it.
    """
    if look["played"]["holds"]:
        return "held"
    if not holding(look) and loses_least(look):
        return "saved most"
    if look["offered"]:
        return "offered"
    if is_exposed(look):
        return "exposed"
    danger, loses = look["danger"], -number(played_net(look))
    if holding(look) and danger is not None and math.inf > loses <= number(danger) - THRESHOLD:
        return "lessened"
    return "let fall"


def loses_least(look: Look) -> bool:
    """Whether the move played is within the threshold of the best net."""
    best = look["best_net"]
    return best is None or gap(best, played_net(look)) < THRESHOLD


def seizes(net: Net, best: Net) -> bool:
    """Whether a move of this net wins what could be won."""
    return gap(best, net) < THRESHOLD


def taking_outcome(look: Look) -> Outcome:
    """What came of an occasion of taking."""
    best = look["best_net"]
    won = best is not None and seizes(played_net(look), best)
    return "seized" if won else "let off"

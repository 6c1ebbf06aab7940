"""The best remedy of a position: what a twin must turn."""

from __future__ import annotations

from dataclasses import dataclass

from fastness.core.shapes import Net, Survey, Way
from fastness.errors import TwinError
from fastness.survey.danger import endangers, has_danger
from fastness.survey.tries import in_danger

_MATE = 1_000_000


@dataclass(frozen=True, slots=True)
class Remedy:
    """The answer of a first position.

    `lead` is the move asked about and `way` how it works; `leading` are all moves of the first
    rank, the lead among them. `unsafe` are the squares of what is in danger, `takings` of what
    the side to move can take. `reach` is the smallest one at which the danger is seen.
    """

    fen: str
    lead: str
    way: Way
    leading: tuple[str, ...]
    unsafe: frozenset[str]
    takings: frozenset[str]
    reach: int


def remedy_of(survey: Survey) -> Remedy:
    """The best remedy of a position, from its firm and ranked survey.

    Raises TwinError where nothing is in danger, no move keeps it, every move does, the answer
    depends on a trade in progress, or the best remedy is not firm.
    """
    holding = [move for move in survey["moves"] if move["holds"]]
    if survey["owed"]:
        raise TwinError(
            "This position is in the middle of a trade, and a twin has no moves before it. Give"
            " the position after the trade."
        )
    if not wants_answer(survey):
        raise TwinError(
            "Nothing is in danger here, or no move keeps it, or every move does: there is no"
            " remedy to turn. Give a position in which something could be won, some moves keep it"
            " and others do not."
        )
    leading = [move for move in holding if move["rank"] == 1]
    firm = [move for move in leading if move["firm"]]
    if not firm:
        names = ", ".join(move["san"] for move in leading)
        raise TwinError(
            f"The best remedy ({names}) does not hold one move deeper, so nothing certain can be"
            " said of a twin. Give another position."
        )
    lead = next((move for move in firm if move["uci"] == survey["best"]), firm[0])
    return Remedy(
        survey["fen"],
        lead["uci"],
        lead["ways"][0] if lead["ways"] else "other",
        tuple(move["uci"] for move in leading),
        endangered_squares(survey),
        taking_squares(survey),
        _seen_at(survey),
    )


def wants_answer(survey: Survey) -> bool:
    """Whether there is danger or a check, and some moves keep the material and others do not."""
    threatened = survey["in_check"] or has_danger(survey)
    return threatened and len({move["holds"] for move in survey["moves"]}) == 2


def endangered_squares(survey: Survey) -> frozenset[str]:
    """The squares of the units in danger, that of a king in check included."""
    return frozenset(unit["square"] for unit in in_danger(survey))


def taking_squares(survey: Survey) -> frozenset[str]:
    """The squares of the units that the side to move can win."""
    return frozenset(unit["square"] for unit in survey["takings"])


def _seen_at(survey: Survey) -> int:
    danger = survey["danger"] or []
    return next((reach for reach, seen in enumerate(danger, 1) if endangers(seen)), 1)


def in_centipawns(net: Net) -> int:
    """A net as a number; a mate is beyond any material."""
    if isinstance(net, int):
        return net
    return _MATE if net == "mates" else -_MATE

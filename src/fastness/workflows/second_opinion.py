"""A second opinion: what another program would play, compared with the survey.

Three comparisons, each fair to both: `docs/second-opinion.md` says why these and no others.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey
from fastness.errors import AnalyserError
from fastness.intake import Problem
from fastness.workflows.analyser import Analyser, Opinion
from fastness.workflows.twinning_many import Place

REACH = 3
"""Opponent moves that the survey looks ahead; it checks one more."""
MARGIN = 100
"""Centipawns by which an analyser has to prefer its move to the survey's better way."""
_MATE = 1_000_000

Kind = Literal["falls", "worth less", "mate"]


class Disagreement(NamedTuple):
    """Something on which the two cannot both be right.

    `falls`: the analyser's move loses material by the survey, while others hold. `worth less`: the
    analyser takes the survey's better way to be worse than its own move by the margin. `mate`: the
    analyser announces a mate within the survey's reach that the survey does not find.
    """

    kind: Kind
    move: str


@dataclass(frozen=True, slots=True)
class Compared:
    """One position and what both say.

    `better` is the survey's first better way that is firm (UCI), None where there is none;
    `of_better` is the analyser's opinion of it alone. Where the analyser failed, `trouble` says
    how, and what it said before that still stands.
    """

    place: Place
    survey: Survey
    better: str | None
    opinion: Opinion | None = None
    of_better: Opinion | None = None
    disagreements: tuple[Disagreement, ...] = ()
    trouble: AnalyserError | None = None


def second_opinions(
    places: Iterable[Place | Problem],
    analyser: Analyser,
    *,
    values: str = "classical",
    margin: int = MARGIN,
) -> Iterator[Compared | Problem]:
    """What the analyser says of each place beside the survey, in order.

    What is wrong with the input is passed on where it stood. Once the analyser is given up, the
    places left are not looked at, and nothing more is yielded.
    """
    for place in places:
        if isinstance(place, Problem):
            yield place
            continue
        survey = core.survey(
            place.fen, reach=REACH, firm=True, values=values, rank_nodes=core.RANK_NODES
        )
        if survey["moves"]:
            yield _compared(place, survey, analyser, margin)
        if analyser.given_up:
            return


def _compared(place: Place, survey: Survey, analyser: Analyser, margin: int) -> Compared:
    better = _better(survey)
    opinion = of_better = None
    trouble = None
    try:
        opinion = analyser.ask(place.fen)
        if better and better != opinion.move:
            of_better = analyser.ask(place.fen, only=better)
    except AnalyserError as error:
        trouble = error
    found = tuple(_disagreements(survey, better, opinion, of_better, margin))
    return Compared(place, survey, better, opinion, of_better, found, trouble)


def _better(survey: Survey) -> str | None:
    better = [
        (move["rank"] or 0, move["uci"])
        for move in survey["moves"]
        if move["advised"] and move["firm"]
    ]
    return min(better)[1] if better else None


def _disagreements(
    survey: Survey,
    better: str | None,
    opinion: Opinion | None,
    of_better: Opinion | None,
    margin: int,
) -> Iterator[Disagreement]:
    if opinion is None:
        return
    verdict = verdict_of(survey, opinion.move)
    something_holds = any(move["holds"] and move["firm"] for move in survey["moves"])
    if something_holds and not verdict["holds"] and verdict["firm"]:
        yield Disagreement("falls", opinion.move)
    if better and of_better and _points(opinion) - _points(of_better) >= margin:
        yield Disagreement("worth less", better)
    if opinion.mate is not None and _mate_unseen(survey, verdict, opinion.mate):
        yield Disagreement("mate", opinion.move)


def _mate_unseen(survey: Survey, verdict: MoveVerdict, mate: int) -> bool:
    """Whether a mate in so many moves lies within the reach and the survey does not find it.

    To the reach, a move and as many of the opponent's are searched in full: a mate by the mover in
    that many moves, or by the opponent in that many replies, cannot be missed.
    """
    if abs(mate) > survey["reach"] or mate == 0:
        return False
    if mate > 0:
        return verdict["net"] != "mates"
    return any(move["net"] != "mated" for move in survey["moves"])


def _points(opinion: Opinion) -> int:
    """A score as a number, mates beyond every count of centipawns, the nearer the further."""
    if opinion.mate is None:
        return opinion.centipawns or 0
    return _MATE - opinion.mate if opinion.mate > 0 else -_MATE - opinion.mate


def verdict_of(survey: Survey, uci: str) -> MoveVerdict:
    """The survey's verdict on a legal move."""
    return next(move for move in survey["moves"] if move["uci"] == uci)

"""What a survey claims of the legal moves: which hold, at what price, which fall and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fastness.core.shapes import Deeper, MoveVerdict, Survey, Way
from fastness.survey.aims import aims, guarded_by
from fastness.survey.at_stake import staked_by_answer
from fastness.survey.carried_out import answers_as_proved, if_carried_out
from fastness.survey.claim import (
    AllHolding,
    AtAPrice,
    BestMove,
    Better,
    CheckedDeeper,
    Claim,
    Falls,
    FallsDeeper,
    Gain,
    Holds,
    IfCarriedOut,
    IfCheckMet,
    IfOtherTaken,
    IfTaken,
    Loss,
    NotFirm,
    OnlyMove,
    Price,
    TakingMove,
    Zugzwang,
)
from fastness.survey.in_vain import tried_in_vain
from fastness.survey.least_lost import least_lost
from fastness.survey.mates_instead import mates_instead
from fastness.survey.replied import if_replied, refuting
from fastness.survey.retaken import if_check_met, if_other_taken, if_taken, seems_lost
from fastness.survey.tries import Try, loss, natural_tries
from fastness.survey.words import THRESHOLD

EXPLAINED = 5
"""Better ways of which it is always told what they have ready for the threat, and for taking."""

THREATS = 3
"""Threats for which it is told what such a better way has ready."""


def claims_on_moves(survey: Survey, *, danger: bool, order: Sequence[Way]) -> Iterator[Claim]:
    """The claims on all legal moves; `danger`: whether there is any at the full reach."""
    holding = sorted(
        (move for move in survey["moves"] if move["holds"]),
        key=lambda move: (loss(move), move["san"]),
    )
    yield from (_holds(survey, move) for move in holding)
    yield AllHolding(_uci(holding), len(survey["moves"]))
    if not holding:
        yield from least_lost(survey)
        if not danger and not survey["in_check"]:
            yield Zugzwang()
    elif len(holding) == 1 < len(survey["moves"]):
        yield OnlyMove(holding[0]["uci"])
    tries, rest = natural_tries(survey)
    if survey.get("ranked"):
        yield from _ranking(survey, holding, order, refuting(tries))
    yield from _falling(survey, tries, rest)
    for move in holding:
        if move["net"] == "mates" or (isinstance(move["net"], int) and move["net"] >= THRESHOLD):
            yield TakingMove(move["uci"], _gain(move))
    yield from _firmness(survey)


def _uci(moves: Sequence[MoveVerdict]) -> tuple[str, ...]:
    return tuple(move["uci"] for move in moves)


def _gain(move: MoveVerdict) -> Gain:
    return "mates" if move["net"] == "mates" else -loss(move)


def _loses(move: MoveVerdict | Deeper) -> Loss:
    return "mate" if move["net"] == "mated" else loss(move)


def _holds(survey: Survey, move: MoveVerdict) -> Holds:
    line = tuple(move["line"]) if move["line"] else None
    evaluation, answer = move.get("evaluation"), move.get("answer")
    return Holds(
        move["uci"],
        _gain(move),
        evaluation if isinstance(evaluation, int) else None,
        tuple(move["ways"]),
        move["wins_back"],
        tuple(move["blocks"] or ()),
        line,
        tuple(answer) if answer else None,
        tuple(move.get("likely") or ()),
        aims(survey, move),
        guarded_by(survey, move) if move["ways"][:1] == ["move"] else (),
    )


def _ranking(
    survey: Survey,
    holding: Sequence[MoveVerdict],
    order: Sequence[Way],
    replies: Sequence[str],
) -> Iterator[Claim]:
    """The better ways and the others; nothing where some holding move has no rank.

    `replies` refute natural tries.
    """
    ranks = [move.get("rank") for move in holding]
    if not holding or None in ranks:
        return
    # The teacher's order of ways settles ties, then the survey's own.
    place_of = {move["uci"]: place for place, move in enumerate(survey["moves"])}
    ranked = sorted(
        holding,
        key=lambda move: (
            move.get("rank") or 0,
            order.index(next(iter(move["ways"]), "other")),
            place_of[move["uci"]],
        ),
    )
    better = [move for move in ranked if move.get("advised")]
    yield Better(_uci(better), tuple(move.get("rank") or 0 for move in better))
    for move in better[:EXPLAINED]:
        yield from _answers(survey, move, replies)
    for move in ranked:
        if move in better[:EXPLAINED]:
            continue
        if seems_lost(survey, move):
            yield from if_taken(survey, move)
        if answers_as_proved(survey, move):
            yield from if_carried_out(survey, move)
    yield AtAPrice(_uci([move for move in ranked if not move.get("advised")]))
    best = survey.get("best")
    if best:
        yield BestMove(best)
    for move in ranked:
        yield from _prices(move)


def _answers(survey: Survey, move: MoveVerdict, replies: Sequence[str]) -> Iterator[Claim]:
    """What a better way has ready: for taking, for the threats, and for what refutes others."""
    answers: list[IfTaken | IfOtherTaken | IfCheckMet | IfCarriedOut] = [
        *if_taken(survey, move),
        *if_other_taken(survey, move),
        *if_check_met(survey, move),
        *if_carried_out(survey, move, most=THREATS),
    ]
    yield from answers
    told = [one.line[1] for one in answers] + list(move.get("answer") or ())[1:2]
    yield from if_replied(survey, move, replies, told)


def _prices(move: MoveVerdict) -> Iterator[Price]:
    price = move.get("price")
    if not price:
        return
    for one in price["costs"]:
        yield Price(move["uci"], "cost", one["name"], one["centipawns"], tuple(one["squares"]))
    for one in price["gains"]:
        yield Price(move["uci"], "gain", one["name"], one["centipawns"], tuple(one["squares"]))


def _falling(survey: Survey, tries: Sequence[Try], rest: Sequence[MoveVerdict]) -> Iterator[Claim]:
    for one in tries:
        falls = _falls(one.move, one.kind)
        yield falls
        yield from staked_by_answer(survey, falls)
        yield from tried_in_vain(survey, falls)
        yield from mates_instead(survey, falls)
    for move in rest:
        yield _falls(move, None)


def _falls(move: MoveVerdict, tries: str | None) -> Falls:
    reason = move.get("reason")
    squares = next(
        (one["squares"] for one in move.get("reasons") or () if one["reason"] == reason), []
    )
    return Falls(
        move["uci"],
        _loses(move),
        tuple(move["line"] or ()),
        tries,
        reason,
        tuple(squares),
        tuple(move["drops"]),
        tuple(move["saves"]),
    )


def _firmness(survey: Survey) -> Iterator[Claim]:
    judged = [move for move in survey["moves"] if move["firm"] is not None]
    if not judged:
        return
    # What a player would think of comes first.
    turned = sorted(
        (move for move in judged if not move["firm"]), key=lambda move: not move.get("natural")
    )
    if turned:
        falls = _uci([move for move in turned if move["holds"]])
        holds = _uci([move for move in turned if not move["holds"]])
        yield NotFirm(survey["reach"] + 1, falls, holds)
    else:
        yield CheckedDeeper(survey["reach"] + 1)
    for move in judged:
        deeper = move["deeper"]
        if deeper and (move["holds"] or _loses(deeper) != _loses(move)):
            line = tuple(deeper["line"])
            yield FallsDeeper(move["uci"], survey["reach"] + 1, _loses(deeper), line)

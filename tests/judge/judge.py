"""The second judge: for each kind of claim, what is false in it."""

from collections.abc import Callable
from typing import Any, get_args

from fastness.survey import claim as kinds
from tests.judge import on_answers, on_least, on_moves, on_position, on_ranks, on_units, prices
from tests.judge.worth import Position

KINDS: tuple[type, ...] = get_args(kinds.Claim)
JUDGES: dict[type, Callable[[Any, Position], list[str]]] = {
    kinds.Reach: on_position.reach,
    kinds.Mated: on_position.mated,
    kinds.Stalemated: on_position.stalemated,
    kinds.InCheck: on_position.in_check,
    kinds.Owed: on_position.owed,
    kinds.InDanger: on_position.in_danger,
    kinds.NothingUnsafe: on_position.nothing_unsafe,
    kinds.Promotes: on_position.promotes,
    kinds.NoUnit: on_position.no_unit,
    kinds.Loose: on_position.loose,
    kinds.Zugzwang: on_position.zugzwang,
    kinds.PerhapsATrade: on_position.perhaps_a_trade,
    kinds.ValuesMatter: on_position.values_matter,
    kinds.Unsafe: on_units.unsafe,
    kinds.Taking: on_units.taking,
    kinds.Retaken: on_units.retaken,
    kinds.AtStake: on_units.at_stake,
    kinds.WonBack: on_units.won_back,
    kinds.SafeByTactics: on_units.safe_by_tactics,
    kinds.Cause: on_units.cause,
    kinds.Count: on_units.count,
    kinds.Holds: on_moves.holds,
    kinds.AllHolding: on_moves.all_holding,
    kinds.OnlyMove: on_moves.only_move,
    kinds.LeastLost: on_least.least_lost,
    kinds.KeepsTheRest: on_least.keeps_the_rest,
    kinds.MoreIsLost: on_least.more_is_lost,
    kinds.Falls: on_moves.falls,
    kinds.MatesInstead: on_answers.mates_instead,
    kinds.TakingMove: on_moves.taking_move,
    kinds.CheckedDeeper: on_moves.checked_deeper,
    kinds.NotFirm: on_moves.not_firm,
    kinds.FallsDeeper: on_moves.falls_deeper,
    kinds.Better: on_ranks.better,
    kinds.IfCarriedOut: on_answers.if_carried_out,
    kinds.IfCheckMet: on_answers.if_check_met,
    kinds.IfOtherTaken: on_answers.if_other_taken,
    kinds.IfReplied: on_answers.if_replied,
    kinds.IfTaken: on_answers.if_taken,
    kinds.TakesInVain: on_moves.taken_in_vain,
    kinds.AtAPrice: on_ranks.at_a_price,
    kinds.BestMove: on_ranks.best_move,
    kinds.Price: prices.price,
}


def judge(claim: kinds.Claim, position: Position) -> list[str]:
    """What is false in a claim; empty if nothing is. A kind without a judge is a fault."""
    judges = JUDGES.get(type(claim))
    if judges is None:
        return [f"nobody judges {type(claim).__name__}"]
    return [f"{claim}: {fault}" for fault in judges(claim, position)]

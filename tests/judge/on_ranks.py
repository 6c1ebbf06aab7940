"""Claims on the ranks of the moves that hold, judged: what is false in each.

The evaluation itself is not judged here; that the ranks follow from it and from the nets is.
"""

from fastness.core.shapes import MoveVerdict
from fastness.survey.claim import AtAPrice, BestMove, Better
from tests.judge.worth import Position

SHARED = 25
"""Centipawns within which moves share a rank."""
ADVISED = 50
"""Centipawns below the best of the best net within which a move is advised."""


def better(claim: Better, position: Position) -> list[str]:
    truly = {move["uci"] for move in _advised(position)}
    faults = [f"{uci} is wrong" for uci in truly ^ set(claim.moves)]
    faults += _hold(claim.moves, position)
    if list(claim.ranks) != sorted(claim.ranks) or claim.ranks[:1] != (1,):
        faults.append(f"ranks {claim.ranks}")
    for uci, rank in zip(claim.moves, claim.ranks, strict=True):
        if _verdict(uci, position)["rank"] != rank or rank != _rank(uci, position):
            faults.append(f"{uci} has rank {_rank(uci, position)}")
    return faults


def at_a_price(claim: AtAPrice, position: Position) -> list[str]:
    advised = {move["uci"] for move in _advised(position)}
    holding = {uci for uci in position.legal() if position.holds(uci, position.reach)}
    return [f"{uci} is wrong" for uci in (holding - advised) ^ set(claim.moves)]


def best_move(claim: BestMove, position: Position) -> list[str]:
    first = [uci for uci in _evaluated(position) if _rank(uci, position) == 1]
    faults = _hold((claim.move,), position)
    return faults + ([] if first == [claim.move] else [f"the first are {first}"])


def _hold(moves: tuple[str, ...], position: Position) -> list[str]:
    return [f"{uci} falls" for uci in moves if not position.holds(uci, position.reach)]


def _verdict(uci: str, position: Position) -> MoveVerdict:
    return next(move for move in position.survey["moves"] if move["uci"] == uci)


def _evaluated(position: Position) -> dict[str, int]:
    """The evaluation of each move that holds, a mate beyond any other."""
    found = {}
    for move in position.survey["moves"]:
        worth = move["evaluation"]
        if worth is not None:
            found[move["uci"]] = worth if isinstance(worth, int) else _mate(worth)
    return found


def _mate(word: str) -> int:
    return 100_000 if word == "mates" else -100_000


def _of_best_net(position: Position) -> dict[str, int]:
    nets = {uci: position.net(uci, position.reach) for uci in _evaluated(position)}
    worth = _evaluated(position)
    return {uci: worth[uci] for uci, net in nets.items() if net == max(nets.values())}


def _advised(position: Position) -> list[MoveVerdict]:
    """By the definition: of the best net, and within half a pawn of the best by evaluation."""
    equal = _of_best_net(position)
    least = max(equal.values(), default=0) - ADVISED
    return [_verdict(uci, position) for uci, worth in equal.items() if worth >= least]


def _rank(uci: str, position: Position) -> int:
    """One more than the moves before the first of its rank: net first, then the evaluation."""
    worth = _evaluated(position)
    order = sorted(worth, key=lambda one: (-position.net(one, position.reach), -worth[one]))
    first, rank = order[0], 1
    for place, one in enumerate(order, 1):
        same = position.net(one, position.reach) == position.net(first, position.reach)
        if not same or worth[first] - worth[one] > SHARED:
            first, rank = one, place
        if one == uci:
            return rank
    raise AssertionError(f"{uci} has no evaluation")

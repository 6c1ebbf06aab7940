"""What keeps the material, in plain sentences for a student."""

from __future__ import annotations

from collections.abc import Sequence

import chess

from fastness.survey.claim import (
    AllHolding,
    Better,
    FallsDeeper,
    Holds,
    Squares,
)
from fastness.survey.findings import Findings
from fastness.survey.guarding import (
    guarded_by_itself,
    guarded_through,
    landing_guarded,
    opened_guard,
)
from fastness.survey.kept_words import KEEPS, Works
from fastness.survey.nouns import Noun, listed, on_squares
from fastness.survey.readiness import promotes_next
from fastness.survey.shown_lines import is_taken_later, no_longer_possible
from fastness.survey.student_ready import ready, ready_for, ready_in_the_end, trades
from fastness.survey.ways import (
    OTHER,
    aim_of,
    guarded_from_there,
    is_check,
    left_to_fall,
    only_owes,
    opened_attack,
    pins,
    stands_between,
    telling_ways,
    threatens_mate,
)
from fastness.survey.words import THRESHOLD, WAYS, worth

NAMED = 3
"""Moves named as ways to keep it safe."""


def kept_by(found: Findings, *, brief: bool = False) -> list[str]:
    """The first of the better ways, or of all that hold, that work in the same way.

    `brief`: without what a move that wins something has ready.
    """
    holding = found.of(Holds)
    ranked = _ranked(found)
    same = kept_moves(found)
    legal = found.one(AllHolding)
    if legal and legal.legal == 1:
        told = [found.language.say("You have one move only.")]
    elif len(holding) == 1:
        told = [found.language.say("Only one move helps.")]
    elif only_owes(found) or found.deeper(same[0]):
        told = []
    else:
        told = [found.language.say("But you need not lose anything.")]
    told.append(_works(found, ranked[0], same))
    if deeper := found.deeper(same[0]):
        told.append(_lost_later(found, deeper))
    return [*told, *_shown(found, ranked[0], same, brief=brief)]


def _lost_later(found: Findings, deeper: FallsDeeper) -> str:
    """What is lost in spite of the move, one move deeper."""
    if deeper.loses == "mate":
        return found.language.say("But later you can still be mated.")
    amount = worth(deeper.loses, found.language)
    return found.language.say("But later you can still lose {worth}.", worth=amount)


def kept_moves(found: Findings) -> list[str]:
    """The moves (UCI) that `kept_by` names."""
    ranked = _ranked(found)
    works, firm = _works_by(found, ranked[0]), _firm(found, ranked[0])
    alike = [one for one in ranked if _firm(found, one) == firm and _works_by(found, one) == works]
    moves = [one.move for one in alike][:NAMED]
    by_answer = works.way in ("wins back", "ready") and ranked[0].answer
    return moves[:1] if by_answer and not _ready_alike(found, moves) else moves


def keeps(found: Findings, one: Holds) -> list[str]:
    """That one move loses nothing, how it works, and what it wins or has ready for the threat."""
    return [_works(found, one, [one.move]), *_shown(found, one, [one.move], brief=False)]


def _ranked(found: Findings) -> list[Holds]:
    """The better ways, or all that hold by the teacher's order of ways."""
    better, holding = found.one(Better), found.of(Holds)
    if better and better.moves:
        by_move = {one.move: one for one in holding}
        return [by_move[move] for move in better.moves]
    by_way = sorted(holding, key=lambda one: WAYS.index((one.ways or OTHER)[0]))
    return sorted(by_way, key=lambda one: not _firm(found, one))


def _firm(found: Findings, one: Holds) -> bool:
    """Whether a move is not known to fall one move deeper."""
    return found.deeper(one.move) is None


def _works(found: Findings, first: Holds, moves: Sequence[str]) -> str:
    """That these moves lose nothing, and how the first of them works."""
    works, names = _works_by(found, first), listed(found.moves(moves), found.language)
    if works.way == "other" and (told := _wins_or_stops(found, first, names, len(moves))):
        return told
    one, many = KEEPS[works.way]
    you = found.board.turn
    values: dict[str, Noun | str] = {"moves": names, "square": works.square}
    if works.guard:
        values["guard"] = on_squares(found.board, [works.guard], found.language, you=you)
    if works.against:
        values["threat"] = found.last_name(works.against)
    if works.squares:
        values["units"] = on_squares(found.board, works.squares, found.language, you=you)
    return found.language.say(one if len(moves) == 1 else many, **values)


def _wins_or_stops(found: Findings, first: Holds, names: str, number: int) -> str:
    """What a move of no other way wins, or the threat that it makes impossible; else empty."""
    won = _won(first)
    if won:
        return found.language.say_many(
            "{moves} wins {worth}.",
            "{moves} win {worth}.",
            number,
            moves=names,
            worth=worth(won, found.language),
        )
    threat = no_longer_possible(found, first, you=True)
    if not threat or number > 1:
        return ""
    return found.language.say(
        "{moves} loses nothing: {threat} is not possible then.", moves=names, threat=threat
    )


def _won(one: Holds) -> int:
    """Centipawns that a move wins; 0 for what only holds or mates."""
    return one.net if one.net != "mates" and one.net >= THRESHOLD else 0


def _shown(found: Findings, one: Holds, same: Sequence[str], *, brief: bool) -> list[str]:
    """What the first move wins, or what it has ready for the threat."""
    taken = found.if_taken(one.move)
    if_taken = taken.line if taken else ()
    if _won(one):
        told = _also_wins(found, one, same)
        if brief or len(same) > 1:
            return told
        return [*told, *ready_for(found, one.answer or if_taken or one.line or ())]
    line = one.line if is_check(found, one) else one.answer
    if check_met := found.if_check_met(one.move):
        line = check_met.line
    carried_out = found.if_carried_out(one.move)
    if len(same) > 1 and not _ready_alike(found, same):
        return []
    if carried_out and carried_out.plies > 2:
        return ready_in_the_end(found, carried_out)
    if len(same) == 1 and not if_taken and trades(found, one):
        return [found.language.say("{other} can take back: an even trade.", other=found.other)]
    return ready_for(found, line or if_taken or (carried_out.line if carried_out else ()))


def _ready_alike(found: Findings, moves: Sequence[str]) -> bool:
    """Whether moves have the same ready for the same threat."""
    ready = {one.answer[1:3] if one.answer else () for one in found.of(Holds) if one.move in moves}
    return len(ready) == 1 and () not in ready


def _also_wins(found: Findings, one: Holds, same: Sequence[str]) -> list[str]:
    """What those of the moves win that win as much as the first; empty where it is told."""
    if _works_by(found, one).way == "other":
        return []
    language, amount = found.language, worth(_won(one), found.language)
    nets = {other.move: other.net for other in found.of(Holds)}
    alike = [move for move in same if nets[move] == one.net]
    if len(alike) == len(same):
        return [
            language.say_many(
                "It even wins {worth}.", "They even win {worth}.", len(same), worth=amount
            )
        ]
    told = language.say_many(
        "{moves} even wins {worth}.",
        "{moves} even win {worth}.",
        len(alike),
        moves=listed(found.moves(alike), language),
        worth=amount,
    )
    return [told]


def _works_by(found: Findings, one: Holds) -> Works:
    """How a move works by the first of its ways."""
    way = telling_ways(found, one)[0]
    aimed = aim_of(one, way)
    if way == "counterattack":
        return _hits_back(found, one, aimed)
    if way == "guard":
        return _guards(found, one, aimed)
    if way == "move":
        return _moves_away(found, one)
    if way == "other":
        return _otherwise(found, one)
    if way == "block" and stands_between(found, one):
        return Works("block line", one.blocks[1:])
    if way == "capture" and found.board.is_en_passant(chess.Move.from_uci(one.move)):
        return Works("en passant", aimed)
    return Works("other") if way == "capture" and not aimed else Works(way, aimed)


def _hits_back(found: Findings, one: Holds, aimed: Squares) -> Works:
    """What a counterattack does: it checks, promotes next, wins back, takes, attacks or pins."""
    if is_check(found, one):
        return Works("check")
    if square := promotes_next(found, one):
        return Works("promotes", square=square)
    if one.wins_back:
        return Works("other" if _won(one) else "wins back")
    if aimed == (one.move[2:4],):
        return Works("capture", aimed)
    return _attacks(one, aimed) if aimed else Works(_pin_or_mate(found, one))


def _otherwise(found: Findings, one: Holds) -> Works:
    """How a move works that has no way: in a trade, or by what it has ready for the threat."""
    if only_owes(found):
        return Works("gets back")
    return ready(found, one) if len(one.answer or ()) > 2 and not _won(one) else Works("other")


def _moves_away(found: Findings, one: Holds) -> Works:
    """What is guarded from the new square, or whether the unit is guarded or attacked there."""
    aimed = tuple(at for at in aim_of(one, "guard") if not left_to_fall(one, at))
    guarded = [*guarded_by_itself(found, one, aimed), *guarded_from_there(one)]
    if guarded:
        return Works("move and guard", tuple(guarded))
    if aimed and (opens := opened_guard(one)):
        return Works("guard opened", aimed, guard=opens)
    if not (_attacked_there(found, one) or is_taken_later(found, one)):
        return Works("move")
    if found.board.color_at(chess.parse_square(one.move[2:4])) is not None:
        return Works("capture", (one.move[2:4],))
    if one.guarded_by:
        return Works("move guarded")
    hits = aim_of(one, "counterattack")
    if hits:
        return Works("check") if is_check(found, one) else _attacks(one, hits)
    return Works("move away")


def _attacks(one: Holds, hits: Squares) -> Works:
    """What the unit that moves attacks, or the one whose line it opens."""
    opens = opened_attack(one)
    return Works("attack opened" if opens else "counterattack", hits, guard=opens)


def _pin_or_mate(found: Findings, one: Holds) -> str:
    if pins(found, one) is not None:
        return "pin"
    return "mate threat" if threatens_mate(found, one) else "other"


def _guards(found: Findings, one: Holds, aimed: Squares) -> Works:
    """The units that gain a guard, or the square that gains one against a threat."""
    if aimed and (opens := opened_guard(one)):
        return Works("guard opened", aimed, guard=opens)
    if aimed:
        return Works("guard of", aimed)
    if landing := landing_guarded(found, one):
        if len(landing.against) > 2:
            return Works("guard square", square=landing.square)
        way = "guard opened against" if landing.opened else "guard against"
        return Works(way, square=landing.square, against=landing.against)
    through = guarded_through(found, one)
    if through:
        return Works("guard through", square=through[0])
    return ready(found, one) if len(one.answer or ()) > 2 else Works("guard")


def _attacked_there(found: Findings, one: Holds) -> bool:
    """Whether a unit that moves away is attacked where it goes."""
    board = found.board.copy(stack=False)
    board.push_uci(one.move)
    return bool(board.attackers(board.turn, chess.parse_square(one.move[2:4])))

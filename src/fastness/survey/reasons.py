"""Why a move fails, in words: its main reason, with the units that take part.

The squares of a reason are told on the boards of the refutation, so that no sentence names a unit
that does not stand there; where the units are not found, the reason is told without them.
"""

from __future__ import annotations

from collections.abc import Callable

import chess

from fastness.language import marked
from fastness.survey.bigger_threat import bigger_threat
from fastness.survey.claim import Falls
from fastness.survey.findings import Findings
from fastness.survey.lines import taken_at
from fastness.survey.not_taken_back import (
    STAYS_LOST,
    STAYS_LOST_AND,
    keeps_the_debt,
    loses_more,
    not_taken_back,
)
from fastness.survey.scene import pinned_among
from fastness.survey.several_attacked import several_attacked
from fastness.survey.teller import REST, Parts, Teller
from fastness.survey.too_small import too_small
from fastness.survey.words import CENTIPAWNS, RANK, THRESHOLD

_PLAIN = {
    "allows mate": marked("it allows mate"),
    "a pawn promotes": marked("a pawn promotes"),
    "the blocker falls": marked("what is put in between is lost itself"),
    "guard pinned": marked("a guard is pinned"),
    "less valuable attacker": marked("guarding does not help, since what takes is worth less"),
    "outnumbered still": marked("it is still attacked more often than guarded"),
    "two units attacked": marked("two are attacked at once, and one is lost"),
    "walks into a capture": marked("it walks into a capture"),
    "uncovers another unit": marked("it uncovers something else"),
    "answered with a bigger threat": marked("the answer attacks something more"),
    "threat too small": marked("what it attacks in turn is not enough"),
    "does not address it": marked("it does nothing about the danger"),
    "lost further on": marked("something is taken in the end"),
}


def _promotes(tell: Teller) -> Parts | None:
    pawn, square = tell.squares or [chess.A1, chess.A1]
    if tell.after().piece_at(pawn) != chess.Piece(chess.PAWN, not tell.own):
        return None
    name = tell.name(tell.after(), pawn)
    return marked("{pawn} promotes on {square}"), {
        "pawn": name,
        "square": chess.square_name(square),
    }


def _blocker(tell: Teller) -> Parts | None:
    """What shields an empty square only, or the opponent's, is not said to stand in between."""
    if tell.squares and not tell.own_on(tell.squares[2:]):
        return _walks_into(tell) or (marked("it walks into a capture"), {})
    square = chess.parse_square(tell.falls.move[2:4])
    if any(step.takes and step.move.to_square == square for step in tell.steps[2::2]):
        # It is traded: what is lost is less than the unit.
        return _walks_into(tell) or (marked("it walks into a capture"), {})
    return marked("{unit}, put in between, is lost itself"), {
        "unit": tell.name(tell.after(), square)
    }


def _guard_pinned(tell: Teller) -> Parts | None:
    for step in tell.steps[1:]:
        found = pinned_among(step.after, tell.squares, tell.own)
        if found and not tell.seen(step.after, found):
            return None
        if found:
            slider, guard, to = (tell.name(step.after, square) for square in found)
            text = marked("the guard, {guard}, is pinned to {to} by {slider}")
            return text, {"guard": guard, "to": to, "slider": slider}
    return None


def _less_valuable(tell: Teller) -> Parts | None:
    after = tell.after()
    taker = [square for square in tell.squares if after.color_at(square) == (not tell.own)]
    unit = [square for square in tell.squares if after.color_at(square) == tell.own]
    if len(taker) != 1 or len(unit) != 1:
        return None
    text = marked("guarding does not help, since {taker} is worth less than {unit}")
    return text, {"taker": tell.name(after, taker[0]), "unit": tell.name(after, unit[0])}


def _outnumbered(tell: Teller) -> Parts | None:
    after = tell.after()
    if not tell.squares or after.color_at(tell.squares[0]) != tell.own:
        return None
    text = marked("{unit} is still attacked more often than guarded")
    at = tell.squares[0]
    if (opened := tell.opened_for(at)) is not None:
        text = marked("it opens the way for {slider} to {lost}")
        return text, {"slider": tell.name(after, opened), "lost": tell.name(after, at)}
    if len(after.attackers(not tell.own, at)) <= len(after.attackers(tell.own, at)):
        text = marked("{unit} is still attacked more often than guarded, with what stands behind")
    return text, {"unit": tell.name(after, tell.squares[0])}


def _walks_into(tell: Teller) -> Parts | None:
    moved, lost = chess.parse_square(tell.falls.move[2:4]), tell.lost()
    if lost and moved not in lost:
        # What moved was only exchanged.
        return tell.taken_later(lost[:REST])
    if _trades_badly(tell, moved):
        text = marked("the trades on {square} lose more than they win")
        return text, {"square": chess.square_name(moved)}
    for index, step in enumerate(tell.steps[1:], 1):
        if step.takes and step.move.to_square == moved and index % 2:
            taker = step.move.from_square
            text = marked("{taker} takes {unit}")
            return text, {
                "taker": tell.name(step.before, taker),
                "unit": tell.name(step.before, moved),
            }
    return None


def _trades_badly(tell: Teller, square: int) -> bool:
    """Whether what moved is taken and taken back there, and is worth more than is lost by it.

    By something worth less it is lost, whatever is taken back.
    """
    there = [step for step in tell.steps[1:] if step.takes and step.move.to_square == square]
    loses, kind = tell.falls.loses, tell.after().piece_type_at(square)
    back = any(step.before.turn == tell.own for step in there)
    if not back or _rank(there[0].before.piece_type_at(there[0].move.from_square)) < _rank(kind):
        return False
    return isinstance(loses, int) and CENTIPAWNS.get(kind or 0, 0) >= loses + THRESHOLD


def _guard_would_help(tell: Teller, square: int) -> bool:
    """Whether what takes on a square in the line is not worth less than what it takes."""
    for step in tell.steps[1:]:
        if step.takes and step.move.to_square == square and step.before.turn != tell.own:
            taker, taken = map(step.before.piece_type_at, (step.move.from_square, square))
            return _rank(taker) >= _rank(taken)
    return True


def _rank(kind: chess.PieceType | None) -> int:
    return RANK[chess.piece_name(kind or chess.PAWN)]


def _uncovers(tell: Teller) -> Parts | None:
    after, squares = tell.after(), tell.own_on(tell.squares[:1])
    if not squares:
        return None
    lost, behind = tell.name(after, squares[0]), tell.squares[-1]
    start, end = (chess.parse_square(tell.falls.move[at : at + 2]) for at in (0, 2))
    # What it bears on from its new square as well it guards still.
    before = tell.steps[0].before
    guarded = before.attacks(start) - after.attacks(end) if behind == end else chess.SquareSet()
    helps = _guard_would_help(tell, squares[0])
    if len(tell.squares) == 2 and squares[0] in guarded and helps:
        return marked("it no longer guards {lost}"), {"lost": lost}
    if len(tell.squares) == 3 and tell.squares[1] in guarded:
        if staked := tell.staked(squares[:1]):
            return staked
        square = chess.square_name(tell.squares[1])
        text = marked("it no longer guards {square}, and {lost} is taken")
        return text, {"square": square, "lost": lost}
    if len(tell.squares) == 2 and after.color_at(behind) == (not tell.own):
        text = marked("it opens the way for {slider} to {lost}")
        return text, {"slider": tell.name(after, behind), "lost": lost}
    if helps and _gets_in_the_way(tell, squares[0], behind):
        guard = tell.name(after, behind)
        return marked("it gets in the way of {guard}, a guard of {lost}"), {
            "guard": guard,
            "lost": lost,
        }
    lost_in_all = tell.in_the_end(squares)
    return tell.fall(marked("{lost} is taken"), marked("{lost} are taken"), lost_in_all)


def _gets_in_the_way(tell: Teller, lost: int, guard: int) -> bool:
    """Whether a guard bore on what is lost until the move put a unit in between."""
    before, after = tell.steps[0].before, tell.after()
    if (
        guard == lost
        or after.color_at(guard) != tell.own
        or guard not in before.attackers(tell.own, lost)
    ):
        return False
    to = chess.parse_square(tell.falls.move[2:4])
    return to in chess.SquareSet.between(guard, lost) and guard not in after.attackers(
        tell.own, lost
    )


def _unaddressed(tell: Teller) -> Parts | None:
    own = tell.own_on(tell.squares)
    if told := not_taken_back(tell):
        return told
    if not own or len(own) != len(tell.squares):
        return None
    own = tell.in_the_end(own)
    if not tell.in_danger_before(own):
        return tell.fall(marked("{lost} is taken"), marked("{lost} are taken"), own)
    return tell.fall(marked("{lost} is still taken"), marked("{lost} are still taken"), own)


def _later(tell: Teller) -> Parts | None:
    fen, rest = tell.after().fen(), tell.falls.line[1:]
    taken = {
        square: taken_at(fen, rest, chess.square_name(square))
        for square in tell.own_on(tell.squares)
    }
    own = tell.in_the_end([square for square, at in taken.items() if at is not None])
    if not own:
        return None
    if all(taken.get(square) == 0 for square in own):
        return tell.fall(marked("{lost} is taken"), marked("{lost} are taken"), own)
    return tell.taken_later(own)


_TELLERS: dict[str, Callable[[Teller], Parts | None]] = {
    "a pawn promotes": _promotes,
    "the blocker falls": _blocker,
    "guard pinned": _guard_pinned,
    "less valuable attacker": _less_valuable,
    "outnumbered still": _outnumbered,
    "two units attacked": several_attacked,
    "walks into a capture": _walks_into,
    "uncovers another unit": _uncovers,
    "answered with a bigger threat": bigger_threat,
    "threat too small": too_small,
    "does not address it": _unaddressed,
    "lost further on": _later,
}


def reason_in_words(found: Findings, falls: Falls, you: bool | None = None) -> str:
    """Why a move fails, as a clause without a full stop; empty where no reason is given.

    `you`: the side spoken to, whose units are "your". A name that is not known stays as it is.
    """
    text, values = _reason(found, falls, you)
    told = found.language.say(text, **values) if text else ""
    if not keeps_the_debt(found, falls):
        return told
    if not told or not loses_more(found, falls):
        return found.language.say(STAYS_LOST)
    return found.language.say(STAYS_LOST_AND, reason=told)


def is_of_the_answer(found: Findings, falls: Falls, you: bool) -> bool:
    """Whether the reason, told to a player, speaks of the opponent's answer: ``that attacks``."""
    of_the_answer = _reason(found, falls, you)[0].startswith(("that ", "after that "))
    return of_the_answer and not keeps_the_debt(found, falls)


def _reason(found: Findings, falls: Falls, you: bool | None) -> Parts:
    if falls.reason is None:
        return "", {}
    teller = _TELLERS.get(falls.reason)
    told = teller(Teller(found, falls, you)) if teller and falls.line else None
    return told or (_PLAIN.get(falls.reason, falls.reason), {})

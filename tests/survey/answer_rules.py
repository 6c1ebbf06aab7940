"""Holds what a refutation is said to do with its first move, the answer."""

import chess

from fastness import core
from tests.survey.claims import Line, fall, taken_on, units_named


def check_first(line: Line, move: str, lost: str) -> bool:
    return move.endswith(line.sans[1]) and line.boards[2].is_check() and fall(line, lost)


def attacks(line: Line, move: str, units: str, lost: str | None = None) -> bool:
    after = line.boards[2]
    attacked = [bool(after.attackers(not after.turn, at)) for at in units_named(after, units)]
    named = move.endswith(line.sans[1]) and all(attacked)
    return named and (lost is None or fall(line, lost))


def takes_guard(line: Line, move: str, units: str, lost: str | None = None) -> bool:
    """The answer takes what guarded units that are attacked still."""
    before, answer = line.boards[1], line.moves[1]
    guarded = [
        answer.to_square in before.attackers(not before.turn, at)
        for at in units_named(before, units)
    ]
    return all(guarded) and attacks(line, move, units, lost)


def threatens_too(line: Line, move: str, units: str, lost: str) -> bool:
    """After the quiet answer these units can be won, and others are lost in the end."""
    after = line.boards[2]
    unsafe = core.unsafe_units(after.fen(), reach=2)
    named = [chess.square_name(at) for at in units_named(after, units)]
    return move.endswith(line.sans[1]) and set(named) <= set(unsafe) and fall(line, lost)


def draws_away(line: Line, move: str, unit: str, lost: str) -> bool:
    """The unit that moved leaves again, taking back or out of check, before what is lost falls."""
    answered, at = line.boards[2], line.moves[0].to_square
    back = line.moves[2]
    forced = answered.is_check() or (
        answered.is_capture(back) and back.to_square == line.moves[1].to_square
    )
    named = move.endswith(line.sans[1]) and units_named(answered, unit) == [at]
    return named and forced and back.from_square == at and fall(line, lost)


def takes_at_once(line: Line, move: str, lost: str) -> bool:
    after, answer = line.boards[1], line.moves[1]
    at = units_named(after, lost)[0]
    named = move.endswith(line.sans[1])
    return named and after.is_capture(answer) and taken_on(after, answer) == at


def takes_with_check(line: Line, move: str, lost: str) -> bool:
    return takes_at_once(line, move, lost) and line.boards[2].is_check()


def takes_and_attacks(line: Line, move: str, lost: str, units: str) -> bool:
    return takes_at_once(line, move, lost) and attacks(line, move, units)

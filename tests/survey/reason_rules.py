"""Holds why a move is said to fail against its refutation."""

import re
from collections.abc import Callable

import chess

from tests.survey.claims import Line, falls_in, taken_on, units_named
from tests.survey.mechanism_rules import MOVE, ONE, SOME, in_line, standing


def reason_holds(line: Line, told: str) -> None:
    """Raises AssertionError if the reason `told` is not what the boards of the line show."""
    for pattern, check in _RULES:
        found = re.fullmatch(pattern, told)
        if found:
            assert check(line, *found.groups()), told
            return
    raise AssertionError(f"nobody examines: {told}")


def mated(line: Line) -> bool:
    return line.end.is_checkmate()


def plain(line: Line) -> bool:
    """A reason told without its units asserts no more than its line, which is read elsewhere."""
    return bool(line.moves)


def blocker(line: Line, unit: str) -> bool:
    at = units_named(line.boards[1], unit)[0]
    return at == line.moves[0].to_square and taken(line, at)


def taken(line: Line, square: int) -> bool:
    return any(
        move and board.is_capture(move) and taken_on(board, move) == square
        for board, move in zip(line.boards[1:], line.moves[1:], strict=False)
    )


def pinned(line: Line, guard: str, to: str, slider: str) -> bool:
    boards = [(b, standing(b, f"{slider} {guard} {to}")) for b in line.boards]
    return any(found is not None and in_line(board, found) for board, found in boards)


def worth_less(line: Line, taker: str, unit: str) -> bool:
    after = line.boards[1]
    kinds = [after.piece_type_at(units_named(after, name)[0]) or 0 for name in (taker, unit)]
    # A bishop and a knight are worth about the same.
    ranks = [2 if kind == chess.BISHOP else kind for kind in kinds]
    return ranks[0] < ranks[1] and taken(line, units_named(after, unit)[0])


def outnumbered(line: Line, unit: str) -> bool:
    after = line.boards[1]
    at = units_named(after, unit)[0]
    return bool(after.attackers(after.turn, at)) and taken(line, at)


def both_attacked(line: Line, lost: str, rest: str) -> bool:
    for board in line.boards[1:]:
        squares = standing(board, f"{lost} and {rest}")
        if squares is not None:
            sides = {board.color_at(square) for square in squares}
            own = line.boards[0].turn
            if sides == {own} and all(board.attackers(not own, square) for square in squares):
                return True
    return False


def saved_and_lost(line: Line, saved: str, lost: str) -> bool:
    after = line.boards[1]
    at = units_named(after, lost)[0]
    later = Line(line.sans[1:], line.moves[1:], line.boards[1:])
    return as_before(line, saved) and falls_in(later, at)


def takes(line: Line, taker: str, unit: str) -> bool:
    to = line.moves[0].to_square
    for before, move in zip(line.boards[1:], line.moves[1:], strict=False):
        if move.to_square == to and before.is_capture(move):
            squares = standing(before, f"{taker} {unit}")
            return squares == [move.from_square, to]
    return False


def uncovered(line: Line, unit: str) -> bool:
    after = line.boards[1]
    at = units_named(after, unit)[0]
    return after.color_at(at) == line.boards[0].turn and at != line.moves[0].to_square


def bigger(line: Line, move: str, units: str) -> bool:
    after = line.boards[2]
    attacked = [bool(after.attackers(not after.turn, at)) for at in units_named(after, units)]
    return move.endswith(line.sans[1]) and all(attacked)


def lost_later(line: Line, units: str) -> bool:
    later = Line(line.sans[1:], line.moves[1:], line.boards[1:])
    lost = [falls_in(later, at) for at in units_named(line.boards[1], units)]
    return as_before(line, units) and any(lost)


def not_taken_back(line: Line, square: str) -> bool:
    return line.moves[0].to_square != chess.parse_square(square)


def as_before(line: Line, units: str) -> bool:
    after = line.boards[1]
    return all(after.color_at(at) == line.boards[0].turn for at in units_named(after, units))


_RULES: list[tuple[str, Callable[..., bool]]] = [
    (r"it allows mate", mated),
    (rf"({ONE}), put in between, is lost itself", blocker),
    (rf"the guard, ({ONE}), is pinned to ({ONE}) by ({ONE})", pinned),
    (rf"guarding does not help, since ({ONE}) is worth less than ({ONE})", worth_less),
    (rf"({ONE}) is still attacked more often than guarded", outnumbered),
    (rf"({ONE}) is attacked at the same time as ({SOME}), and falls", both_attacked),
    (rf"it saves ({SOME}), but ({ONE}) falls", saved_and_lost),
    (rf"({ONE}) takes ({ONE})", takes),
    (rf"it uncovers ({ONE})", uncovered),
    (rf"({MOVE}) is a bigger threat, against ({SOME})", bigger),
    (rf"({SOME}) (?:is|are) in danger as before", as_before),
    (rf"({SOME}) (?:is|are) lost further on", lost_later),
    (r"it does not take back on (\w\d)", not_taken_back),
    (
        r"two are attacked at once, and one is lost|it walks into a capture|a guard is pinned"
        r"|its own threat is too small|the answer is a bigger threat|it uncovers something else"
        r"|it does nothing about the danger|something is lost further on"
        r"|it is still attacked more often than guarded",
        plain,
    ),
]

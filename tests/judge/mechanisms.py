"""The mechanisms of docs/mechanisms.md that are named from attackers, guards and pins.

Each yields the sets of squares that can take part, by what must be so for the name to apply.
"""

from collections.abc import Iterator

import chess
from chess import KING

from tests.judge.board import (
    PRICELESS,
    THRESHOLD,
    Lined,
    bears,
    best_exchange,
    could_leave,
    exchange,
    lined_up,
    pinned,
    slides,
    taken_on,
    through,
    worth_on,
)
from tests.judge.case import Case, known_as


def unguarded(case: Case) -> Iterator[set[int]]:
    """Taken where it stands, or attacked there and taken where it then goes."""
    if case.capture is None or bears(case.start, case.owner, case.unit):
        return
    attacked = any(bears(board, case.attacker, case.unit) for board, _ in case.early())
    if case.stays or attacked:
        yield {case.unit}


def less_valuable_attacker(case: Case) -> Iterator[set[int]]:
    step = case.capture
    if step is None:
        return
    if worth_on(step.before, step.move.from_square) < case.worth():
        yield known_as({step.move.from_square, case.unit}, step.homes)


def outnumbered(case: Case) -> Iterator[set[int]]:
    """When it is taken where it stands; or before, where it moves and is taken elsewhere."""
    if case.capture is None:
        return
    taken = [(case.capture.before, case.capture.homes)] if case.stays else []
    for board, homes in [*case.early(), *taken]:
        guards = through(board, case.owner, case.unit)
        attackers = through(board, case.attacker, case.unit)
        free = {guard for guard in guards if not board.is_pinned(case.owner, guard)}
        gains = best_exchange(board, case.unit, case.attacker) >= THRESHOLD
        if guards and gains and len(attackers) > len(free):
            yield known_as({case.unit} | attackers | guards, homes)


def pinned_guard(case: Case) -> Iterator[set[int]]:
    step = case.capture
    if step is None:
        return
    board, at = step.after, step.move.to_square
    for one in lined_up(board, case.attacker):
        retake = chess.Move(one.front, at)
        if one.front in bears(board, case.owner, at) and _held(case, board, retake, one):
            yield known_as({one.slider, one.front, one.back, case.unit, at}, step.later())


def _held(case: Case, board: chess.Board, retake: chess.Move, pin: Lined) -> bool:
    """Whether a guard may not retake; or does not, since what is behind it would then fall."""
    if board.piece_type_at(pin.back) == KING:
        if not board.is_pseudo_legal(retake):
            return False
        retaken = board.copy(stack=False)
        retaken.push(retake)
        # Whoever stands behind the slider on its line pins as well.
        checkers = set(retaken.attackers(case.attacker, pin.back))
        return bool(checkers) and checkers <= set(chess.SquareSet.ray(pin.back, pin.front))
    if retake in (step.move for step in case.line.steps if step.side == case.owner):
        return False
    dearer = worth_on(board, pin.back) >= worth_on(board, retake.to_square)
    if not dearer or retake not in board.legal_moves:
        return False
    retaken = board.copy(stack=False)
    retaken.push(retake)
    taking = chess.Move(pin.slider, pin.back)
    return retaken.is_legal(taking) and exchange(retaken, pin.back, taking) >= THRESHOLD


def overloaded_guard(case: Case) -> Iterator[set[int]]:
    """A guard of where the unit falls that bears on a second square, which the attacker comes to
    once the guard is gone."""
    if case.capture is None:
        yield from drawn_off(case)
        return
    at = case.capture.taken
    assert at is not None
    after = (case.capture.after, case.capture.homes)
    for board, homes in [*case.boards(), after]:
        for guard in bears(board, case.owner, at) | bears(board, case.owner, case.unit):
            without = board.copy(stack=False)
            without.remove_piece_at(guard)
            for second in board.attacks(guard) - chess.SquareSet.from_square(at):
                if can_reach(without, case.attacker, second):
                    yield known_as({guard, second, case.unit, at}, homes)


def drawn_off(case: Case) -> Iterator[set[int]]:
    """For a king that is mated: a unit of its side that is drawn off by what it takes."""
    for step in case.line.steps:
        if step.side == case.owner and step.taken is not None:
            yield known_as({step.move.from_square, step.move.to_square, case.unit}, step.homes)


def can_reach(board: chess.Board, side: chess.Color, square: int) -> bool:
    """Whether a unit of `side` bears on a square, or a pawn of it can be pushed there."""
    behind = square - 8 if side else square + 8
    pawn = 0 <= behind < 64 and board.piece_at(behind) == chess.Piece(chess.PAWN, side)
    return bool(bears(board, side, square)) or (pawn and board.piece_at(square) is None)


def removal_of_the_guard(case: Case) -> Iterator[set[int]]:
    at = case.capture.taken if case.capture else case.unit
    if case.capture is None:
        yield from drawn_off(case)
    for guard in bears(case.start, case.owner, case.unit):
        gone = at is None or _no_longer_guards(case, guard, at)
        if gone and _driven_off(case, guard):
            yield {guard, case.unit}


def _no_longer_guards(case: Case, guard: int, at: int) -> bool:
    step = case.capture
    if step is None:
        return True
    now = case.line.where(guard, step)
    return now is None or now not in bears(step.before, case.owner, at)


def _driven_off(case: Case, guard: int) -> bool:
    """Whether an earlier move of the attacker took the guard, or attacked it before it moved, or
    gave up a unit that the guard moved off to take."""
    attacked, landed = False, None
    for step in case.line.until(case.capture):
        if step.side == case.attacker and step is not case.capture:
            if step.victim == guard:
                return True
            now = next((at for at, home in step.homes.items() if home == guard), None)
            attacked = attacked or (now is not None and _attacked(step.after, case.attacker, now))
            landed = step.move.to_square
        elif step.homes.get(step.move.from_square) == guard and (
            attacked or (landed is not None and step.taken == landed)
        ):
            return True
    return False


def _attacked(board: chess.Board, side: chess.Color, square: int) -> bool:
    return bool(board.attackers(side, square))


def pin(case: Case) -> Iterator[set[int]]:
    if case.capture is None:
        return
    for board, homes in case.boards():
        for one in pinned(board, case.attacker):
            stands = one.front == case.capture.taken and homes.get(one.front) == case.unit
            if stands and could_leave(board, one, case.owner):
                yield known_as({one.slider, one.front, one.back}, homes)


def skewer(case: Case) -> Iterator[set[int]]:
    step = case.capture
    if step is None:
        return
    for board, homes in case.boards():
        for one in lined_up(board, case.attacker):
            if homes.get(one.back) != case.unit or worth_on(board, one.front) < case.worth():
                continue
            left = case.line.where(homes[one.front], step) != one.front
            if left and homes[one.slider] == step.homes.get(step.move.from_square):
                yield known_as({one.slider, one.front, one.back}, homes)


def interference(case: Case) -> Iterator[set[int]]:
    for step in case.earlier():
        at = case.line.where(case.unit, step)
        if at is None or taken_on(step.before, step.move) is not None:
            continue
        for guard in bears(step.before, case.owner, at):
            strictly = chess.SquareSet.between(guard, at)
            if slides(step.before, guard, at) and step.move.to_square in strictly:
                yield known_as({step.move.to_square, guard, case.unit, at}, step.homes)


def desperado(case: Case) -> Iterator[set[int]]:
    step = case.capture
    if step is None:
        return
    home = step.homes[step.move.from_square]
    hung = any(
        best_exchange(board, at, case.owner) >= THRESHOLD
        for board, homes in case.boards()
        for at in [next((at for at, first in homes.items() if first == home), None)]
        if at is not None and worth_on(board, at) < PRICELESS
    )
    if hung and any(later.victim == home for later in case.line.steps):
        yield known_as({step.move.from_square, case.unit}, step.homes)

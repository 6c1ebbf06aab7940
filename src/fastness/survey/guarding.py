"""What comes to guard what after a move: a square against a threat, or a unit through a line."""

from __future__ import annotations

from dataclasses import dataclass

import chess

from fastness.language import marked
from fastness.survey.aims import new_guard
from fastness.survey.claim import Holds, Line, Squares, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.lines import squares_left
from fastness.survey.nouns import on_square


@dataclass(frozen=True, slots=True)
class Landing:
    """A square that a threat lands on, and that gains a guard.

    `opened`: by another unit, whose line the move opens. `against` is the threat's line up to the
    move that lands there.
    """

    square: str
    opened: bool
    against: Line


_GUARDS = marked("guards {square} against {threat}")
_OPENS = marked("opens a line that guards {square} against {threat}")


def guards_in_words(found: Findings, one: Holds) -> str:
    """The square guarded and the threat that lands on it, or what is guarded through a line.

    Empty where neither shows.
    """
    say = found.language.say
    if landing := landing_guarded(found, one):
        if len(landing.against) > 2:
            return say("guards {square}, which the threat needs", square=landing.square)
        threat = found.last_of(landing.against)
        text = _OPENS if landing.opened else _GUARDS
        return say(text, square=landing.square, threat=threat)
    if through := guarded_through(found, one):
        return _guards_through(found, one, *through)
    return ""


def landing_guarded(found: Findings, one: Holds) -> Landing | None:
    """A square on which a move of a threat's line lands, and that gains a guard by a move.

    Not one that the move leaves or goes to, nor one that its side enters in the line before. What
    guards is the unit that moves, or against the threat itself another one whose line it opens.
    """
    move = chess.Move.from_uci(one.move)
    left = {chess.square_name(at) for at in squares_left(found.board, move)}
    for line in (fall.line for fall in found.of(Unsafe)):
        for plies in range(2, len(line) + 1, 2):
            square = line[plies - 1][2:4]
            entered = {uci[2:4] for uci in line[2 : plies - 1 : 2]}
            if square in left | entered | {one.move[2:4]}:
                continue
            guard = _new_guard(found, one, square)
            opened = guard != move.to_square
            if guard is not None and (plies == 2 or not opened):
                return Landing(square, opened, line[:plies])
    return None


def _new_guard(found: Findings, one: Holds, square: str) -> int | None:
    return new_guard(found.board, chess.Move.from_uci(one.move), chess.parse_square(square))


def opened_guard(one: Holds) -> str:
    """What alone comes to guard the units that a move guards, its line opened; else empty."""
    return next((aim.by for aim in one.aims if aim.way == "guard"), "")


def guarded_by_itself(found: Findings, one: Holds, aimed: Squares) -> Squares:
    """Those of the units that gain a guard by a move which the unit that moves comes to guard."""
    itself = (None, chess.parse_square(one.move[2:4]))
    return tuple(at for at in aimed if _new_guard(found, one, at) in itself)


def guarded_through(found: Findings, one: Holds) -> tuple[str, str, str] | None:
    """A unit that can be taken back for once what takes it has left the line; by a move.

    The unit, what takes it, and what could then take back and could not before the move. None
    where a threat takes nothing, or nothing of the kind shows.
    """
    board, own = found.board, found.board.turn
    after = board.copy(stack=False)
    after.push_uci(one.move)
    passed = board.copy(stack=False)
    passed.push(chess.Move.null())
    for fall in found.of(Unsafe):
        threat = chess.Move.from_uci(fall.line[1]) if len(fall.line) > 1 else chess.Move.null()
        if not threat or after.color_at(threat.to_square) is not own or not after.is_legal(threat):
            continue
        before = set(_takers(passed, threat))
        if chess.parse_square(one.move[:2]) in before:
            before.add(chess.parse_square(one.move[2:4]))
        news = [at for at in _takers(after, threat) if at not in before]
        if news:
            unit, front, guard = map(
                chess.square_name, (threat.to_square, threat.from_square, news[0])
            )
            return unit, front, guard
    return None


def _guards_through(found: Findings, one: Holds, unit: str, front: str, guard: str) -> str:
    say, name = found.language.say, on_square(found.board, unit, found.language)
    if guard == one.move[2:4]:
        through = on_square(found.board, front, found.language)
        return say("guards {unit} through {front}", unit=name, front=through)
    return say(
        "lets {guard} guard {unit}", guard=on_square(found.board, guard, found.language), unit=name
    )


def _takers(board: chess.Board, threat: chess.Move) -> list[chess.Square]:
    """The units that can take back after a threat."""
    taken = board.copy(stack=False)
    taken.push(threat)
    return [back.from_square for back in taken.legal_moves if back.to_square == threat.to_square]

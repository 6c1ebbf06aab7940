"""What a move guards that no unit in danger stands on, or guards through what takes there."""

from __future__ import annotations

import chess

from fastness.survey.claim import Holds, Line, Unsafe
from fastness.survey.findings import Findings
from fastness.survey.nouns import on_square


def guards_in_words(found: Findings, one: Holds) -> str:
    """The square guarded and the threat that lands on it, or what is guarded through a line.

    Empty where neither shows.
    """
    say = found.language.say
    if against := landing_guarded(found, one):
        threat = found.last_of(against)
        return say("guards {square} against {threat}", square=against[-1][2:4], threat=threat)
    if through := guarded_through(found, one):
        return _guards_through(found, one, *through)
    return ""


def landing_guarded(found: Findings, one: Holds) -> Line:
    """A threat's line up to a move that lands on a square that gains a guard.

    Not the square that the move itself leaves. Empty where none shows.
    """
    after = found.board.copy(stack=False)
    after.push_uci(one.move)
    side = found.board.turn
    for line in (fall.line for fall in found.of(Unsafe)):
        for plies in range(2, len(line) + 1, 2):
            name = line[plies - 1][2:4]
            at = chess.parse_square(name)
            before = set(found.board.attackers(side, at))
            if chess.parse_square(one.move[:2]) in before:
                before.add(chess.parse_square(one.move[2:4]))
            if name != one.move[:2] and set(after.attackers(side, at)) - before:
                return line[:plies]
    return ()


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


def opened_guard(found: Findings, one: Holds) -> str:
    """What alone comes to guard all that a move guards, its line opened by the move; else empty."""
    aimed = next((aim.squares for aim in one.aims if aim.way == "guard"), ())
    after = found.board.copy(stack=False)
    after.push_uci(one.move)
    own, news = found.board.turn, set()
    for at in map(chess.parse_square, aimed):
        news |= set(after.attackers(own, at)) - set(found.board.attackers(own, at))
    came = {chess.parse_square(one.move[2:4])}
    if len(news) != 1 or news <= came or found.board.color_at(next(iter(news))) is not own:
        return ""
    return chess.square_name(next(iter(news)))


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

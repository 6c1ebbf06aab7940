"""Claims on units, judged: what is false in each."""

from collections.abc import Sequence

import chess

from fastness.survey.claim import (
    AtStake,
    Cause,
    Count,
    Retaken,
    SafeByTactics,
    Taking,
    UnitAt,
    Unsafe,
    WonBack,
)
from tests.judge.board import bears
from tests.judge.causes import falls_because
from tests.judge.falls import (
    Fall,
    falls,
    falls_by_every_reply,
    falls_by_some_reply,
    is_safe_by_tactics,
    is_won_back,
)
from tests.judge.plain import PASS
from tests.judge.played import played
from tests.judge.worth import Position, at_least, in_words


def stands(unit: UnitAt, position: Position, side: chess.Color | None = None) -> list[str]:
    """What is false in saying that a unit stands on a square, of a side where one is meant."""
    piece = position.board.piece_at(chess.parse_square(unit.square))
    if piece is None or chess.piece_name(piece.piece_type) != unit.kind:
        return [f"no {unit.kind} on {unit.square}"]
    return [] if side in (None, piece.color) else [f"the {unit.kind} {unit.square} is the other's"]


def unsafe(claim: Unsafe, position: Position) -> list[str]:
    return _falls(claim, position, taking=False)


def taking(claim: Taking, position: Position) -> list[str]:
    return _falls(claim, position, taking=True)


def _falls(claim: Unsafe | Taking, position: Position, *, taking: bool) -> list[str]:
    owner = position.own != taking
    told = Fall(claim.unit.square, list(claim.line), claim.reach, claim.loses)
    faults = stands(claim.unit, position, owner)
    faults += falls(position, told, taking=taking)
    if faults:
        return faults
    if not claim.together:
        faults += falls_by_every_reply(position, told)
    for square in claim.together:
        if not falls_by_some_reply(position, told, square):
            faults.append(f"{square} does not fall together with {told.square}")
    if claim.after and not _something_first(claim, position):
        faults.append(f"nothing falls before {told.square}")
    return faults


def _something_first(claim: Unsafe | Taking, position: Position) -> bool:
    """Whether the line takes, before the unit, another one of its side."""
    run = played(position.survey["fen"], claim.line)
    last = run.taking(chess.parse_square(claim.unit.square))
    steps = list(run.until(last))
    return any(step.taken is not None and step is not last for step in steps if last)


def retaken(claim: Retaken, position: Position) -> list[str]:
    """The retake is the best one, loses what is told, and that is no less than the unit costs."""
    line, square = list(claim.line), claim.unit.square
    opening = 1 if line[0] == PASS else 0
    attacker, taking = (not position.own, False) if opening else (position.own, True)
    faults = stands(claim.unit, position, not attacker)
    run = played(position.survey["fen"], line)
    first, back = run.steps[:2]
    at = chess.parse_square(square)
    if first.taken != at or back.move.to_square != at or back.taken is None:
        return [*faults, f"{square} is not taken and retaken"]
    base, plies = position.bare(attacker), 2 * position.reach - 1
    backs = [move for move in first.after.legal_moves if move.to_square == at]
    lost = min(
        position.value([*line[: opening + 1], move.uci()], plies, attacker, base) for move in backs
    )
    if not at_least(lost, claim.loses) or in_words(lost, "mate", "mated") != claim.loses:
        faults.append(f"taking back on {square} loses {lost}")
    shown = run.mates(attacker) if claim.loses == "mate" else run.gain(attacker) == claim.loses
    if not shown:
        faults.append(f"the line does not show what taking back on {square} loses")
    survey = position.survey
    units = survey["takings"] if taking else survey["units"]
    falls_ = next(unit["loses"] for unit in units if unit["square"] == square)
    if isinstance(falls_, int) and lost < falls_:
        faults.append(f"taking back on {square} loses less")
    return faults


def at_stake(claim: AtStake, position: Position) -> list[str]:
    """After the opponent's quiet move these units can be won, which are safe where they stand."""
    faults = [] if len(claim.line) == 2 else ["it is not two moves"]
    run = played(position.survey["fen"], claim.line)
    last = run.steps[-1]
    if last.taken is not None or last.after.is_check() or last.move.promotion:
        faults.append(f"{claim.line[1]} is not quiet")
    then = position.plain.unsafe(last.after.fen(), claim.reach)
    now = {unit["square"] for unit in position.survey["units"] if "unsafe" in unit["status"]}
    homes = last.later()
    for square in claim.squares:
        home = chess.square_name(homes[chess.parse_square(square)])
        if square not in then:
            faults.append(f"{square} is not in danger then")
        if home in now:
            faults.append(f"{home} is in danger now")
    return faults


def won_back(claim: WonBack, position: Position) -> list[str]:
    told = Fall(claim.unit.square, list(claim.line), claim.reach)
    return stands(claim.unit, position) + is_won_back(position, told)


def safe_by_tactics(claim: SafeByTactics, position: Position) -> list[str]:
    told = Fall(claim.unit.square, list(claim.line), position.reach)
    return stands(claim.unit, position) + is_safe_by_tactics(position, told)


def cause(claim: Cause, position: Position) -> list[str]:
    """By the line in which the survey lets the unit fall."""
    survey = position.survey
    units = [*survey["units"], *survey["takings"]]
    line = next(unit["line"] for unit in units if unit["square"] == claim.unit.square)
    if not line:
        return [f"{claim.unit.square} does not fall"]
    name, square = claim.mechanism, claim.unit.square
    return falls_because(survey["fen"], line, square, name, claim.squares)


def count(claim: Count, position: Position) -> list[str]:
    board, at = position.board, chess.parse_square(claim.unit.square)
    side = board.color_at(at)
    faults = stands(claim.unit, position)
    for colour, front, back in (
        (not side, claim.attackers, claim.behind),
        (bool(side), claim.guards, claim.behind_guards),
    ):
        if _squares(front) != bears(board, colour, at):
            faults.append(f"{front} do not bear on {claim.unit.square}")
        if _squares(back) not in _behind(board, colour, at):
            faults.append(f"{back} do not bear on {claim.unit.square} from behind")
    return faults


def _squares(names: Sequence[str]) -> set[int]:
    return {chess.parse_square(name) for name in names}


def _behind(board: chess.Board, side: chess.Color, square: int) -> list[set[int]]:
    """What bears on a square right behind one that does; and the whole row behind."""
    front = bears(board, side, square)
    next_ones: set[int] = set()
    for one in front:
        opened = board.copy(stack=False)
        opened.remove_piece_at(one)
        next_ones |= bears(opened, side, square) - front
    row, opened = set(front), board.copy(stack=False)
    while found := bears(opened, side, square):
        row |= found
        for one in found:
            opened.remove_piece_at(one)
    return [next_ones, row - front]

"""What a holding move costs or gains besides: what must be so on the board for each name."""

from collections.abc import Callable
from dataclasses import dataclass

import chess
from chess import KING

from fastness.survey.claim import Price
from tests.judge.board import THRESHOLD, balance, best_exchange, lined_up, worth_on
from tests.judge.played import Played, Step, played
from tests.judge.worth import Position

MINORS = (chess.KNIGHT, chess.BISHOP)
PIECES = (*MINORS, chess.ROOK, chess.QUEEN)
AHEAD = 200
"""Centipawns ahead from which a side should trade."""


@dataclass(frozen=True, slots=True)
class Priced:
    """A holding move and the line that begins with it."""

    line: Played

    @property
    def step(self) -> Step:
        return self.line.steps[0]

    @property
    def own(self) -> chess.Color:
        return self.step.side

    @property
    def kind(self) -> int:
        """The kind of unit that moves."""
        return self.step.before.piece_type_at(self.step.move.from_square) or 0

    def rank(self, square: int) -> int:
        """The rank as the mover sees it, the first being 0."""
        return chess.square_rank(square) if self.own else 7 - chess.square_rank(square)


def weakens_shelter(one: Priced) -> bool:
    """A pawn beside the king leaves its square, or a king that could have castled moves."""
    before, off = one.step.before, one.step.move.from_square
    if one.kind == KING:
        return before.has_castling_rights(one.own) and not before.is_castling(one.step.move)
    king = one.step.after.king(one.own)
    beside = king is not None and abs(chess.square_file(king) - chess.square_file(off)) <= 1
    return one.kind == chess.PAWN and beside


def pins_its_blocker(one: Priced) -> bool:
    to, after = one.step.move.to_square, one.step.after
    return any(
        pin.front == to and worth_on(after, pin.back) > worth_on(after, to)
        for pin in lined_up(after, not one.own)
    )


def shuts_in_bishop(one: Priced) -> bool:
    """A bishop that stands still can go to two squares fewer, and to two at most."""
    before, after = one.step.before, one.step.after
    for bishop in before.pieces(chess.BISHOP, one.own) & after.pieces(chess.BISHOP, one.own):
        left = _squares(after, bishop, one.own)
        if left <= 2 and _squares(before, bishop, one.own) >= left + 2:
            return True
    return False


def _squares(board: chess.Board, unit: int, side: chess.Color) -> int:
    return len(board.attacks(unit) & ~board.occupied_co[side])


def loses_time(one: Priced) -> bool:
    """A knight or bishop goes back to the first rank; or the queen comes out to be attacked."""
    to = one.step.move.to_square
    if one.kind in MINORS:
        return one.rank(to) == 0
    return one.kind == chess.QUEEN and one.rank(to) > 0


def guards_passively(one: Priced) -> bool:
    """A piece that guards has two squares fewer than where it came from."""
    move = one.step.move
    before = _squares(one.step.before, move.from_square, one.own)
    return (
        one.kind != chess.PAWN and before >= _squares(one.step.after, move.to_square, one.own) + 2
    )


def weakens_pawns(one: Priced) -> bool:
    return one.kind == chess.PAWN or one.step.taken is not None


def gives_up_the_pair(one: Priced) -> bool:
    return _pair(one.step.before, one.own) and not _pair(one.line.end, one.own)


def gains_the_pair(one: Priced) -> bool:
    lost = _pair(one.step.before, not one.own) and not _pair(one.line.end, not one.own)
    return lost and _pair(one.line.end, one.own)


def _pair(board: chess.Board, side: chess.Color) -> bool:
    bishops = board.pieces(chess.BISHOP, side)
    return bool(bishops & chess.BB_LIGHT_SQUARES) and bool(bishops & chess.BB_DARK_SQUARES)


def gains_time(one: Priced) -> bool:
    """It attacks anew a piece that is worth more, or that would fall."""
    before, after, move = one.step.before, one.step.after, one.step.move
    fresh = after.attacks(move.to_square) - before.attacks(move.from_square)
    own = worth_on(after, move.to_square)
    return any(
        worth_on(after, at) > own or best_exchange(after, at, one.own) >= THRESHOLD
        for at in fresh & after.occupied_co[not one.own]
    )


def develops(one: Priced) -> bool:
    off, to = one.step.move.from_square, one.step.move.to_square
    castles = one.step.before.is_castling(one.step.move)
    return castles or (one.kind in MINORS and one.rank(off) == 0 < one.rank(to))


def makes_room(one: Priced) -> bool:
    """The king has a safe square and had none, or the pieces of some kind have more squares."""
    before, after = one.step.before, one.step.after
    room = not _king_squares(before, one.own) and _king_squares(after, one.own)
    return bool(room) or any(
        count(after, one.own, kind) > count(before, one.own, kind)
        for count in (_reach, _freely)
        for kind in PIECES
    )


def _king_squares(board: chess.Board, side: chess.Color) -> list[int]:
    """Where the king could go unattacked."""
    king = board.king(side)
    assert king is not None
    free = board.attacks(king) & ~board.occupied_co[side]
    without = board.copy(stack=False)
    without.remove_piece_at(king)
    return [at for at in free if not without.attackers(not side, at)]


def _reach(board: chess.Board, side: chess.Color, kind: chess.PieceType) -> int:
    return sum(_squares(board, at, side) for at in board.pieces(kind, side))


def _freely(board: chess.Board, side: chess.Color, kind: chess.PieceType) -> int:
    """Squares that a kind of piece can go to and no pawn of the other side attacks."""
    pawns = board.pieces(chess.PAWN, not side)
    hit = {at for pawn in pawns for at in board.attacks(pawn)}
    return sum(
        at not in hit
        for unit in board.pieces(kind, side)
        for at in board.attacks(unit) & ~board.occupied_co[side]
    )


def trades_when_ahead(one: Priced) -> bool:
    """A side that is ahead takes a piece and loses one of the same worth on that square."""
    taken = one.step.taken
    if taken is None or balance(one.step.before, one.own) < AHEAD:
        return False
    worth = worth_on(one.step.before, taken)
    return any(
        later.side != one.own
        and later.taken == one.step.move.to_square
        and worth_on(later.before, later.taken) == worth
        for later in one.line.steps[1:]
    )


PRICES: dict[tuple[str, str], Callable[[Priced], bool]] = {
    ("cost", "weakens the king's shelter"): weakens_shelter,
    ("cost", "pins its own blocker"): pins_its_blocker,
    ("cost", "shuts in a bishop"): shuts_in_bishop,
    ("cost", "loses time"): loses_time,
    ("cost", "passive guard"): guards_passively,
    ("cost", "weakens the pawns"): weakens_pawns,
    ("cost", "gives up the bishop pair"): gives_up_the_pair,
    ("gain", "gains time on a piece"): gains_time,
    ("gain", "develops"): develops,
    ("gain", "makes room"): makes_room,
    ("gain", "trades when ahead"): trades_when_ahead,
    ("gain", "gains the bishop pair"): gains_the_pair,
}


def price(claim: Price, position: Position) -> list[str]:
    """What is false in a price; empty if nothing is."""
    applies = PRICES.get((claim.kind, claim.name))
    if applies is None:
        return [f"nobody judges the {claim.kind} {claim.name}"]
    verdict = next(move for move in position.survey["moves"] if move["uci"] == claim.move)
    one = Priced(played(position.survey["fen"], verdict["line"] or [claim.move]))
    faults = [] if applies(one) else [f"{claim.move}: not so, that it {claim.name}"]
    if claim.centipawns is not None and claim.centipawns <= 0:
        faults.append(f"{claim.move}: {claim.name} by {claim.centipawns}")
    return faults

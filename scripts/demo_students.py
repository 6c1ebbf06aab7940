"""The invented students of the demo: what each sees, likes and overlooks, and the move chosen.

A student sees a move's net at reach 1 or 2, adds a few likings (development, centre, castling),
and has one planted habit: a kind of move whose loss is overlooked while the habit is at work.
All numbers are integers in centipawns, so that one seed gives one game on every machine.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import chess
from chess import KING

from fastness import core
from fastness.core.shapes import Net, Survey

WORTH = {
    chess.PAWN: 100,
    chess.KNIGHT: 300,
    chess.BISHOP: 300,
    chess.ROOK: 500,
    chess.QUEEN: 900,
    KING: 10_000,
}
MATE = 5_000
NOISE = 24
FONDNESS = 60
"""How much a student likes a move of the habit, besides overlooking its loss."""

Habit = Callable[[chess.Board, chess.Move, chess.Board], int]
"""How much of a loss the habit overlooks (centipawns, 0 where the move is not of its kind), from
the position before, the move, and the position after."""


def attacked(board: chess.Board, colour: chess.Color) -> Iterator[tuple[int, int]]:
    """The square and worth of each unit of this colour, the king apart, that is attacked."""
    for square, unit in board.piece_map().items():
        ours = unit.color == colour and unit.piece_type != KING
        if ours and board.is_attacked_by(not colour, square):
            yield square, WORTH[unit.piece_type]


def forgets_pawn_attacks(board: chess.Board, _move: chess.Move, after: chess.Board) -> int:
    """Leaves or puts a piece where a pawn attacks it."""
    pawns = after.pieces_mask(chess.PAWN, not board.turn)
    return max(
        (
            worth
            for square, worth in attacked(after, board.turn)
            if worth > WORTH[chess.PAWN] and after.attackers_mask(not board.turn, square) & pawns
        ),
        default=0,
    )


def leaves_unguarded(board: chess.Board, _move: chess.Move, after: chess.Board) -> int:
    """Leaves or puts a unit where it is attacked and nothing guards it."""
    return max(
        (
            worth
            for square, worth in attacked(after, board.turn)
            if not after.is_attacked_by(board.turn, square)
        ),
        default=0,
    )


def guards_anything(board: chess.Board, move: chess.Move, after: chess.Board) -> int:
    """Answers an attack by one more guard, whatever the attacker is worth."""
    return max(
        (
            worth
            for square, worth in attacked(board, board.turn)
            if worth > WORTH[chess.PAWN]
            and square != move.from_square
            and after.attackers_mask(board.turn, square) & ~board.attackers_mask(board.turn, square)
        ),
        default=0,
    )


def hits_back(board: chess.Board, move: chess.Move, after: chess.Board) -> int:
    """Leaves an attacked piece where it is and attacks something worth as much."""
    mine = [pair for pair in attacked(board, board.turn) if pair[0] != move.from_square]
    most = max((worth for _, worth in mine), default=0)
    before = {square for square, _ in attacked(board, not board.turn)}
    hits = any(
        worth >= most and square not in before for square, worth in attacked(after, not board.turn)
    )
    return most if hits and most > WORTH[chess.PAWN] else 0


def threatened(board: chess.Board, colour: chess.Color) -> dict[int, int]:
    """The square and worth of the attacked that nothing guards or something worth less attacks."""
    return {
        square: worth
        for square, worth in attacked(board, colour)
        if not board.is_attacked_by(colour, square)
        or any(
            WORTH[board.piece_type_at(attacker) or KING] < worth
            for attacker in board.attackers(not colour, square)
        )
    }


def counterattacks(board: chess.Board, move: chess.Move, after: chess.Board) -> int:
    """Leaves a threatened piece and, from a square where it stands well, threatens as much."""
    side = board.turn
    left = threatened(board, side)
    left.pop(move.from_square, None)
    most = max(left.values(), default=0)
    if most <= WORTH[chess.PAWN] or board.is_capture(move) or after.is_check():
        return 0
    if move.to_square in threatened(after, side):
        return 0
    before, now = threatened(board, not side), threatened(after, not side)
    hits = any(
        worth >= most and square not in before and move.to_square in after.attackers(side, square)
        for square, worth in now.items()
    )
    return most if hits else 0


def plays_on_in_a_trade(board: chess.Board, move: chess.Move, _after: chess.Board) -> int:
    """Does not take back what was just taken."""
    if not board.move_stack:
        return 0
    before = board.copy()
    last = before.pop()
    taken = before.piece_type_at(last.to_square)
    return WORTH[taken] if taken and move.to_square != last.to_square else 0


def has_none(_board: chess.Board, _move: chess.Move, _after: chess.Board) -> int:
    """Overlooks nothing within sight."""
    return 0


@dataclass(frozen=True, slots=True)
class Student:
    """An invented student.

    `sight`, `hurry` and `strength` are percentages of moves: on which the student looks two moves
    ahead rather than one, looks at nothing but captures, and has the habit at work. `fond` says
    whether the habit is also liked for itself.
    """

    name: str
    habit: Habit
    strength: int
    sight: int
    hurry: int
    fond: bool = False


STUDENTS = (
    Student("Cogsworthy, Bea", has_none, strength=0, sight=90, hurry=2),
    Student("Flourdust, Ivy", forgets_pawn_attacks, strength=90, sight=55, hurry=6),
    Student("Millpondle, Tom", guards_anything, strength=60, sight=45, hurry=6, fond=True),
    Student("Oatsackett, Lily", leaves_unguarded, strength=25, sight=50, hurry=6),
    Student("Paddlewheel, Hugo", hits_back, strength=60, sight=45, hurry=6, fond=True),
    Student("Sluicegate, Ned", has_none, strength=0, sight=0, hurry=6),
    Student("Weirwater, Ada", plays_on_in_a_trade, strength=25, sight=50, hurry=6),
)


def choose(student: Student, board: chess.Board, dice: random.Random) -> chess.Move:
    """The move that this student plays here. The board has the game's moves on its stack."""
    hurried = dice.randrange(100) < student.hurry
    far = dice.randrange(100) < student.sight
    at_work = dice.randrange(100) < student.strength
    nets = _captures_only(board) if hurried else _nets(look_ahead(board, 2 if far else 1))
    best: tuple[int, chess.Move] | None = None
    for move in sorted(board.legal_moves, key=chess.Move.uci):
        net = nets[move.uci()]
        after = board.copy()
        after.push(move)
        if at_work and (overlooked := student.habit(board, move, after)):
            net = max(net, min(net + overlooked, 0)) + (FONDNESS if student.fond else 0)
        score = net + liking(board, move, after) + dice.randint(0, NOISE)
        if best is None or score > best[0]:
            best = score, move
    if best is None:
        raise ValueError(f"no legal move in {board.fen()}; the game was over")
    return best[1]


def look_ahead(board: chess.Board, reach: int) -> Survey:
    """The survey of the position on the board, judged with the game's moves before it."""
    return core.survey(
        board.root().fen(), moves=[move.uci() for move in board.move_stack], reach=reach
    )


def best_net(survey: Survey) -> int:
    """The best net of any move, in centipawns, mate as `MATE`."""
    return max(_nets(survey).values())


def _nets(survey: Survey) -> dict[str, int]:
    return {move["uci"]: number(move["net"]) for move in survey["moves"]}


def number(net: Net) -> int:
    """A net in centipawns, mate as `MATE`."""
    if net == "mates":
        return MATE
    return -MATE if net == "mated" else net


def _captures_only(board: chess.Board) -> dict[str, int]:
    quiet = {move.uci(): 0 for move in board.legal_moves}
    return quiet | core.exchange_counts(board.fen())


def liking(board: chess.Board, move: chess.Move, after: chess.Board) -> int:
    """What a club player likes about a move, whatever it nets: common practice, no source."""
    unit = board.piece_type_at(move.from_square)
    liked = -60 if after.is_repetition(2) else 0
    liked += 6 if board.is_capture(move) else 0
    liked += 4 if after.is_check() else 0
    liked += 20 if _drives_a_piece_away(board, move, unit) else 0
    if len(board.piece_map()) > 16:
        liked += _opening_liking(board, move, unit)
    else:
        liked += _ending_liking(board, move, unit)
    if len(board.move_stack) >= 2:
        mine = board.move_stack[-2]
        liked -= 20 if move.from_square == mine.to_square else 0
        liked -= 40 if move == chess.Move(mine.to_square, mine.from_square) else 0
    return liked


def _drives_a_piece_away(board: chess.Board, move: chess.Move, unit: int | None) -> bool:
    """Whether a pawn comes to attack a piece."""
    theirs = board.occupied_co[not board.turn] & ~board.pawns & ~board.kings
    hit = chess.BB_PAWN_ATTACKS[board.turn][move.to_square] & theirs
    return unit == chess.PAWN and bool(hit)


def _opening_liking(board: chess.Board, move: chess.Move, unit: int | None) -> int:
    if board.is_castling(move):
        return 45
    home = chess.square_rank(move.from_square) == (0 if board.turn == chess.WHITE else 7)
    file, rank = chess.square_file(move.to_square), chess.square_rank(move.to_square)
    central = 2 <= file <= 5
    if unit in (chess.KNIGHT, chess.BISHOP):
        return (28 if home else 0) + (8 if central and 2 <= rank <= 5 else 0)
    if unit == chess.PAWN:
        in_centre = file in (3, 4) and rank in (3, 4)
        return 22 if in_centre else 6 if central else 0
    if unit == KING:
        return -35
    early = len(board.move_stack) < 16
    return -15 if early else 8


def _ending_liking(board: chess.Board, move: chess.Move, unit: int | None) -> int:
    rank = chess.square_rank(move.to_square)
    if unit == chess.PAWN:
        return 4 * (rank if board.turn == chess.WHITE else 7 - rank)
    if unit == KING:
        return 5 * (_from_centre(move.from_square) - _from_centre(move.to_square)) + 6
    return 8


def _from_centre(square: int) -> int:
    """Moves of a king from this square to the nearest centre square."""
    return min(chess.square_distance(square, centre) for centre in (27, 28, 35, 36))

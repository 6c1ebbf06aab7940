"""What is wrong with a reason why a move falls, by the rules library."""

from collections.abc import Callable
from dataclasses import dataclass

import chess
from chess import KING

from fastness.core.shapes import MoveVerdict, Reason, Survey
from tests.checks.replay import WORTH


@dataclass(frozen=True, slots=True)
class Refuted:
    """A falling move played through: the board before each move of its line, and the last."""

    boards: list[chess.Board]
    line: list[chess.Move]
    squares: list[int]
    threats: set[str]
    """First moves of the lines by which units fall if nothing is done, in UCI."""

    @property
    def us(self) -> chess.Color:
        return self.boards[0].turn

    @property
    def landed(self) -> int:
        """Where the move that falls put its unit."""
        return self.line[0].to_square

    def attacked(self, board: chess.Board, square: int) -> bool:
        """Whether the opponent attacks a unit of the mover's there."""
        own = board.color_at(square) == self.us
        return own and board.is_attacked_by(not self.us, square)


def refuted(survey: Survey, verdict: MoveVerdict, reason: Reason) -> Refuted:
    board = chess.Board(survey["fen"])
    boards, line = [board.copy(stack=False)], []
    for uci in verdict["line"] or ():
        line.append(chess.Move.from_uci(uci))
        board.push(line[-1])
        boards.append(board.copy(stack=False))
    told = [unit["line"] or [] for unit in survey["units"]]
    threats = {line[1] for line in told if line[:1] == ["0000"]}
    squares = [chess.parse_square(name) for name in reason["squares"]]
    return Refuted(boards, line, squares, threats)


def bearing(board: chess.Board, square: int, side: chess.Color) -> set[int]:
    """Units of a side that bear on a square when all lines before them have been opened."""
    board = board.copy(stack=False)
    found: set[int] = set()
    while units := set(board.attackers(side, square)) | set(board.attackers(not side, square)):
        found |= {unit for unit in units if board.color_at(unit) == side}
        fresh = {unit for unit in units if board.piece_type_at(unit) != KING}
        if not fresh:
            break
        for unit in fresh:
            board.remove_piece_at(unit)
    return found


def moved(board: chess.Board, first: chess.Move, square: int) -> int:
    """Where the unit on a square stands after a move of its side."""
    if square == first.from_square:
        return first.to_square
    if board.is_castling(first):
        right = first.to_square > first.from_square
        if square == chess.square(7 if right else 0, chess.square_rank(square)):
            return first.to_square + (-1 if right else 1)
    return square


def takes_on(board: chess.Board, step: chess.Move) -> int | None:
    """The square of what a move takes, the pawn's own en passant."""
    if board.is_en_passant(step):
        file, rank = chess.square_file(step.to_square), chess.square_rank(step.from_square)
        return chess.square(file, rank)
    return step.to_square if board.is_capture(step) else None


def taken_on(fall: Refuted) -> set[int | None]:
    """The squares of what the opponent takes in the line."""
    return {takes_on(*each) for each in list(zip(fall.boards, fall.line, strict=False))[1::2]}


def mate(fall: Refuted) -> bool:
    end = fall.boards[-1]
    given_by, king = fall.squares[:-1], fall.squares[-1]
    return end.is_checkmate() and end.king(fall.us) == king and set(given_by) == set(end.checkers())


def walked(fall: Refuted) -> bool:
    taker, square = fall.squares
    theirs = fall.boards[1].color_at(taker) != fall.us
    return theirs and square == fall.landed and square in taken_on(fall)


def blocked(fall: Refuted) -> bool:
    slider, blocker, target = fall.squares
    between = blocker in chess.SquareSet.between(slider, target)
    return between and blocker == fall.landed and blocker in taken_on(fall)


def worth_less(fall: Refuted) -> bool:
    kinds = [fall.boards[1].piece_type_at(square) or KING for square in fall.squares]
    taker, unit = ((*WORTH["classical"], 10_000)[kind - 1] for kind in kinds)
    return taker < unit and fall.squares[1] in taken_on(fall)


def outnumbered(fall: Refuted) -> bool:
    after, unit = fall.boards[1], fall.squares[0]
    attackers = {square for square in fall.squares[1:] if after.color_at(square) != fall.us}
    guards = set(fall.squares[1:]) - attackers
    told = attackers <= bearing(after, unit, not fall.us) and guards <= bearing(
        after, unit, fall.us
    )
    return told and len(attackers) > len(guards) and unit in taken_on(fall)


def pinned(fall: Refuted) -> bool:
    slider, guard, behind, lost = fall.squares
    held = guard in chess.SquareSet.between(slider, behind)
    pieces = {chess.BISHOP, chess.ROOK, chess.QUEEN}
    slides = any(board.piece_type_at(slider) in pieces for board in fall.boards[1:])
    return held and slides and lost in taken_on(fall)


def uncovered(fall: Refuted) -> bool:
    """A guard is gone, or the square that was left opened a line."""
    first, before, left = fall.line[0], fall.boards[0], fall.line[0].from_square
    for square in fall.squares[:2]:
        was = {moved(before, first, unit) for unit in bearing(before, square, fall.us)}
        gone = was - bearing(fall.boards[1], square, fall.us)
        opened = any(
            left in chess.SquareSet.between(slider, square)
            for board in fall.boards[1:3]
            for slider in board.attackers(not fall.us, square)
        )
        if gone & set(fall.squares[1:]) or opened:
            return True
    return False


def together(fall: Refuted) -> bool:
    """All are attacked at one time in the line; or the first is from the start, and is lost."""
    at_once = any(all(fall.attacked(b, square) for square in fall.squares) for b in fall.boards)
    lost = fall.squares[0]
    already = fall.attacked(fall.boards[0], lost) and lost in taken_on(fall)
    return len(fall.squares) > 1 and (at_once or already)


def answered(fall: Refuted) -> bool:
    reply, attacked = fall.squares[0], fall.squares[1:]
    new = all(fall.attacked(fall.boards[2], square) for square in attacked)
    return reply == fall.line[1].to_square and bool(attacked) and new


def too_small(fall: Refuted) -> bool:
    after, target = fall.boards[1], fall.squares[1]
    attacks = after.color_at(target) != fall.us and after.is_attacked_by(fall.us, target)
    return fall.squares[0] == fall.landed and attacks


def left_alone(fall: Refuted) -> bool:
    """One of them is taken in the line, wherever it has gone, mated or promoted on; or the reply
    is the first move by which a unit falls if nothing is done, or leaves one of them attacked."""
    still = any(fall.attacked(fall.boards[2], square) for square in fall.squares)
    if still or fall.line[1].uci() in fall.threats:
        return True
    end = fall.boards[-1]
    promoted = {m.to_square for m in fall.line[1::2] if m.promotion}
    mated = {end.king(fall.us)} if end.is_checkmate() else set()
    return any(square in promoted | mated or is_taken(fall, square) for square in fall.squares)


def is_taken(fall: Refuted, square: int) -> bool:
    """Whether the unit on a square after the move is taken later in the line."""
    at = square
    for board, step in list(zip(fall.boards, fall.line, strict=False))[1:]:
        if board.turn == fall.us:
            at = moved(board, step, at)
        elif at == takes_on(board, step):
            return True
    return False


def promoted(fall: Refuted) -> bool:
    """Whether a pawn goes from the first square to promote on the second, taking nothing."""
    at, square = fall.squares
    assert fall.boards[1].piece_at(at) == chess.Piece(chess.PAWN, not fall.us)
    for board, step in list(zip(fall.boards, fall.line, strict=False))[1::2]:
        if step.from_square == at:
            at = step.to_square
            if step.promotion:
                return at == square and not board.is_capture(step)
    return False


def lost_somewhere(fall: Refuted) -> bool:
    """Whether the opponent takes or promotes something in the line."""
    return any(
        board.turn != fall.us and (board.is_capture(step) or step.promotion)
        for board, step in zip(fall.boards, fall.line, strict=False)
    )


TRUE: dict[str, Callable[[Refuted], bool]] = {
    "allows mate": mate,
    "a pawn promotes": promoted,
    "walks into a capture": walked,
    "the blocker falls": blocked,
    "less valuable attacker": worth_less,
    "outnumbered still": outnumbered,
    "guard pinned": pinned,
    "uncovers another unit": uncovered,
    "two units attacked": together,
    "answered with a bigger threat": answered,
    "threat too small": too_small,
    "does not address it": left_alone,
    "lost further on": lost_somewhere,
}
"""By the name of a reason, whether it is true by the rules library."""

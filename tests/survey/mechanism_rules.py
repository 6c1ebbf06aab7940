"""Holds what sentences on mechanisms claim against the boards of the line below them."""

import re
from collections.abc import Callable, Iterator

import chess

from tests.survey.claims import UNIT, Line, passed, taken_on, units_named
from tests.survey.reader import Reader

ONE = r"(?:[Tt]he|[Yy]our) \w+ on \w\d"
SOME = rf"{ONE}(?:(?:, | and ){ONE})*"
MOVE = r"\d+\.(?:\.\.)?\S+"


def later(reader: Reader, check: Callable[[chess.Board, list[int]], bool], told: str) -> None:
    """On some board of the line stand the units that `told` names, so that `check` holds."""

    def claim(line: Line) -> None:
        boards = [reader.board, *line.boards]
        assert any(
            check(board, squares)
            for board in boards
            if (squares := standing(board, told)) is not None
        ), told

    reader.waiting.append(claim)


def standing(board: chess.Board, told: str) -> list[int] | None:
    """The squares of the units named, None if one does not stand there."""
    squares = [chess.parse_square(square) for _, square in UNIT.findall(told)]
    names = [name for name, _ in UNIT.findall(told)]
    kinds = [board.piece_type_at(square) or 0 for square in squares]
    return squares if [chess.piece_name(kind) if kind else "" for kind in kinds] == names else None


def moves_told(line: Line, move: str) -> Iterator[tuple[chess.Board, chess.Move, chess.Board]]:
    """The move of the line that reads like `move`, with the boards around it."""
    number, points, san = re.fullmatch(r"(\d+)(\.+)(.+)", move).groups()  # type: ignore[union-attr]
    found = [
        (before, played, after)
        for before, played, after, told in zip(
            line.boards, line.moves, line.boards[1:], line.sans, strict=False
        )
        if told == san and before.fullmove_number == int(number) and before.turn == (points == ".")
    ]
    assert found, f"{move} is not in the line"
    return iter(found)


def by_move(
    reader: Reader, move: str, check: Callable[[chess.Board, chess.Move, chess.Board], bool]
) -> None:
    def claim(line: Line) -> None:
        assert all(check(*step) for step in moves_told(line, move)), move

    reader.waiting.append(claim)


def fork(reader: Reader, forker: str, forked: str) -> None:
    attacked = set(reader.named(forked))
    assert attacked <= set(reader.board.attacks(reader.named(forker)[0]))
    assert len(attacked) > 1


def fork_by_move(reader: Reader, move: str, forked: str) -> None:
    def forks(_: chess.Board, played: chess.Move, after: chess.Board) -> bool:
        attacked = units_named(after, forked)
        own = all(after.color_at(square) == after.turn for square in attacked)
        return own and len(attacked) > 1 and set(attacked) <= set(after.attacks(played.to_square))

    by_move(reader, move, forks)


def in_line(board: chess.Board, squares: list[int]) -> bool:
    """A slider, and two units of the other side before it with nothing else between."""
    slider, front, back = squares
    between = set(chess.SquareSet.between(slider, back) & board.occupied)
    sides = board.color_at(front) == board.color_at(back) != board.color_at(slider)
    return sides and between == {front} and front in board.attacks(slider)


def can_uncover(reader: Reader, move: str, unit: str, slider: str) -> None:
    """After a pass and the move the unit, once it is gone, uncovers a check by the slider."""
    board = passed(reader.board)
    board.push_san(re.sub(r"^\d+\.+", "", move))
    front, behind = (units_named(board, name)[0] for name in (unit, slider))
    assert not board.is_check()
    board.remove_piece_at(front)
    assert behind in board.checkers()


def pin(reader: Reader, slider: str, front: str, back: str) -> None:
    later(reader, in_line, f"{slider}, {front}, {back}")


def pinned_guard(reader: Reader, front: str, back: str, slider: str) -> None:
    later(reader, in_line, f"{slider}, {front}, {back}")


def overloaded(reader: Reader, guard: str, second: str) -> None:
    def guards(board: chess.Board, squares: list[int]) -> bool:
        return chess.parse_square(second) in board.attacks(squares[0])

    later(reader, guards, guard)


def guard_taken(reader: Reader, guard: str) -> None:
    square = reader.named(guard)[0]

    def claim(line: Line) -> None:
        assert any(
            move and board.is_capture(move) and taken_on(board, move) == square
            for board, move in zip(line.boards, line.moves, strict=False)
        )

    reader.waiting.append(claim)


def guard_driven(reader: Reader, guard: str) -> None:
    square = reader.named(guard)[0]
    reader.waiting.append(lambda line: _moves(line, square))


def _moves(line: Line, square: int) -> None:
    assert any(move and move.from_square == square for move in line.moves)


def uncovers(reader: Reader, move: str, slider: str) -> None:
    def opens(before: chess.Board, played: chess.Move, after: chess.Board) -> bool:
        at = units_named(after, slider)[0]
        new = set(after.attacks(at)) - set(before.attacks(at))
        return any(played.from_square in chess.SquareSet.between(at, to) for to in new)

    by_move(reader, move, opens)


def uncovers_check(reader: Reader, move: str, checker: str) -> None:
    by_move(
        reader,
        move,
        lambda _, played, after: (
            units_named(after, checker)[0] in after.checkers()
            and units_named(after, checker)[0] != played.to_square
        ),
    )


def double_check(reader: Reader, move: str) -> None:
    by_move(reader, move, lambda _, __, after: len(after.checkers()) == 2)


def trapped(reader: Reader) -> None:
    unit = reader.unit
    assert unit is not None

    def claim(line: Line) -> None:
        colour = reader.board.color_at(unit)
        boards = [reader.board, *line.boards]
        attacked = [b for b in boards if b.color_at(unit) == colour]
        assert any(board.attackers(not colour, unit) for board in attacked)

    reader.waiting.append(claim)


def trapped_now(reader: Reader) -> None:
    unit = reader.unit
    assert unit is not None
    assert reader.board.attackers(not reader.board.color_at(unit), unit)
    trapped(reader)


def mate_threat(reader: Reader, move: str) -> None:
    def threatens(_: chess.Board, __: chess.Move, after: chess.Board) -> bool:
        assert not after.is_check()
        passed = after.copy(stack=False)
        passed.push(chess.Move.null())
        return any(mates(passed, reply) for reply in list(passed.legal_moves))

    by_move(reader, move, threatens)


def mates(board: chess.Board, move: chess.Move) -> bool:
    board.push(move)
    mate = board.is_checkmate()
    board.pop()
    return mate


def retaking_mated(reader: Reader, _: str | None = None) -> None:
    """Some retake on the square of a capture of the line allows mate in at most two moves."""

    def claim(line: Line) -> None:
        assert any(
            allows_mate(after.copy(stack=False), move.to_square)
            for before, move, after in zip(line.boards, line.moves, line.boards[1:], strict=False)
            if move and before.is_capture(move)
        )

    reader.waiting.append(claim)


def allows_mate(board: chess.Board, square: int) -> bool:
    for retake in [move for move in board.legal_moves if move.to_square == square]:
        board.push(retake)
        mate = any(mates(board, move) for move in list(board.legal_moves)) or board.is_game_over()
        checks = any(board.gives_check(move) for move in board.legal_moves)
        board.pop()
        if mate or checks:
            return True
    return False


def mated_on_rank(reader: Reader) -> None:
    def claim(line: Line) -> None:
        assert line.end.is_checkmate()
        king = line.end.king(line.end.turn) or 0
        first = 0 if line.end.turn else 7
        assert chess.square_rank(king) == first
        assert any(chess.square_rank(at) == first for at in line.end.checkers())

    reader.waiting.append(claim)


def given(reader: Reader, pawn: str) -> None:
    later(reader, lambda board, squares: board.piece_type_at(squares[0]) == chess.PAWN, pawn)


def interference(reader: Reader, move: str, guard: str) -> None:
    def cuts(before: chess.Board, played: chess.Move, _: chess.Board) -> bool:
        at = units_named(before, guard)[0]
        return not before.is_capture(played) and played.to_square in before.attacks(at)

    by_move(reader, move, cuts)


def in_between(reader: Reader, move: str, square: str) -> None:
    left = chess.parse_square(square)
    by_move(reader, move, lambda _, played, __: played.to_square != left)


def desperado(reader: Reader, taker: str) -> None:
    def attacked(board: chess.Board, squares: list[int]) -> bool:
        return bool(board.attackers(not board.color_at(squares[0]), squares[0]))

    later(reader, attacked, taker)


def later_in_line(reader: Reader, told: str) -> None:
    """A sentence on units that come to stand so in the line only."""
    for pattern, check in MECHANISM_RULES:
        found = re.fullmatch(pattern, told)
        if found:
            check(reader, *found.groups())
            return
    raise AssertionError(f"nobody examines: {told}")


MECHANISM_RULES: list[tuple[str, Callable[..., None]]] = [
    (rf"({ONE}) forks ({SOME})", fork),
    (rf"({MOVE}) forks ({SOME})", fork_by_move),
    (rf"After (\d+\.+\S+) ({ONE}) can uncover a check by ({ONE})", can_uncover),
    (rf"({ONE}) pins ({ONE}) to ({ONE})", pin),
    (rf"({ONE}) attacks ({ONE}), and ({ONE}) stands behind on the same line: a skewer", pin),
    (rf"[Ii]ts guard, ({ONE}), is pinned to ({ONE}) by ({ONE})", pinned_guard),
    (rf"({ONE}) guards it and also (\w\d), and cannot do both", overloaded),
    (rf"[Ii]ts guard, ({ONE}), is taken first", guard_taken),
    (rf"({ONE}), a guard against the mate, is taken first", guard_taken),
    (rf"({ONE}), a guard against the mate, is driven or drawn off first", guard_driven),
    (rf"({ONE}) guards against the mate and also (\w\d), and cannot do both", overloaded),
    (rf"[Ii]ts guard, ({ONE}), is driven or drawn off first", guard_driven),
    (rf"({MOVE}) uncovers the line of ({ONE}): a discovered attack", uncovers),
    (rf"({MOVE}) uncovers a check by ({ONE})", uncovers_check),
    (rf"({MOVE}) is check from two sides at once, so the king has to move", double_check),
    (r"It is trapped: once attacked, there is no move (?:to safety|at all)", trapped),
    (r"It is trapped: it has no move (?:to safety|at all)", trapped_now),
    (rf"[Tt]aking back would allow a back-rank mate of ({ONE})", retaking_mated),
    (r"It is a back-rank mate", mated_on_rank),
    (rf"({MOVE}) threatens mate, which has to be met", mate_threat),
    (r"[Tt]aking back would allow mate", retaking_mated),
    (r"In the line a pawn promotes on (\w\d)", Reader.promoted),
    (rf"[Ii]t has to be given for ({ONE}), which would promote", given),
    (rf"({MOVE}) cuts it off from its guard, ({ONE})", interference),
    (rf"({MOVE}) comes in between, before anything is taken back on (\w\d)", in_between),
    (rf"({ONE}) would be lost anyway and takes what it can: a desperado", desperado),
    (r"Later in the line, (.*)", later_in_line),
]

"""Holds why a move is said to fail against its refutation."""

import re
from collections.abc import Callable

import chess

from fastness import core
from tests.survey.answer_rules import (
    attacks,
    check_first,
    draws_away,
    takes_and_attacks,
    takes_guard,
    takes_with_check,
    threatens_too,
)
from tests.survey.claims import Line, as_before, change, fall, taken_on, units_named
from tests.survey.mechanism_rules import MOVE, ONE, SOME, in_line, standing


def reason_holds(line: Line, told: str) -> None:
    """Raises AssertionError if the reason `told` is not what the boards of the line show."""
    stays = re.fullmatch(r"it does not win back what was lost(?:, and (.*))?", told)
    if stays:
        assert change(line, line.boards[0].turn) <= 0, told
        if stays[1]:
            reason_holds(line, stays[1])
        return
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


def promotes(line: Line, pawn: str, square: str) -> bool:
    after, at = line.boards[1], chess.parse_square(square)
    start = units_named(after, pawn)[0]
    assert after.piece_at(start) == chess.Piece(chess.PAWN, after.turn)
    return any(move and move.promotion and move.to_square == at for move in line.moves[1::2])


def attacked_at_once(line: Line, move: str, units: str) -> bool:
    """After a move of the opponent's in the line all of them are attacked."""
    for san, board in list(zip(line.sans, line.boards[1:], strict=True))[1::2]:
        squares = standing(board, units)
        if move.endswith(san) and squares is not None:
            own = {board.color_at(square) for square in squares} == {board.turn}
            return own and all(board.attackers(not board.turn, at) for at in squares)
    return False


def fall_for_less(line: Line, unit: str) -> bool:
    """What is taken is worth more than all that the line loses."""
    kind = line.boards[1].piece_type_at(units_named(line.boards[1], unit)[0]) or 0
    worth = {1: 100, 2: 300, 3: 300, 4: 500, 5: 900}[kind]
    return fall(line, unit) and worth > -change(line, line.boards[0].turn) > 0


def saved_and_lost(line: Line, saved: str, lost: str) -> bool:
    return as_before(line, saved) and fall(line, lost)


def takes(line: Line, taker: str, unit: str) -> bool:
    to = line.moves[0].to_square
    for before, move in zip(line.boards[1:], line.moves[1:], strict=False):
        if move.to_square == to and before.is_capture(move):
            squares = standing(before, f"{taker} {unit}")
            return squares == [move.from_square, to]
    return False


def in_the_way(line: Line, guard: str, unit: str) -> bool:
    before, after = line.boards[:2]
    start, end = (units_named(after, name)[0] for name in (guard, unit))
    between = line.moves[0].to_square in chess.SquareSet.between(start, end)
    guarded = start in before.attackers(before.turn, end)
    return between and guarded and start not in after.attackers(before.turn, end)


def left(line: Line, unit: str) -> bool:
    return no_guard(line, chess.square_name(units_named(line.boards[1], unit)[0]))


def no_guard(line: Line, square: str, lost: str | None = None) -> bool:
    """What moved bore on the square before, through others too, and no longer does."""
    at, move = chess.parse_square(square), line.moves[0]
    before, after = line.boards[0], line.boards[1]
    bore = move.from_square in bearing(before, before.turn, at)
    return (
        bore
        and move.to_square not in after.attackers(before.turn, at)
        and (lost is None or fall(line, lost))
    )


def bearing(board: chess.Board, side: chess.Color, square: int) -> set[int]:
    """What bears on a square, through others of its line too."""
    found: set[int] = set()
    bare = board.copy(stack=False)
    while more := set(bare.attackers(side, square)) - found:
        found |= more
        for at in more:
            bare.remove_piece_at(at)
    return found


def opened(line: Line, slider: str, unit: str) -> bool:
    after = line.boards[1]
    start, end = (units_named(after, name)[0] for name in (slider, unit))
    return line.moves[0].from_square in chess.SquareSet.between(start, end)


def fall_still(line: Line, units: str, still: str | None) -> bool:
    """What is still taken was in danger before the move, or its king was in check."""
    before, after, move = line.boards[0], line.boards[1], line.moves[0]
    if still and not before.is_check():
        unsafe = core.unsafe_units(before.fen(), reach=3)
        for at in units_named(after, units):
            home = move.from_square if at == move.to_square else at
            assert chess.square_name(home) in unsafe, f"{units} was not in danger"
    return fall(line, units)


def checks_in_vain(line: Line, lost: str, still: str | None) -> bool:
    return line.boards[1].is_check() and fall_still(line, lost, still)


def attacks_in_vain(line: Line, units: str, lost: str, still: str | None) -> bool:
    after = line.boards[1]
    theirs = units_named(after, units)
    attacked = all(after.attackers(not after.turn, at) for at in theirs)
    turns = {after.color_at(at) for at in theirs} == {after.turn}
    return attacked and turns and fall_still(line, lost, still)


def trades_lose(line: Line, square: str) -> bool:
    """What moved there is taken and taken back, and what is lost there is worth more than won."""
    at, own = chess.parse_square(square), line.boards[0].turn
    worth = {1: 100, 2: 300, 3: 300, 4: 500, 5: 900}
    won = {own: 0, not own: 0}
    for board, move in zip(line.boards, line.moves, strict=False):
        if move.to_square == at and board.is_capture(move):
            won[board.turn] += worth[board.piece_type_at(at) or 1]
    return line.moves[0].to_square == at and won[not own] > won[own] > 0


def not_taken_back(line: Line, square: str) -> bool:
    return line.moves[0].to_square != chess.parse_square(square)


def taken_back_too_late(line: Line, square: str) -> bool:
    """What moved first took elsewhere or nothing; on the square a later own move takes."""
    own, at = line.boards[0].turn, chess.parse_square(square)
    later = list(zip(line.boards, line.moves, strict=False))[1:]
    back = any(
        board.turn == own and move and board.is_capture(move) and move.to_square == at
        for board, move in later
    )
    return not_taken_back(line, square) and back


def not_won_back(line: Line, square: str) -> bool:
    """No move takes on the square where the last capture was."""
    return all(move.to_square != chess.parse_square(square) for move in line.boards[0].legal_moves)


def misses_mate(line: Line) -> bool:
    moves = core.survey(line.boards[0].fen(), reach=3)["moves"]
    return any(move["net"] == "mates" for move in moves)


_RULES: list[tuple[str, Callable[..., bool]]] = [
    (r"it allows mate", mated),
    (rf"({ONE}), put in between, is lost itself", blocker),
    (rf"the guard, ({ONE}), is pinned to ({ONE}) by ({ONE})", pinned),
    (rf"guarding does not help, since ({ONE}) is worth less than ({ONE})", worth_less),
    (rf"({ONE}) is still attacked more often than guarded", outnumbered),
    (
        rf"({ONE}) is still attacked more often than guarded, with what stands behind",
        outnumbered,
    ),
    (rf"({ONE}) promotes on (\w\d)", promotes),
    (rf"after ({MOVE}) ({SOME}) are attacked at the same time", attacked_at_once),
    (rf"it saves ({SOME}), but ({SOME}) (?:is|are) taken", saved_and_lost),
    (rf"({ONE}) takes ({ONE})", takes),
    (rf"it gets in the way of ({ONE}), a guard of ({ONE})", in_the_way),
    (rf"it no longer guards ({ONE})", left),
    (rf"it no longer guards (\w\d), and ({ONE}) is taken", no_guard),
    (rf"it opens the way for ({ONE}) to ({ONE})", opened),
    (rf"({MOVE}) is check first, and then ({SOME}) (?:is|are) taken", check_first),
    (rf"({MOVE}) attacks ({SOME}) as well, and ({SOME}) (?:is|are) taken", attacks),
    (rf"({MOVE}) attacks ({SOME})", attacks),
    (
        rf"({MOVE}) takes a guard of ({SOME}), and ({SOME}) (?:is|are) taken",
        takes_guard,
    ),
    (rf"({MOVE}) takes a guard of ({SOME})", takes_guard),
    (
        rf"({MOVE}) puts ({SOME}) in danger too, and ({SOME}) (?:is|are) taken in the end",
        threatens_too,
    ),
    (rf"({MOVE}) draws ({ONE}) away, and ({SOME}) (?:is|are) taken", draws_away),
    (rf"({MOVE}) takes ({ONE}) and gives check", takes_with_check),
    (rf"({MOVE}) takes ({ONE}) and attacks ({SOME}) as well", takes_and_attacks),
    (rf"it gives check, but ({SOME}) (?:is|are) (still )?taken", checks_in_vain),
    (rf"it attacks ({SOME}), but ({SOME}) (?:is|are) (still )?taken", attacks_in_vain),
    (rf"({SOME}) (?:is|are) (still )?taken", fall_still),
    (rf"({SOME}) (?:is|are) taken in the end", fall),
    (rf"({ONE}) is taken in the end, for something worth less", fall_for_less),
    (r"it does not take back on (\w\d)", not_taken_back),
    (r"it takes back on (\w\d) too late", taken_back_too_late),
    (r"it does not win back what was taken on (\w\d)", not_won_back),
    (r"it misses the mate", misses_mate),
    (r"the trades on (\w\d) lose more than they win", trades_lose),
    (
        r"two are attacked at once, and one is lost|it walks into a capture|a guard is pinned"
        r"|what it attacks in turn is not enough|the answer attacks something more"
        r"|it uncovers something else|a pawn promotes|what is put in between is lost itself"
        r"|it does nothing about the danger|something is taken in the end"
        r"|guarding does not help, since what takes is worth less"
        r"|it is still attacked more often than guarded",
        plain,
    ),
]

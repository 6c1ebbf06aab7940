"""The mechanisms of docs/mechanisms.md that are named from moves: forks, checks, mates, pawns."""

from collections.abc import Iterator
from itertools import pairwise

import chess
from chess import KING

from tests.judge.board import (
    THRESHOLD,
    best_exchange,
    exchange,
    on_paper,
    slides,
    taken_on,
    worth_on,
)
from tests.judge.case import Case, known_as
from tests.judge.played import Step

MINOR_AND_MAJOR = (chess.KNIGHT, chess.BISHOP, chess.ROOK, chess.QUEEN)


def fork(case: Case) -> Iterator[set[int]]:
    """The forking unit on the squares from which it can fork, with all that it attacks."""
    taking = case.capture
    if taking is None:
        return
    home = taking.homes[taking.move.from_square]
    views = [
        (step.after, step.move.to_square, step.homes)
        for step in case.earlier()
        if step.homes.get(step.move.from_square) == home
    ]
    if next(iter(case.attacks()), None) is taking:
        views.append((taking.before, taking.move.from_square, taking.homes))
    for board, at, homes in views:
        targets = {
            square
            for square in board.attacks(at) & board.occupied_co[case.owner]
            if _worth_forking(board, at, square, case.attacker)
        }
        if len(targets) > 1 and any(homes.get(square) == case.unit for square in targets):
            yield known_as({at, home} | targets, homes)


def _worth_forking(board: chess.Board, at: int, square: int, attacker: chess.Color) -> bool:
    """The king, or worth more than what attacks it, or it would fall by the exchange count.

    The other units attacked at the same time are no guards: they fall or move off.
    """
    if worth_on(board, square) > worth_on(board, at) or board.piece_type_at(square) == KING:
        return True
    capture, turned = chess.Move(at, square), board.copy(stack=False)
    turned.turn, turned.ep_square = attacker, None
    if turned.is_legal(capture) and exchange(turned, square, capture) >= THRESHOLD:
        return True
    for other in board.attacks(at) & board.occupied_co[not attacker] & ~board.kings:
        if other != square:
            turned.remove_piece_at(other)
    return turned.is_legal(capture) and exchange(turned, square, capture) >= THRESHOLD


def discovered_attack(case: Case) -> Iterator[set[int]]:
    """M leaves the line of S, which then bears on the king; or on the unit, or on what is worth
    more than M could lose, and S or M takes the unit."""
    taking = case.capture
    taker = taking.homes[taking.move.from_square] if taking else None
    for step in case.attacks():
        off, to = step.move.from_square, step.move.to_square
        lost = worth_on(step.before, off) if step.after.attackers(case.owner, to) else 0
        for slider, target in _opened(step):
            takes = taker in (step.homes[slider], step.homes[off])
            checks = step.after.piece_type_at(target) == KING
            more = step.homes.get(target) == case.unit or worth_on(step.after, target) > lost
            if checks or (takes and more):
                yield known_as({off, to, slider, case.unit, target}, step.homes)


def _opened(step: Step) -> Iterator[tuple[int, int]]:
    """A slider and what it bears on, since the unit between has moved off."""
    off, after = step.move.from_square, step.after
    for slider in chess.SquareSet(after.occupied_co[step.side]):
        if slider == step.move.to_square or slider not in step.homes:
            continue
        for target in after.attacks(slider) & after.occupied_co[not step.side]:
            if off in chess.SquareSet.between(slider, target) and slides(after, slider, target):
                yield slider, target


def discovered_check(case: Case) -> Iterator[set[int]]:
    for step in case.attacks():
        for checker in step.after.checkers():
            if checker != step.move.to_square and checker in step.homes:
                yield known_as(
                    {step.move.from_square, step.move.to_square, checker} | _king(step.after),
                    step.homes,
                )


def double_check(case: Case) -> Iterator[set[int]]:
    for step in case.attacks():
        checkers = set(step.after.checkers())
        if len(checkers) > 1:
            moved = {step.move.from_square}
            yield known_as(checkers | _king(step.after) | moved, step.homes)


def _king(board: chess.Board) -> set[int]:
    """The king of the side to move."""
    king = board.king(board.turn)
    return set() if king is None else {king}


def trapped(case: Case) -> Iterator[set[int]]:
    if case.start.piece_type_at(case.unit) not in MINOR_AND_MAJOR:
        return
    still = [step for step in case.earlier() if case.line.where(case.unit, step) == case.unit]
    at = case.unit
    for board in [case.start, *(step.after for step in still)]:
        checked = board.turn == case.owner and board.is_check()
        if checked or best_exchange(board, at, case.attacker) < THRESHOLD:
            continue
        moves = _moves_of(board, at, case.owner)
        if all(_lost_where_it_goes(board, move) for move in moves):
            yield {at} | {move.to_square for move in moves} | set(board.attacks(at))


def _moves_of(board: chess.Board, at: int, owner: chess.Color) -> list[chess.Move]:
    turned = board.copy(stack=False)
    if turned.turn != owner:
        turned.turn, turned.ep_square = owner, None
    return list(turned.generate_legal_moves(from_mask=chess.BB_SQUARES[at]))


def _lost_where_it_goes(board: chess.Board, move: chess.Move) -> bool:
    after = board.copy(stack=False)
    owner = board.color_at(move.from_square)
    after.turn = bool(owner)
    taken = taken_on(after, move)
    gained = worth_on(after, taken) if taken is not None else 0
    after.push(move)
    return best_exchange(after, move.to_square, not owner) - gained >= THRESHOLD


def back_rank(case: Case) -> Iterator[set[int]]:
    for board, mate in _mates(case):
        after = board.copy(stack=False)
        after.push(mate)
        king = after.king(case.owner)
        first = 0 if case.owner else 7
        if king is None or chess.square_rank(king) != first or not after.is_checkmate():
            continue
        along = [
            checker
            for checker in after.checkers()
            if chess.square_rank(checker) == first
            and after.piece_type_at(checker) in (chess.ROOK, chess.QUEEN)
        ]
        if along and _shut_in(after, king, case.owner):
            yield {mate.to_square, mate.from_square, king, *along}


def _mates(case: Case) -> Iterator[tuple[chess.Board, chess.Move]]:
    """Where the attacker mates: at the end of the line, or by force after a retake of the unit."""
    if case.line.steps and case.line.mates(case.attacker):
        yield case.line.steps[-1].before, case.line.steps[-1].move
    if case.capture is None:
        return
    at = case.capture.move.to_square
    for retake in case.capture.after.generate_legal_captures(to_mask=chess.BB_SQUARES[at]):
        retaken = case.capture.after.copy(stack=False)
        retaken.push(retake)
        for check in _checks(retaken):
            after = retaken.copy(stack=False)
            after.push(check)
            answered = [_mate_after(after, reply) for reply in after.legal_moves]
            if not answered:
                yield retaken, check
            yield from (mate for mate in answered if mate and all(answered))


def _checks(board: chess.Board) -> list[chess.Move]:
    return [move for move in board.legal_moves if board.gives_check(move)]


def _mate_after(board: chess.Board, reply: chess.Move) -> tuple[chess.Board, chess.Move] | None:
    """A mate in answer to a reply, such as one that only puts a unit between."""
    after = board.copy(stack=False)
    after.push(reply)
    for move in _checks(after):
        after.push(move)
        mate = after.is_checkmate()
        after.pop()
        if mate:
            return after, move
    return None


def _shut_in(board: chess.Board, king: int, owner: chess.Color) -> bool:
    """Each square before the king is held by an own unit or attacked, one at least is held."""
    ahead = 8 if owner else -8
    front = [king + ahead + side for side in (-1, 0, 1) if 0 <= chess.square_file(king) + side <= 7]
    own = [square for square in front if board.color_at(square) == owner]
    return bool(own) and all(
        square in own or board.attackers(not owner, square) for square in front
    )


def mate_threat(case: Case) -> Iterator[set[int]]:
    if case.line.steps and case.line.mates(case.attacker):
        yield set(chess.SQUARES)
    for step in case.line.steps:
        own = step.side == case.attacker and step is not case.capture
        if own and not step.after.is_check():
            yield from (
                {*known_as({mate.from_square, mate.to_square}, step.homes), *_king(step.after)}
                for mate in _mates_next(step)
            )
    if case.capture is not None:
        yield from _mated_if_it_retakes(case.capture)


def _mates_next(step: Step) -> Iterator[chess.Move]:
    passed = step.after.copy(stack=False)
    passed.push(chess.Move.null())
    yield from _mates_in_one(passed)


def _mates_in_one(board: chess.Board) -> Iterator[chess.Move]:
    for move in _checks(board):
        after = board.copy(stack=False)
        after.push(move)
        if after.is_checkmate():
            yield move


def _mated_if_it_retakes(capture: Step) -> Iterator[set[int]]:
    """The units that begin a mate, with the king, where every retake that loses nothing by the
    exchange count is mated at once or by two checks."""
    at, mates, king = capture.move.to_square, set[int](), _king(capture.after)
    for retake in capture.after.generate_legal_captures(to_mask=chess.BB_SQUARES[at]):
        retaken = capture.after.copy(stack=False)
        retaken.push(retake)
        begins = set(_mates_in_one(retaken)) | {
            check for check in _checks(retaken) if _mates_whatever(retaken, check)
        }
        if not begins and on_paper(capture.after, at, retake) >= 0:
            return
        mates |= {move.from_square for move in begins}
    for unit in mates:
        yield {unit} | king


def _mates_whatever(board: chess.Board, check: chess.Move) -> bool:
    """Whether every reply to a check is answered by mate."""
    after = board.copy(stack=False)
    after.push(check)
    return all(_mate_after(after, reply) for reply in after.legal_moves)


def promotion(case: Case) -> Iterator[set[int]]:
    for step in case.line.steps:
        if step.side == case.attacker and step.move.promotion:
            yield known_as({step.move.from_square, step.move.to_square}, step.homes) | {case.unit}
    for board, homes in case.boards():
        seventh = chess.BB_RANK_7 if case.attacker else chess.BB_RANK_2
        for pawn in board.pieces(chess.PAWN, case.attacker) & seventh:
            goals = {pawn + 8 if case.attacker else pawn - 8}
            goals |= set(board.attacks(pawn))
            yield known_as({pawn} | goals, homes) | {case.unit}


def in_between_move(case: Case) -> Iterator[set[int]]:
    for capture, instead in pairwise(case.line.steps):
        at = capture.move.to_square
        if capture.side != case.owner or capture.taken is None or instead.side == case.owner:
            continue
        could = any(instead.before.generate_legal_captures(to_mask=chess.BB_SQUARES[at]))
        if could and instead.taken != at:
            yield known_as(
                {at, instead.move.from_square, instead.move.to_square, case.unit}, instead.homes
            )

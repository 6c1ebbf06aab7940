"""What is wrong with the exercises on the shelf."""

from __future__ import annotations

from collections.abc import Iterator

import chess
from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.store.shelf_tables import ShelvedExercise
from fastness.survey.position import position_key


def shelf_faults(session: Session) -> Iterator[str]:
    """A sentence for each exercise that cannot be read, or whose answers its position denies."""
    for number in session.scalars(select(ShelvedExercise.id).order_by(ShelvedExercise.id)).all():
        try:
            fault = _fault(session.get_one(ShelvedExercise, number))
        except (ValueError, TypeError, AttributeError, KeyError) as error:
            fault = f"it cannot be read: {error}"
        if fault:
            yield f"exercise {number}: {fault}"


def _fault(exercise: ShelvedExercise) -> str | None:
    board = chess.Board(exercise.fen)
    if not board.is_valid():
        return "its position cannot stand on a board"
    if position_key(exercise.survey["fen"]) != position_key(exercise.fen):
        return "its proof is of another position"
    if exercise.asked is not None and not _is_legal(board, exercise.asked):
        return f"{exercise.asked}, which is asked about, is not legal"
    possible = _possible(exercise, board)
    for answer in (*exercise.accepted, *exercise.not_judged):
        if answer not in possible:
            return f"{answer} is no answer to it"
    return None


def _is_legal(board: chess.Board, uci: str) -> bool:
    return chess.Move.from_uci(uci) in board.legal_moves


def _possible(exercise: ShelvedExercise, board: chess.Board) -> set[str]:
    """What may be answered: squares of own units, legal moves, replies to a move, or yes and no."""
    match exercise.kind:
        case "which unit":
            own = chess.SquareSet(board.occupied_co[board.turn])
            return {chess.square_name(square) for square in own}
        case "is it safe":
            return {"yes", "no"}
        case "why it fails":
            board.push_uci(exercise.asked or "")
        case "every move" | "better way":
            pass
        case other:
            raise ValueError(f"{other} is no question")
    return {move.uci() for move in board.legal_moves}

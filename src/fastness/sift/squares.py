"""Which squares an occasion is about, and where a unit stands after its side's move."""

import chess

from fastness.core.shapes import Look, Survey, Unit
from fastness.sift.outcome import in_danger, seizes

_UNSAFE = ("unsafe", "unsafe together")
_ROOKS = {"e1g1": ("h1", "f1"), "e1c1": ("a1", "d1"), "e8g8": ("h8", "f8"), "e8c8": ("a8", "d8")}


def unsafe_units(survey: Survey) -> list[Unit]:
    """The units of the side to move that could be won, alone or together."""
    return [unit for unit in survey["units"] if unit["status"] in _UNSAFE]


def danger_squares(look: Look, survey: Survey) -> list[str]:
    """The squares an occasion of danger is about, in the position before the move.

    They are those of the unsafe units; where there was no danger, or a check, those of what the
    move played drops; and the king's where a check was met.
    """
    if in_danger(look):
        return [unit["square"] for unit in unsafe_units(survey)]
    if not look["played"]["holds"] and look["played"]["drops"]:
        return list(look["played"]["drops"])
    if look["in_check"]:
        return [unit["square"] for unit in survey["units"] if unit["unit"] == "king"]
    return []


def taking_squares(look: Look, survey: Survey) -> list[str]:
    """The squares of the opponent's units that could be won.

    In check no takings are judged: there they are what the moves that win it take, or the king.
    """
    if survey["takings"] or not look["in_check"]:
        return [unit["square"] for unit in survey["takings"]]
    board = chess.Board(look["fen"])
    best = look["best_net"]
    king = board.king(not board.turn)
    if best == "mates" and king is not None:
        return [chess.square_name(king)]
    winning = [move for move in survey["moves"] if best is not None and seizes(move["net"], best)]
    if len(winning) == look["legal"]:
        # What every move nets was won before.
        return []
    taken: list[str] = []
    for verdict in winning:
        move = chess.Move.from_uci(verdict["uci"])
        if not board.is_capture(move):
            continue
        square = verdict["uci"][2:4]
        if board.is_en_passant(move):
            # The pawn taken stands beside the one that takes it.
            square = square[0] + verdict["uci"][1]
        if square not in taken:
            taken.append(square)
    return taken


def after(square: str, look: Look) -> str:
    """Where the unit on this square stands once the move played has been made."""
    uci = look["played"]["uci"]
    if square == uci[:2]:
        return uci[2:4]
    if look["played"]["san"].startswith("O-O"):
        home, away = _ROOKS[uci]
        if square == home:
            return away
    return square

"""A move for those who hear it: what moves where, what it takes, and whether it checks."""

from __future__ import annotations

import chess

from fastness.language import ENGLISH, Language, marked
from fastness.survey.nouns import a_unit, on_square

_ENDS = {
    "check": marked("{told}, check"),
    "mate": marked("{told}, mate"),
}


def move_in_words(board: chess.Board, uci: str, san: str, language: Language = ENGLISH) -> str:
    """``the knight on f3 takes the pawn on e5, check``; a pass reads ``pass``.

    The move is to be legal on `board`; `san` is it in SAN, which tells whether it checks.
    """
    move = chess.Move.from_uci(uci)
    if not move:
        return language.say_as("a move of a line", "pass")
    told = _moved(board, move, language)
    if move.promotion:
        becomes = a_unit(chess.piece_name(move.promotion), language)
        told = language.say("{told} and becomes {unit}", told=told, unit=becomes)
    end = {"+": "check", "#": "mate"}.get(san[-1:])
    return language.say(_ENDS[end], told=told) if end else told


def _moved(board: chess.Board, move: chess.Move, language: Language) -> str:
    if board.is_kingside_castling(move):
        return language.say("castling to the king's side")
    if board.is_queenside_castling(move):
        return language.say("castling to the queen's side")
    start, end = chess.square_name(move.from_square), chess.square_name(move.to_square)
    unit = on_square(board, start, language)
    if board.is_en_passant(move):
        return language.say("{unit} takes en passant on {square}", unit=unit, square=end)
    if board.is_capture(move):
        return language.say(
            "{unit} takes {taken}", unit=unit, taken=on_square(board, end, language)
        )
    return language.say("{unit} moves to {square}", unit=unit, square=end)

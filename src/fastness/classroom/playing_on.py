"""A student plays on against the refutation of a try, until the matter is decided."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import chess
from chess import BISHOP, KNIGHT, PAWN, QUEEN, ROOK

from fastness import core
from fastness.classroom.session import (
    BoardPosition,
    Play,
    State,
    Try,
    Words,
    board_after,
    in_each_language,
)
from fastness.core.shapes import Net
from fastness.errors import InputError, MoveError
from fastness.language import Language
from fastness.sift.outcome import number
from fastness.survey.words import THRESHOLD, ahead, side_name, worth
from fastness.workflows.replying import best_reply

REACH = 3
"""The opponent's moves looked ahead, wherever the play stands."""
_VALUES = {PAWN: 100, KNIGHT: 300, BISHOP: 300, ROOK: 500, QUEEN: 900}
"""The values `classical` of the core, in centipawns."""


def begun_at(position: BoardPosition, tried: Try, step: int) -> Play:
    """The play from a refutation after its first `step` moves, where the student is to move next.

    Raises InputError where the try holds: there is nothing to play on against.
    """
    if tried.verdict.holds:
        raise InputError("This try keeps the material; there is no refutation to play against.")
    line = _answered(position, tried.verdict.line[: max(2, step + step % 2)])
    state, told = settled(position, line)
    return Play(tried.number, line, len(line), state, told)


def defended(position: BoardPosition, play: Play, move: str) -> Play:
    """The play after the student's move (UCI) and the best answer to it.

    Raises MoveError where the move is not legal.
    """
    board = board_after(position.fen, play.line)
    if chess.Move.from_uci(move) not in board.legal_moves:
        raise MoveError(f"{move} is not legal in {board.fen()}")
    line = _answered(position, (*play.line, move))
    state, told = settled(position, line)
    return replace(play, line=line, state=state, told=told)


def _answered(position: BoardPosition, line: tuple[str, ...]) -> tuple[str, ...]:
    """A line with the best answer to it, if the student has moved last and it can be answered."""
    if len(line) % 2 == 0:
        return line
    reply = best_reply(position.start, " ".join((*position.moves, *line)))
    return (*line, reply.step.uci) if reply.step else line


def taken_back(position: BoardPosition, play: Play) -> Play:
    """The play before the student's last move. Raises InputError where there was none."""
    if len(play.line) <= play.begun:
        raise InputError("Nothing was played on yet; there is no move to take back.")
    # The student's side made the first move of the line and every second one after it.
    line = play.line[: len(play.line) - (2 if len(play.line) % 2 == 0 else 1)]
    state, told = settled(position, line)
    return replace(play, line=line, state=state, told=told)


def settled(position: BoardPosition, line: Sequence[str]) -> tuple[State, Words]:
    """What is settled after a line, for the side that moved first in it, and what is not.

    What it has lost is counted from the balance of the position, or from before the trade that
    was in progress there; what stays lost, from the best move that it has now, to `REACH`. It is
    decided when the loss is on the board, no more and no less than what stays lost.
    """
    board = board_after(position.fen, line)
    own = chess.Board(position.fen).turn
    if not any(board.legal_moves):
        return "decided", in_each_language(lambda language: _over(board, language))
    owed = core.survey(position.start, moves=position.moves, reach=1)["owed"]
    lost = owed + _balance(chess.Board(position.fen), own) - _balance(board, own)
    best = _best_net(board.fen())
    stays = lost - best if isinstance(best, int) else None
    state: State = "open"
    if best == "mates" or (stays is not None and stays < THRESHOLD):
        state = "not settled"
    elif stays is not None and lost >= THRESHOLD and stays == lost:
        state = "decided"
    return state, in_each_language(lambda language: _told(own, lost, stays, best, language))


def _balance(board: chess.Board, own: chess.Color) -> int:
    """What a side has more than the other, in centipawns."""
    return sum(
        value * (len(board.pieces(kind, own)) - len(board.pieces(kind, not own)))
        for kind, value in _VALUES.items()
    )


def _best_net(fen: str) -> Net:
    return max((move["net"] for move in core.survey(fen, reach=REACH)["moves"]), key=number)


def _over(board: chess.Board, language: Language) -> str:
    side = side_name("white" if board.turn else "black", language)
    if board.is_check():
        return language.say("{own} is mated.", own=side)
    return language.say("{own} has no legal move: stalemate.", own=side)


def _told(own: chess.Color, lost: int, stays: int | None, best: Net, language: Language) -> str:
    say, seen = language.say, ahead(REACH, language)
    side = side_name("white" if own else "black", language)
    if best == "mated":
        return say("{side} cannot avoid mate, {seen}.", side=side, seen=seen)
    if stays is None or stays < THRESHOLD:
        return say(
            "Not settled: from here {side} loses nothing that stays lost, {seen}.",
            side=side,
            seen=seen,
        )
    if lost < THRESHOLD:
        return say(
            "Nothing is lost yet, but {side} cannot keep everything: {worth}, {seen}.",
            side=side,
            worth=worth(stays, language),
            seen=seen,
        )
    values = {"side": side, "worth": worth(lost, language), "seen": seen}
    if stays > lost:
        return say(
            "{side} has lost {worth}, and loses more: {whole} in all, {seen}.",
            whole=worth(stays, language),
            **values,
        )
    if stays < lost:
        return say(
            "{side} has lost {worth} and wins some of it back; {whole} stays lost, {seen}.",
            whole=worth(stays, language),
            **values,
        )
    return say("{side} has lost {worth}, and it stays lost, {seen}.", **values)

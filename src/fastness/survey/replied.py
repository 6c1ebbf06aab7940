"""What a move has ready for the replies that refute other moves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import chess
from chess import KING

from fastness.core.shapes import MoveVerdict, Survey
from fastness.survey.claim import IfReplied
from fastness.survey.retaken import best_answer, gained, landing
from fastness.survey.tries import Try, loss, rank_of
from fastness.survey.words import THRESHOLD

MOST = 2
"""Replies answered for one move."""


def refuting(tries: Sequence[Try]) -> tuple[str, ...]:
    """The replies (UCI) that refute natural tries, the one that refutes most of them first."""
    lines = [one.move["line"] or [] for one in tries]
    replies = [line[1] for line in lines if len(line) > 1]
    return tuple(sorted(dict.fromkeys(replies), key=lambda uci: (-replies.count(uci), uci)))


def if_replied(
    survey: Survey, verdict: MoveVerdict, replies: Sequence[str], told: Sequence[str]
) -> Iterator[IfReplied]:
    """What is ready for the first of these replies that a reader fears after the move too.

    Those are checks, and attacks on something worth more or unguarded. Nothing for the replies
    `told` already, and where the reply takes what moved.
    """
    move, number = verdict["uci"], 0
    after = chess.Board(survey["fen"])
    after.push_uci(move)
    if after.is_check():
        return
    for reply in replies:
        played = chess.Move.from_uci(reply)
        landed = reply[2:4] == move[2:4]
        if landed or reply in told or not after.is_legal(played) or not _feared(after, played):
            continue
        if (line := _answered(survey, move, reply)) and number < MOST:
            number += 1
            yield IfReplied(move, line)


def _answered(survey: Survey, move: str, reply: str) -> tuple[str, ...]:
    """The move, the reply, and what wins nothing by it; empty where that does not show."""
    ways = landing(survey, survey["fen"], (move,), reply[2:4])
    one = next((one for one in ways if one["uci"] == reply), None)
    if one is None or one["net"] == "mates" or loss(one) <= -THRESHOLD:
        return ()
    rest = tuple(one["line"] or ())[1:] or best_answer(survey, (move, reply))
    line = (move, reply, *rest)
    return line if rest and gained(survey, line) > -THRESHOLD else ()


def _feared(board: chess.Board, reply: chess.Move) -> bool:
    """Whether a reply gives check, or attacks something worth more or loose.

    Then it takes nothing, and goes to where nothing attacks it.
    """
    after = board.copy(stack=False)
    after.push(reply)
    if board.is_capture(reply) or after.is_check():
        return after.is_check()
    if after.attackers(after.turn, reply.to_square):
        return False
    own = rank_of(board.piece_type_at(reply.from_square) or KING)
    news = after.attacks(reply.to_square) - board.attacks(reply.from_square)
    return any(
        rank_of(after.piece_type_at(square) or KING) > own
        or not after.attackers(after.turn, square)
        for square in news & after.occupied_co[after.turn]
    )

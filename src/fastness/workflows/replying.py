"""The other side's answer, so that somebody can play on against a refutation."""

from __future__ import annotations

from dataclasses import dataclass

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey
from fastness.language import ENGLISH, Language
from fastness.sift.outcome import number
from fastness.survey.reading import Step, told_line
from fastness.workflows.reading import Position, position_of
from fastness.workflows.surveying import read_moves, read_position

RANK_NODES = 10_000
"""Nodes by which moves that net the same are told apart."""


@dataclass(frozen=True, slots=True)
class ReplyRead:
    """The answer and the position after it; no answer where the game is over."""

    step: Step | None
    position: Position


def best_reply(text: str, moves: str = "", language: Language = ENGLISH) -> ReplyRead:
    """The best answer of the side to move in a position, after `moves` (SAN or UCI) from it.

    The move that nets most at reach 3; of several the one that the evaluation ranks first, and of
    these the first as UCI. Raises PositionError and MoveError as `survey_position` does.
    """
    fen = read_position(text)
    played = read_moves(fen, moves)
    before = position_of(text, moves, language)
    if not before.moves:
        return ReplyRead(None, before)
    survey = core.survey(fen, moves=played, rank_nodes=RANK_NODES)
    move = _best(survey)
    step = told_line(survey["fen"], [move["uci"]], language).steps[0]
    return ReplyRead(step, position_of(step.fen, "", language))


def _best(survey: Survey) -> MoveVerdict:
    most = max(number(move["net"]) for move in survey["moves"])
    best = [move for move in survey["moves"] if number(move["net"]) == most]
    return min(best, key=lambda move: (move["rank"] or len(survey["moves"]), move["uci"]))

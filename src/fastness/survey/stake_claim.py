"""The claim that a quiet threat endangers more than it takes in the end."""

from __future__ import annotations

from dataclasses import dataclass

from fastness.survey.move_claim import Line, Squares


@dataclass(frozen=True, slots=True)
class AtStake:
    """After `line` the units on `squares` are not safe, alone or together, looked at to `reach`.

    `line` is a pass or a move that falls, and the opponent's quiet move after it. In the survey's
    position none of these units was unsafe, and each is worth more than what is lost by the line.
    """

    line: Line
    squares: Squares
    reach: int

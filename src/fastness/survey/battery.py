"""A quiet threat that puts a slider behind its own unit, with the king beyond it."""

from __future__ import annotations

import chess

from fastness.survey.claim import AtStake
from fastness.survey.findings import Findings
from fastness.survey.nouns import on_square
from fastness.survey.scene import play


def can_uncover_check(found: Findings, staked: AtStake) -> list[str]:
    """That after the quiet threat a unit can uncover a check; nothing where it is not so."""
    step = play(found.position.fen, staked.line)[-1]
    slider, king = step.move.to_square, step.after.king(step.after.turn)
    if king is None:
        return []
    between = chess.SquareSet.between(slider, king) & step.after.occupied
    if len(between) != 1:
        return []
    (front,) = between
    alone = step.after.copy(stack=False)
    alone.remove_piece_at(front)
    if step.after.color_at(front) is step.after.turn or king not in alone.attacks(slider):
        return []
    unit, behind = (
        on_square(step.after, chess.square_name(at), found.language) for at in (front, slider)
    )
    told = found.language.say(
        "After {move} {unit} can uncover a check by {slider}.",
        move=found.threat(staked.line),
        unit=unit,
        slider=behind,
    )
    return [told]

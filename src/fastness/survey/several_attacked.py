"""That several units are attacked at once and one of them is lost, in words."""

from __future__ import annotations

import chess

from fastness.language import marked
from fastness.survey.lines import taken_at
from fastness.survey.not_taken_back import keeps_the_debt
from fastness.survey.scene import Step
from fastness.survey.teller import REST, Parts, Teller


def several_attacked(tell: Teller) -> Parts | None:
    """A fork, or the like, in the line; or what was attacked before, of which one is saved."""
    lost, *rest = tell.squares or [chess.A1]
    if not rest:
        return None
    for place, step in list(enumerate(tell.steps))[1::2]:
        if not _attacks_them_all(tell, place):
            continue
        dearest = sorted(rest, key=lambda at: -(step.after.piece_type_at(at) or 0))
        units = tell.names(step.after, [*dearest[: REST - 1], lost])
        if tell.you is not None and place == 1:
            return marked("after that {units} are attacked at the same time"), {"units": units}
        text = marked("after {move} {units} are attacked at the same time")
        return text, {"move": tell.numbered(step), "units": units}
    return _one_saved(tell, lost, rest)


def _attacks_them_all(tell: Teller, place: int) -> bool:
    """Whether after a move of the opponent's all are attacked, and were not before.

    What takes and is taken back at once has attacked nothing for long.
    """
    step = tell.steps[place]
    if not all(_attacked(step.after, square, tell.own) for square in tell.squares):
        return False
    lost = tell.squares[0]
    if _attacked(step.before, lost, tell.own) and step.move.to_square not in (
        step.after.attackers(not tell.own, lost)
    ):
        return False
    if all(_attacked(step.before, square, tell.own) for square in tell.squares):
        return False
    return not (step.takes and _taken_back(tell.steps, place))


def _taken_back(steps: tuple[Step, ...], place: int) -> bool:
    answer = steps[place + 1] if place + 1 < len(steps) else None
    return bool(answer and answer.takes and answer.move.to_square == steps[place].move.to_square)


def _attacked(board: chess.Board, square: int, own: chess.Color) -> bool:
    return board.color_at(square) == own and bool(board.attackers(not own, square))


def _one_saved(tell: Teller, lost: int, rest: list[int]) -> Parts | None:
    fallen = tell.lost() or tell.own_on([lost])
    in_danger = tell.stands(tell.found.endangered())
    fen, line = tell.after().fen(), tell.falls.line[1:]
    saved = [
        square
        for square in rest
        if square in in_danger
        and square not in fallen
        and taken_at(fen, line, chess.square_name(square)) != 0
    ]
    if not saved and not tell.lost():
        return None
    if keeps_the_debt(tell.found, tell.falls):
        return tell.fall(marked("{lost} is taken"), marked("{lost} are taken"), fallen[:REST])
    if not saved:
        return tell.taken_later(fallen[:REST])
    return tell.fall(
        marked("it saves {rest}, but {lost} is taken"),
        marked("it saves {rest}, but {lost} are taken"),
        fallen[:REST],
        rest=tell.saved(saved),
    )

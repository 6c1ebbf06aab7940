"""Why a move fails that attacks something in turn, in words."""

from __future__ import annotations

from fastness.language import marked
from fastness.survey.teller import REST, Parts, Teller


def too_small(tell: Teller) -> Parts | None:
    """What the move attacks or that it gives check, and what is taken all the same."""
    after, fallen = tell.after(), tell.lost()
    before = tell.steps[0].before
    theirs = [
        square
        for square in tell.squares
        if after.color_at(square) == (not tell.own)
        and after.attackers(tell.own, square)
        and set(after.attackers(tell.own, square)) != set(before.attackers(tell.own, square))
    ]
    if not fallen or not theirs:
        return None
    still = tell.in_danger_before(fallen[:REST])
    if after.is_check():
        return tell.fall(*(_CHECKED_STILL if still else _CHECKED), fallen[:REST])
    texts = _ATTACKED_STILL if still else _ATTACKED
    return tell.fall(*texts, fallen[:REST], units=tell.some(after, theirs))


_CHECKED = (
    marked("it gives check, but {lost} is taken"),
    marked("it gives check, but {lost} are taken"),
)
_CHECKED_STILL = (
    marked("it gives check, but {lost} is still taken"),
    marked("it gives check, but {lost} are still taken"),
)
_ATTACKED = (
    marked("it attacks {units}, but {lost} is taken"),
    marked("it attacks {units}, but {lost} are taken"),
)
_ATTACKED_STILL = (
    marked("it attacks {units}, but {lost} is still taken"),
    marked("it attacks {units}, but {lost} are still taken"),
)

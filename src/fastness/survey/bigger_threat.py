"""Why a move fails that is answered with a bigger threat, in words."""

from __future__ import annotations

from fastness.language import marked
from fastness.survey.nouns import Noun
from fastness.survey.teller import REST, Parts, Teller


def bigger_threat(tell: Teller) -> Parts | None:
    """What the opponent's answer takes or attacks; None where the units are not found."""
    if len(tell.steps) < 2:
        return None
    after = tell.steps[1].after
    attacked = [square for square in tell.squares if after.color_at(square) == tell.own]
    lost = [square for square in tell.lost() if square not in attacked]
    at_once = [square for square in lost if square == tell.answer_takes()]
    spoken_to = tell.you is not None
    values: dict[str, Noun | str] = {}
    if not spoken_to:
        values["move"] = tell.numbered(tell.steps[1])
    if after.is_check() and lost:
        if at_once:
            return _fall(tell, _TAKES_WITH_CHECK[spoken_to], at_once, values)
        return _fall(tell, _CHECK[spoken_to], lost[:REST], values)
    if not attacked:
        return None
    values["units"] = tell.some(after, attacked)
    if at_once:
        return _fall(tell, _TAKES_AND_ATTACKS[spoken_to], at_once, values)
    takes_guard = _takes_a_guard(tell, attacked)
    if not lost:
        return (_TAKES_GUARD if takes_guard else _ATTACKS)[spoken_to], values
    texts = _TAKES_GUARD_WHILE if takes_guard else _ATTACKS_WHILE
    return _fall(tell, texts[spoken_to], lost[:REST], values)


def _takes_a_guard(tell: Teller, attacked: list[int]) -> bool:
    """Whether the answer attacks nothing that was not attacked, but takes what guarded it."""
    answer = tell.steps[1]
    before, after = answer.before, answer.after
    newly = any(
        after.attackers(not tell.own, square) - before.attackers(not tell.own, square)
        for square in attacked
    )
    taken = tell.answer_takes()
    if newly or taken is None:
        return False
    return all(taken in before.attackers(tell.own, square) for square in attacked)


def _fall(
    tell: Teller, texts: tuple[str, str], squares: list[int], values: dict[str, Noun | str]
) -> Parts:
    one, many = texts
    return tell.fall(one, many, squares, **values)


# On a page that speaks to nobody first, then to the player; of one unit lost, then of several.
_TAKES_WITH_CHECK = (
    (marked("{move} takes {lost} and gives check"),) * 2,
    (marked("that takes {lost} and gives check"),) * 2,
)
_CHECK = (
    (
        marked("{move} is check first, and then {lost} is taken"),
        marked("{move} is check first, and then {lost} are taken"),
    ),
    (
        marked("that is check first, and then {lost} is taken"),
        marked("that is check first, and then {lost} are taken"),
    ),
)
_TAKES_AND_ATTACKS = (
    (marked("{move} takes {lost} and attacks {units} as well"),) * 2,
    (marked("that takes {lost} and attacks {units} as well"),) * 2,
)
_ATTACKS_WHILE = (
    (
        marked("{move} attacks {units} as well, and {lost} is taken"),
        marked("{move} attacks {units} as well, and {lost} are taken"),
    ),
    (
        marked("that attacks {units} as well, and {lost} is taken"),
        marked("that attacks {units} as well, and {lost} are taken"),
    ),
)
_TAKES_GUARD_WHILE = (
    (
        marked("{move} takes a guard of {units}, and {lost} is taken"),
        marked("{move} takes a guard of {units}, and {lost} are taken"),
    ),
    (
        marked("that takes a guard of {units}, and {lost} is taken"),
        marked("that takes a guard of {units}, and {lost} are taken"),
    ),
)
_TAKES_GUARD = marked("{move} takes a guard of {units}"), marked("that takes a guard of {units}")
_ATTACKS = marked("{move} attacks {units}"), marked("that attacks {units}")

"""Which questions a proved position is good for, with their right answers.

An exercise is admitted only where every accepted and every rejected answer is firm; a move whose
verdict changes one move deeper is not judged, and counts neither for nor against anyone.
"""

from __future__ import annotations

import chess

from fastness.core.shapes import MoveVerdict, Unit
from fastness.exercises.better import better_ways
from fastness.exercises.exercise import Exercise, Proved
from fastness.exercises.proving import natural_failures, unsafe_squares
from fastness.survey.danger import has_danger

MOST_TO_FIND = 6
"""Right moves beyond which finding them is a chore, or where nearly anything wins no exercise."""
SHARE_NOT_JUDGED = 5
"""At most one legal move in so many may stand unjudged."""


def exercises_of(proved: Proved) -> list[Exercise]:
    """The exercises that a position admits; none where too much of it is not firm."""
    if not firm_enough(proved):
        return []
    return [
        *_which_unit(proved),
        *_every_move(proved),
        *_better_way(proved),
        *_why_it_fails(proved),
        *_is_it_safe(proved),
    ]


def _moves(proved: Proved, *, hold: bool) -> list[MoveVerdict]:
    return [
        move for move in proved.survey["moves"] if move["holds"] == hold and move["firm"] is True
    ]


def _not_judged(proved: Proved) -> tuple[str, ...]:
    return tuple(move["uci"] for move in proved.survey["moves"] if not move["firm"])


def firm_enough(proved: Proved) -> bool:
    """Whether so little of a position stands unjudged that it can be asked about at all."""
    legal = len(proved.survey["moves"])
    return legal > 1 and len(_not_judged(proved)) * SHARE_NOT_JUDGED <= legal


def _which_unit(proved: Proved) -> list[Exercise]:
    """Units that fall together are all right answers; a king is no answer to a piece question."""
    survey = proved.survey
    unsafe = unsafe_squares(survey)
    kings = {unit["square"] for unit in survey["units"] if unit["unit"] == "king"}
    if survey["in_check"] or not proved.firm_units or unsafe & kings:
        return []
    if has_danger(proved.survey) != bool(unsafe) or survey["promotions"]:
        return []
    # What can be won back, or is given up elsewhere, is a fair question only for the teacher.
    given = {unit["square"] for unit in survey["units"] if given_up(survey["fen"], unit)}
    if unsafe and not unsafe - given:
        return []
    open_ = {unit["square"] for unit in survey["units"] if unit["status"] == "won back"} | given
    return [Exercise("which unit", proved, tuple(sorted(unsafe - given)), tuple(sorted(open_)))]


def given_up(fen: str, unit: Unit) -> bool:
    """Whether a unit falls together with others only since its own side moves it there.

    Such is a pawn that is pushed in answer to a threat to a knight, and taken: the line shows that
    something is lost, and nobody would write that the pawn is in danger where it stands. A unit
    that the threat attacks where it stands is not given up, wherever it runs.
    """
    line, square = unit["line"], unit["square"]
    if unit["status"] != "unsafe together" or not line or len(line) < 2:
        return False
    if all(uci[:2] != square for uci in line[2::2]):
        return False
    board = chess.Board(fen)
    side = board.turn
    for uci in line[:2]:
        board.push_uci(uci)
    return not board.is_attacked_by(not side, chess.parse_square(square))


def _every_move(proved: Proved) -> list[Exercise]:
    holding = _moves(proved, hold=True)
    if not has_danger(proved.survey) or not 1 <= len(holding) <= MOST_TO_FIND:
        return []
    if not _moves(proved, hold=False):
        return []
    return [Exercise("every move", proved, _uci(holding), _not_judged(proved))]


def _better_way(proved: Proved) -> list[Exercise]:
    """Where the better ways are firm, few, and clearly ahead at a longer look as well."""
    better = better_ways(proved.survey) if proved.firm_better else ()
    return [Exercise("better way", proved, better, _not_judged(proved))] if better else []


def _why_it_fails(proved: Proved) -> list[Exercise]:
    return [
        Exercise("why it fails", proved, replies, proved.unsettled_replies.get(asked, ()), asked)
        for asked, replies in proved.replies.items()
        if len(replies) <= MOST_TO_FIND
    ]


def _is_it_safe(proved: Proved) -> list[Exercise]:
    """A natural move that holds and one that falls, so that neither answer pays by itself."""
    holding = [move for move in _moves(proved, hold=True) if move["natural"]]
    asked = [(move, "yes") for move in holding[:1]]
    asked += [(move, "no") for move in natural_failures(proved.survey)[:1]]
    return [Exercise("is it safe", proved, (answer,), (), move["uci"]) for move, answer in asked]


def _uci(moves: list[MoveVerdict]) -> tuple[str, ...]:
    return tuple(move["uci"] for move in moves)

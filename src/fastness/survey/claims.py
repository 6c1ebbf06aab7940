"""What a survey claims, as a list of claims. Text is made from these, never the other way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain

import chess

from fastness import core
from fastness.core.shapes import MoveVerdict, Survey, Unit, Way
from fastness.survey.at_stake import staked_by_threat
from fastness.survey.claim import (
    Cause,
    Claim,
    Count,
    InCheck,
    InDanger,
    Loose,
    Loss,
    Mated,
    NothingUnsafe,
    NoUnit,
    Owed,
    PerhapsATrade,
    Promotes,
    Reach,
    SafeByTactics,
    Stalemated,
    Taking,
    UnitAt,
    Unsafe,
    ValuesMatter,
    WonBack,
)
from fastness.survey.danger import has_danger
from fastness.survey.in_vain import saved_in_vain
from fastness.survey.move_claims import claims_on_moves
from fastness.survey.retaken import gained, retaken
from fastness.survey.tries import in_danger, is_quiet, loss
from fastness.survey.units import bear_behind, cost, falls_after
from fastness.survey.words import KINDS_BY_WORTH, THRESHOLD, WAYS

LOST = ("unsafe", "unsafe together")
"""The statuses of what falls."""
TABLES = ("classical", "kaufman")
"""The tables of values whose verdicts are compared."""


def claims(
    survey: Survey, *, moves_given: bool = False, order: Sequence[Way] = WAYS
) -> list[Claim]:
    """Everything that `survey` claims, the position first, then units, then moves.

    `moves_given`: the moves that led to the position are known, so a trade in progress is too.
    `order`: the ways as the teacher prefers them, by which moves of one rank are listed.
    """
    found: list[Claim] = [
        Reach(survey["fen"], survey["side"], survey["reach"], survey["values"]),
    ]
    if not survey["moves"]:
        return [*found, _over(survey)]
    found += _on_the_whole(survey)
    found += _on_units(survey)
    found += _on_takings(survey, moves_given=moves_given)
    found += claims_on_moves(survey, danger=has_danger(survey), order=order)
    if survey.get("values_matter"):
        found.append(ValuesMatter(TABLES, _turned_by_values(survey)))
    return found


def _turned_by_values(survey: Survey) -> tuple[str, ...]:
    """The moves that keep the material by one of the tables compared, and not by the other."""
    holding = []
    for table in TABLES:
        by_table = survey
        if table != survey["values"]:
            by_table = core.survey(survey["fen"], reach=survey["reach"], values=table)
        holding.append({move["uci"] for move in by_table["moves"] if move["holds"]})
    # In a trade the table measures from before it, which this position alone does not tell.
    return tuple(sorted(holding[0] ^ holding[1])) if not survey["owed"] else ()


def _king(board: chess.Board) -> str:
    return chess.square_name(board.king(board.turn) or 0)


def _over(survey: Survey) -> Claim:
    return Mated(_king(chess.Board(survey["fen"]))) if survey["in_check"] else Stalemated()


def _on_the_whole(survey: Survey) -> Iterator[Claim]:
    board = chess.Board(survey["fen"])
    if survey["owed"] > 0:
        yield Owed(survey["owed"])
    if survey["in_check"]:
        yield InCheck(_king(board), tuple(chess.square_name(at) for at in board.checkers()))
    elif survey["danger"]:
        by_reach = tuple(survey["danger"])
        if has_danger(survey):
            yield InDanger(by_reach, _in_the_end(survey))
        else:
            yield NothingUnsafe(by_reach)


def _in_the_end(survey: Survey) -> tuple[str, ...] | None:
    """A quiet move and what wins against it what the full reach shows, where nothing else does.

    That is where a shorter reach shows more, or no unit falls in a line that wins as much. None
    where no line shows more than the move.
    """
    *early, last = survey["danger"] or [0]
    if not isinstance(last, int):
        return None
    more = any(isinstance(one, int) and one > last for one in early)
    if not more and (
        survey["owed"] or any(_wins(survey, unit) >= last for unit in in_danger(survey))
    ):
        return None
    board = chess.Board(survey["fen"])
    idle = [move for move in survey["moves"] if not move["holds"] and loss(move) == last]
    idle = [move for move in idle if is_quiet(board, move["uci"]) and len(move["line"] or ()) > 1]
    best = min(idle, key=_idleness, default=None)
    return tuple(best["line"] or ()) if best else None


def _wins(survey: Survey, unit: Unit) -> int:
    """Centipawns that the opponent wins in the line by which a unit falls; more where it mates."""
    if unit["loses"] in (None, "mate"):
        return 1_000_000
    return -gained(survey, unit["line"] or [])


def _idleness(move: MoveVerdict) -> tuple[bool, int, list[str]]:
    """What does nothing about the danger first, then by the length of its line."""
    line = move["line"] or []
    return move.get("reason") != "does not address it", len(line), line


def _on_units(survey: Survey) -> Iterator[Claim]:
    units = sorted(survey["units"], key=cost, reverse=True)
    unsafe = [unit for unit in units if unit["status"] == "unsafe"]
    shown: set[tuple[str, ...]] = set()
    for unit in units:
        if unit["status"] in LOST:
            fall = Unsafe(*_fall(survey, unit, unsafe))
            yield fall
            yield from _why(survey, unit)
            yield from retaken(survey, fall)
            if fall.line not in shown:
                yield from saved_in_vain(survey, fall)
            shown.add(fall.line)
            yield from staked_by_threat(survey, fall, unit["mechanisms"])
        else:
            yield from _kept(survey, unit)
    for square, line in zip(survey["promotions"], survey["promotion_lines"], strict=True):
        yield Promotes(square, tuple(line))
    if has_danger(survey) and not in_danger(survey) and not survey["promotions"]:
        yield _no_unit(survey)
    loose = [unit for unit in survey["units"] if unit["loose"]]
    if loose:
        loose.sort(key=lambda unit: (KINDS_BY_WORTH.index(unit["unit"]), unit["square"]))
        yield Loose(tuple(map(_at, loose)))


def _on_takings(survey: Survey, *, moves_given: bool) -> Iterator[Claim]:
    units = sorted(survey["takings"], key=cost, reverse=True)
    for unit in units:
        if unit["status"] in LOST:
            taking = Taking(*_fall(survey, unit, units))
            yield taking
            yield from _why(survey, unit)
            yield from retaken(survey, taking)
        else:
            yield from _kept(survey, unit)
    if not moves_given and any(unit["status"] in LOST for unit in units):
        yield PerhapsATrade()


def _fall(
    survey: Survey, unit: Unit, unsafe: Sequence[Unit]
) -> tuple[UnitAt, int, Loss, tuple[str, ...], tuple[str, ...], bool]:
    """What is claimed of the fall of a unit, among the unsafe ones of its side."""
    return (
        _at(unit),
        unit["reach"] or survey["reach"],
        _loses(unit),
        tuple(unit["line"] or ()),
        tuple(unit["together"]),
        unit["status"] == "unsafe" and falls_after(survey, unit, unsafe),
    )


def _at(unit: Unit) -> UnitAt:
    return UnitAt(unit["unit"], unit["square"])


def _loses(unit: Unit) -> Loss:
    return unit["loses"] if unit["loses"] is not None else 0


def _kept(survey: Survey, unit: Unit) -> Iterable[Claim]:
    line = tuple(unit["line"] or ())
    if unit["status"] == "won back":
        yield WonBack(_at(unit), unit["reach"] or survey["reach"], line)
    elif unit["status"] == "safe by tactics":
        yield SafeByTactics(_at(unit), line)


def _why(survey: Survey, unit: Unit) -> Iterator[Claim]:
    """The causes of a loss and the count on the unit's square; the king has no count."""
    squares: dict[str, tuple[str, ...]] = {
        cause["mechanism"]: tuple(cause["squares"]) for cause in unit.get("causes") or ()
    }
    for name in dict.fromkeys(chain(squares, unit["mechanisms"])):
        yield Cause(_at(unit), name, squares.get(name, ()))
    if unit["unit"] != "king":
        board, attackers, guards = chess.Board(survey["fen"]), unit["attackers"], unit["guards"]
        yield Count(
            _at(unit),
            tuple(attackers),
            tuple(guards),
            bear_behind(board, unit["square"], attackers),
            bear_behind(board, unit["square"], guards),
        )


def _no_unit(survey: Survey) -> NoUnit:
    """A danger that charges no unit and no promotion square, as in the middle of a trade."""
    last = (survey["danger"] or [0])[-1]
    if isinstance(last, int) and last - survey["owed"] < THRESHOLD:
        return NoUnit(None)
    falling = [move for move in survey["moves"] if not move["holds"] and move["line"]]
    if not falling:
        return NoUnit(None)
    most = last if isinstance(last, int) else 1_000_000
    plain = min(falling, key=lambda move: (abs(loss(move) - most), move["san"]))
    return NoUnit(tuple(plain["line"] or ()))

"""What a holding move has ready for the threat, where the threat can still be played."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

import chess

from fastness.core.shapes import MoveVerdict, Survey, Unit
from fastness.survey.claim import IfCarriedOut
from fastness.survey.lines import PASS
from fastness.survey.retaken import best_answer, gained, landing, leaves
from fastness.survey.scene import play
from fastness.survey.tries import in_danger, loss
from fastness.survey.units import cost
from fastness.survey.words import THRESHOLD


@dataclass(frozen=True, slots=True)
class _Carried:
    """The moves up to the last one of the threat, and what is best from there on."""

    played: tuple[str, ...]
    rest: tuple[str, ...]

    @property
    def line(self) -> tuple[str, ...]:
        return (*self.played, *self.rest)


def if_carried_out(survey: Survey, verdict: MoveVerdict, most: int = 1) -> Iterator[IfCarriedOut]:
    """What a holding move has ready for threats: to take, to check, or to move what is in danger.

    Of so many threats at most, those first that prove the dearest dangers; where a move of one
    takes something, the best way to take there. As long as the answers are those of the proof, or
    do nothing, the threat goes on. Nothing where its first move cannot be played any more, or takes
    the unit that moved, which `if_taken` tells. After a move that wins something, what is ready for
    the first threat where its own line ends.
    """
    by_first: dict[str, Unit] = {}
    for unit in sorted(filter(_proved, in_danger(survey)), key=cost, reverse=True):
        by_first.setdefault((unit["line"] or [])[1], unit)
    for unit in list(by_first.values())[:most]:
        yield from _at_once(survey, verdict, unit)
    if most > 1:
        yield from chain.from_iterable(
            _in_the_end(survey, verdict, unit) for unit in list(by_first.values())[:most]
        )


def _at_once(survey: Survey, verdict: MoveVerdict, unit: Unit) -> Iterator[IfCarriedOut]:
    move, proof = verdict["uci"], (unit["line"] or [])[1:]
    if proof[0][2:4] == move[2:4] or leaves(survey["fen"], move, proof[0]):
        return
    carried = _carried_on(survey, (move,), proof[0])
    if carried is None:
        return
    further = _further(survey, carried, proof, unit["square"])
    if further or (carried.rest and _tells(survey, carried, unit["square"])):
        line = further or carried
        yield IfCarriedOut(move, line.line, len(line.played))


def _in_the_end(survey: Survey, verdict: MoveVerdict, unit: Unit) -> Iterator[IfCarriedOut]:
    """What is ready for taking a unit where the line ends by which a move wins something."""
    line, square = _before_the_threat(survey, verdict), unit["square"]
    if not line:
        return
    steps, taking = play(survey["fen"], line), (unit["line"] or [])[1]
    at = chess.parse_square(square)
    stands = steps[-1].after.piece_at(at) == steps[0].before.piece_at(at)
    if taking[2:4] != square or not stands:
        return
    carried = _carried_on(survey, line, taking)
    if carried is None:
        return
    rest = carried.rest or best_answer(survey, carried.played)
    if rest:
        yield IfCarriedOut(line[0], (*carried.played, *rest), len(carried.played), late=True)


def _before_the_threat(survey: Survey, verdict: MoveVerdict) -> tuple[str, ...]:
    """The line of a move that wins something, or up to what follows a check; else nothing."""
    net, line = verdict["net"], tuple(verdict["line"] or ())
    if isinstance(net, int) and net >= THRESHOLD:
        return line if len(line) % 2 and len(line) > 2 else ()
    board = chess.Board(survey["fen"])
    checks = board.gives_check(chess.Move.from_uci(verdict["uci"]))
    shown = max(line, tuple(verdict.get("likely") or ()), key=len)
    return shown[:3] if checks and len(shown) > 2 else ()


def answers_as_proved(survey: Survey, verdict: MoveVerdict) -> bool:
    """Whether what a move has ready for a threat is what the line that loses a unit begins with."""
    ready = (verdict.get("answer") or [])[1:3]
    return len(ready) == 2 and any(ready == (unit["line"] or [])[1:3] for unit in in_danger(survey))


def _carried_on(survey: Survey, before: Sequence[str], threat: str) -> _Carried | None:
    """The threat played after these moves, the best way to take where it takes.

    None where it cannot be played, or wins something.
    """
    fen = survey["fen"]
    board = play(fen, before)[-1].after
    step = chess.Move.from_uci(threat)
    if board.is_check() or not board.is_legal(step):
        return None
    takes = board.is_capture(step)
    ways = [
        one for one in landing(survey, fen, before, threat[2:4]) if takes or one["uci"] == threat
    ]
    best = min(ways, key=lambda one: (loss(one), one["uci"] != threat, one["san"]))
    if best["net"] == "mates":
        return None
    carried = _Carried((*before, best["uci"]), tuple((best["line"] or ())[1:]))
    if not carried.rest:
        return carried if len(before) > 1 or loss(best) > -THRESHOLD else None
    return carried if gained(survey, carried.line) > -THRESHOLD else None


def _further(survey: Survey, carried: _Carried, proof: Sequence[str], at: str) -> _Carried | None:
    """The next moves of the threat, as long as the answer is that of its proof, or does nothing."""
    further = None
    for place in range(1, len(proof) - 1, 2):
        answer, proved = next(iter(carried.rest), ""), proof[place]
        if answer not in ("", proved) and _tells(survey, carried, at):
            break
        if _holds(survey, carried.played, proved):
            answer = proved
        found = _carried_on(survey, (*carried.played, answer), proof[place + 1]) if answer else None
        if found is None:
            break
        further = carried = found
    last = further or carried
    if last.rest:
        return further
    answered = _Carried(last.played, best_answer(survey, last.played))
    if not answered.rest:
        return None
    # The answer that loses in the proof shows nothing here, unless it takes or gives check.
    losing = tuple(proof[len(last.played) - 1 :][:1])
    told = answered.rest[:1] != losing or _tells(survey, answered, at)
    return answered if told else None


def _holds(survey: Survey, played: Sequence[str], answer: str) -> bool:
    """Whether an answer to these moves keeps the material."""
    board = play(survey["fen"], played)[-1].after
    if not board.is_legal(chess.Move.from_uci(answer)):
        return False
    ways = landing(survey, survey["fen"], played, answer[2:4])
    return any(one["uci"] == answer and one["holds"] for one in ways)


def _tells(survey: Survey, carried: _Carried, at: str) -> bool:
    """Whether the answer takes, gives check, or moves what is in danger from its square."""
    board = play(survey["fen"], carried.played)[-1].after
    answer = chess.Move.from_uci(carried.rest[0])
    saves = carried.rest[0][:2] == at != carried.played[0][:2]
    return board.is_capture(answer) or board.gives_check(answer) or saves


def _proved(unit: Unit) -> bool:
    """Whether the fall of a unit is proved by a move after a pass."""
    line = unit["line"] or []
    return len(line) > 1 and line[0] == PASS

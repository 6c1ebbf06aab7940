"""Every statement of a survey's data, judged: its kind, and what is false in it."""

from collections.abc import Iterator, Mapping
from typing import Any, cast

import chess

from fastness.core.shapes import MoveVerdict, Unit
from tests.judge.board import THRESHOLD, bears
from tests.judge.causes import falls_because
from tests.judge.falls import (
    fall,
    falls,
    falls_by_every_reply,
    is_safe_by_tactics,
    is_won_back,
)
from tests.judge.reasons import fails_because
from tests.judge.ways import works_by
from tests.judge.worth import Position, in_words, shows

Judged = Iterator[tuple[str, list[str]]]


def statements(position: Position) -> Judged:
    """Each statement of the survey of a position, with what is false in it."""
    survey = position.survey
    for reach, told in enumerate(survey["danger"] or (), 1):
        value = in_words(position.danger(reach), "mate", "mated")
        yield "danger", [] if value == told else [f"danger {told} at reach {reach}, truly {value}"]
    for unit in survey["units"]:
        yield from _unit(position, unit, taking=False)
    for unit in survey["takings"]:
        yield from _unit(position, unit, taking=True)
    for move in survey["moves"]:
        yield from _move(position, move)


def _unit(position: Position, unit: Unit, *, taking: bool) -> Judged:
    square, own = chess.parse_square(unit["square"]), position.own != taking
    yield "on the board", _stands(position, unit, square, own)
    status = unit["status"]
    if status in ("unsafe", "unsafe together"):
        yield status, falls(position, fall(unit), taking=taking)
        yield from _causes(position, unit)
    if status == "unsafe":
        yield "by every reply", falls_by_every_reply(position, fall(unit))
    if status == "won back":
        yield status, is_won_back(position, fall(unit))
    if status == "safe by tactics":
        yield status, is_safe_by_tactics(position, fall(unit))
    if status == "in check":
        yield status, [] if position.board.is_check() else ["no check"]


def _stands(position: Position, unit: Unit, square: int, side: chess.Color) -> list[str]:
    """The unit, its attackers and guards, and whether it is loose."""
    board, faults = position.board, []
    piece = board.piece_at(square)
    if piece is None or piece.color != side or chess.piece_name(piece.piece_type) != unit["unit"]:
        faults.append(f"no such unit on {unit['square']}")
    attackers, guards = bears(board, not side, square), bears(board, side, square)
    for told, truly in ((unit["attackers"], attackers), (unit["guards"], guards)):
        if {chess.parse_square(name) for name in told} != truly:
            faults.append(f"{told} do not bear on {unit['square']}")
    loose = not attackers and not guards and unit["unit"] != "king"
    return faults if loose == unit["loose"] else [*faults, f"{unit['square']} loose: {loose}"]


def _causes(position: Position, unit: Unit) -> Judged:
    fen, line = position.survey["fen"], unit["line"] or []
    causes = cast("Mapping[str, Any]", unit).get("causes", ())
    yield (
        "names and causes",
        ([] if [cause["mechanism"] for cause in causes] == unit["mechanisms"] else [f"{causes}"]),
    )
    for cause in causes:
        name, squares = cause["mechanism"], cause["squares"]
        yield f"mechanism: {name}", falls_because(fen, line, unit["square"], name, squares)


def _move(position: Position, move: MoveVerdict) -> Judged:
    net = position.net(move["uci"], position.reach)
    told = in_words(net, "mates", "mated")
    faults = [] if told == move["net"] else [f"{move['uci']} nets {told}, said: {move['net']}"]
    if move["holds"] != (net > -THRESHOLD):
        faults.append(f"{move['uci']} nets {told}, holds: {move['holds']}")
    yield "net", faults
    if move["line"] and not move["holds"]:
        yield "refutation", shows(position, move["line"], net)
    for way in move["ways"] if move["holds"] else ():
        closed, back = move["blocks"] or (), move["wins_back"]
        yield f"way: {way}", works_by(position, move["uci"], way, closed, wins_back=back)
    for reason in cast("Mapping[str, Any]", move).get("reasons", ()):
        line = move["line"] or [move["uci"]]
        faults = fails_because(position, line, reason["reason"])
        yield f"reason: {reason['reason']}", faults

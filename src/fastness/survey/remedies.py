"""The moves that keep the material, by the way they work, and the tries that do not."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

import chess

from fastness.core.shapes import MoveVerdict, Survey, Way
from fastness.survey.dangers import has_danger
from fastness.survey.lines import numbered, wrapped, wrapped_items
from fastness.survey.tries import KINDS, in_danger, loss, natural_tries
from fastness.survey.words import THRESHOLD, ahead, listed, own_side, worth

WAYS: tuple[Way, ...] = ("capture", "move", "block", "guard", "counterattack", "other")
"""The teacher's order of preference."""
OTHER: tuple[Way, ...] = ("other",)
SHOWN = 12
"""Moves named in a sentence, or that win something, before the rest is only counted."""
TRIES_SHOWN = 5
"""Tries of one kind shown with a refutation."""

_ALSO = {
    "capture": "captures as well",
    "move": "moves away as well",
    "block": "blocks as well",
    "guard": "guards as well",
    "counterattack": "counterattacks as well",
    "other": "works in another way as well",
}


def result(move: MoveVerdict) -> str:
    """What a move nets, in words; empty where it only keeps the material."""
    net = move["net"]
    if net == "mates":
        return "mates"
    if net == "mated":
        return "is mated"
    if net == 0:
        return ""
    if net > 0:
        return f"wins {worth(net)}"
    return f"{'gives up' if move['holds'] else 'loses'} {worth(net)}"


def remedies(survey: Survey) -> str:
    """The moves that make it safe, grouped by way; in check, those that keep the material."""
    holding = sorted(
        (move for move in survey["moves"] if move["holds"]),
        key=lambda move: (loss(move), move["san"]),
    )
    if not holding:
        return _nothing_holds(survey)
    rows = []
    for way in WAYS:
        rows += _group(survey, way, [move for move in holding if (move["ways"] or OTHER)[0] == way])
    if not natural_tries(survey)[0]:
        rows += _rest([move for move in survey["moves"] if not move["holds"]])
    return "\n".join([*rows, *_firmness(survey)])


def _group(survey: Survey, way: Way, group: Sequence[MoveVerdict]) -> list[str]:
    if not group:
        return []
    rows = [wrapped_items(way, [f"{move['san']}{_note(move)}" for move in group])]
    shown = next((move for move in group if _telling(move)), None)
    if shown and shown["line"]:
        rows.append(wrapped(f"{numbered(survey['fen'], shown['line'])}", indent=17, hang=2))
    return rows


def _telling(move: MoveVerdict) -> bool:
    """Whether the opponent's best try shows how the move works: a trade, or winning it back."""
    line = move["line"] or []
    traded = len(line) > 2 and line[-1][2:4] == line[-2][2:4]
    return traded or (move["wins_back"] and move["ways"][:1] == ["counterattack"])


def _note(move: MoveVerdict) -> str:
    notes = [_ALSO[way] for way in move["ways"][1:] if way != "block" or not _steps_off(move)]
    if move["wins_back"] and "counterattack" in move["ways"]:
        notes = [note for note in notes if note != _ALSO["counterattack"]] + ["wins it back"]
    told = result(move)
    if told:
        notes.append(told)
    if move["firm"] is False:
        notes.append("not firm")
    return f" ({'; '.join(notes)})" if notes else ""


def _steps_off(move: MoveVerdict) -> bool:
    """Whether the unit under attack is itself what moves, as a king along a line of attack."""
    return bool(move["blocks"]) and move["uci"][:2] == (move["blocks"] or [""])[-1]


def _nothing_holds(survey: Survey) -> str:
    least = min(loss(move) for move in survey["moves"])
    best = sorted(move["san"] for move in survey["moves"] if loss(move) == least)
    told = f"None of the {len(survey['moves'])} legal moves keeps the material"
    if len(survey["moves"]) == 1:
        told = "The only legal move does not keep the material"
    example = next(move for move in survey["moves"] if move["san"] == best[0])
    if example["net"] == "mated":
        told += f": {own_side(survey)} is mated in every case, {ahead(survey['reach'])}."
        return "\n".join([wrapped(told), *_firmness(survey)])
    shown = listed(best[:SHOWN]) + (" and others" if len(best) > SHOWN else "")
    told += f". The least is lost by {shown}: {worth(least)}."
    rows = [
        wrapped(told),
        wrapped(numbered(survey["fen"], example["line"] or ()), indent=4, hang=2),
    ]
    return "\n".join([*rows, *_firmness(survey)])


def _firmness(survey: Survey) -> list[str]:
    judged = [move for move in survey["moves"] if move["firm"] is not None]
    if not judged:
        return []
    deeper = ahead(survey["reach"] + 1)
    loose = [move for move in judged if not move["firm"]]
    if not loose:
        return [wrapped(f"Checked one move deeper: every move keeps its verdict, {deeper}.")]
    falls = [move["san"] for move in loose if move["holds"]]
    holds = [move["san"] for move in loose if not move["holds"]]
    told = []
    if falls:
        told.append(f"{_names(falls)} no longer {_verb(falls, 'keep')} the material")
    if holds:
        told.append(f"{_names(holds)} {_verb(holds, 'keep')} it after all")
    return [wrapped(f"Checked one move deeper: not firm, since {deeper} {'; '.join(told)}.")]


def _names(sans: Sequence[str]) -> str:
    if len(sans) > SHOWN:
        return f"{', '.join(sans[:SHOWN])} and {len(sans) - SHOWN} more"
    return listed(sans)


def _verb(sans: Sequence[str], verb: str) -> str:
    return f"{verb}s" if len(sans) == 1 else verb


def failing_tries(survey: Survey) -> str:
    """The natural tries that fail, each with its refutation; other moves are only counted."""
    tries, rest = natural_tries(survey)
    if not tries:
        return ""
    rows = []
    for kind in KINDS:
        moves = [one.move for one in tries if one.kind == kind]
        for index, move in enumerate(moves[:TRIES_SHOWN]):
            rows.append(_refuted(survey, kind if index == 0 else "", move))
        more = moves[TRIES_SHOWN:]
        if more:
            rows.append(wrapped_items("", ["also: " + more[0]["san"], *_sans(more[1:])]))
    return "\n".join([*rows, *_rest(rest)])


def _sans(moves: Sequence[MoveVerdict]) -> list[str]:
    return [move["san"] for move in moves]


def _refuted(survey: Survey, label: str, move: MoveVerdict) -> str:
    told = _with_result(survey, move)
    return wrapped(f"{label:<15}{told}", hang=17) if label else wrapped(told, indent=17, hang=2)


def _with_result(survey: Survey, move: MoveVerdict) -> str:
    return f"{numbered(survey['fen'], move['line'] or ())}  ({result(move)})"


def _rest(moves: Sequence[MoveVerdict]) -> list[str]:
    """How many other moves fall, and how much the least of them loses."""
    if not moves:
        return []
    least = min(moves, key=loss)
    told = "Every other move" if len(moves) > 1 else "The other move"
    count = f" ({len(moves)})" if len(moves) > 1 else ""
    if least["net"] == "mated":
        return [wrapped(f"{told}{count} allows mate.")]
    more = "" if all(loss(move) == loss(least) for move in moves) else " or more"
    return [wrapped(f"{told}{count} loses {worth(loss(least))}{more}.")]


def losing_moves(survey: Survey) -> str:
    """With nothing in danger: the moves that would lose something, by how much they lose."""
    falling = [move for move in survey["moves"] if not move["holds"]]
    if not falling:
        return wrapped(f"No legal move loses anything, {ahead(survey['reach'])}.")
    board = chess.Board(survey["fen"])
    falling.sort(key=lambda move: (loss(move), move["san"]))
    forcing = [move for move in falling if move["net"] == "mated" or _forcing(board, move)]
    forcing.sort(key=lambda move: move["net"] != "mated")
    rows = _zugzwang(survey, falling)
    rows += [wrapped(_with_result(survey, move), hang=2) for move in forcing[:6]]
    told = {move["san"] for move in forcing[:6]}
    for amount in sorted({loss(move) for move in falling}):
        group = [move for move in falling if loss(move) == amount and move["san"] not in told]
        rows += _group_by_loss(group)
    return "\n".join(rows)


def _zugzwang(survey: Survey, falling: Sequence[MoveVerdict]) -> list[str]:
    if len(falling) < len(survey["moves"]):
        return []
    own = own_side(survey)
    return [
        wrapped(
            f"Zugzwang: every legal move loses something, though a pass would not. {own}"
            " has to move."
        )
    ]


def _forcing(board: chess.Board, move: MoveVerdict) -> bool:
    played = chess.Move.from_uci(move["uci"])
    return board.is_capture(played) or board.gives_check(played)


def _group_by_loss(group: Sequence[MoveVerdict]) -> list[str]:
    if not group:
        return []
    return [wrapped_items(f"{result(group[0])}:", _sans(group), column=25)]


def needs_remedy(survey: Survey) -> bool:
    """Whether the moves are to be told as remedies: there is danger, a check, or a debt."""
    return survey["in_check"] or has_danger(survey) or bool(in_danger(survey))


def winning_moves(survey: Survey) -> str:
    """The moves that win material or mate, by what they win, best first; empty if none does."""
    winning = [
        move
        for move in survey["moves"]
        if move["net"] == "mates" or (isinstance(move["net"], int) and move["net"] >= THRESHOLD)
    ]
    winning.sort(key=lambda move: (loss(move), move["san"]))
    rows: list[str] = []
    for told, moves in groupby(winning, key=result):
        sans = _sans(list(moves))
        more = [f"and {len(sans) - SHOWN} more"] if len(sans) > SHOWN else []
        rows.append(wrapped_items(f"{told}:", [*sans[:SHOWN], *more], column=25))
    return "\n".join(rows)

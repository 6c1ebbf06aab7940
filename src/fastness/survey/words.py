"""The words of the page: units, worths, reaches and the causes of a loss, in plain English."""

from __future__ import annotations

from collections.abc import Sequence

import chess

from fastness.core.shapes import Survey, Unit
from fastness.survey.lines import taken_at

PAWN = 100
"""Centipawns in a pawn, in every table of values."""
THRESHOLD = 50
"""Centipawns from which something counts as won: half a pawn."""

# By rank only: a knight and a bishop count as equal here whatever the table of values says.
_RANK = {"pawn": 1, "knight": 2, "bishop": 2, "rook": 3, "queen": 4, "king": 5}
KINDS_BY_WORTH = ("queen", "rook", "bishop", "knight", "pawn", "king")
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def other_side(survey: Survey) -> str:
    """The opponent of the side to move, ``White`` or ``Black``."""
    return "Black" if survey["side"] == "white" else "White"


def own_side(survey: Survey) -> str:
    """The side to move, ``White`` or ``Black``."""
    return survey["side"].capitalize()


def number_word(number: int) -> str:
    """``three`` for 3; figures from 11 on."""
    return _NUMBERS[number] if 0 <= number < len(_NUMBERS) else str(number)


def worth(centipawns: int) -> str:
    """``a pawn's worth``, ``3 pawns' worth``, ``3.25 pawns' worth``; the sign is dropped."""
    amount = abs(centipawns)
    if amount == PAWN:
        return "a pawn's worth"
    if amount == PAWN // 2:
        return "half a pawn's worth"
    if amount < PAWN:
        return f"{amount / PAWN:g} of a pawn's worth"
    return f"{amount / PAWN:g} pawns' worth"


def ahead(reach: int) -> str:
    """``looking 3 moves ahead``; a reach counts the opponent's moves."""
    return f"looking {reach} move{'' if reach == 1 else 's'} ahead"


def ahead_only(reaches: Sequence[int]) -> str:
    """``looking only 1 or 2 moves ahead``."""
    moves = "move" if list(reaches) == [1] else "moves"
    return f"looking only {listed([str(reach) for reach in reaches], 'or')} {moves} ahead"


def listed(items: Sequence[str], word: str = "and") -> str:
    """``a, b and c``."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {word} {items[-1]}"


def the_unit(unit: Unit) -> str:
    """``the knight on c6``, ``the king on e8``."""
    return f"the {unit['unit']} on {unit['square']}"


def units_on(board: chess.Board, squares: Sequence[str]) -> str:
    """The units on `squares`: ``the pawn on d3 and the knight on c3``."""
    return listed([unit_on(board, square) for square in squares])


def unit_on(board: chess.Board, square: str) -> str:
    """``the knight on c6``, or ``the square c6`` if nothing stands there."""
    kind = board.piece_type_at(chess.parse_square(square))
    return f"the {chess.piece_name(kind)} on {square}" if kind else f"the square {square}"


def capital(sentence: str) -> str:
    """The sentence with its first letter a capital, the rest untouched."""
    return sentence[:1].upper() + sentence[1:]


def _lesser_attackers(board: chess.Board, unit: Unit) -> list[str]:
    rank = _RANK[unit["unit"]]
    found = []
    for square in unit["attackers"]:
        kind = board.piece_type_at(chess.parse_square(square))
        if kind and _RANK[chess.piece_name(kind)] < rank:
            found.append(square)
    return found


def _unguarded(board: chess.Board, unit: Unit) -> str:
    if unit["attackers"]:
        return f"{capital(_attack(board, unit))}, and nothing guards it."
    return "Nothing attacks it yet, and nothing guards it."


def _less_valuable(board: chess.Board, unit: Unit) -> str:
    lesser = _lesser_attackers(board, unit)
    if not lesser:
        return _lesser_taker(board, unit)
    verb = "attacks" if len(lesser) == 1 else "attack"
    less = "and is worth less" if len(lesser) == 1 else "and are worth less"
    told = f"{capital(units_on(board, lesser))} {verb} it {less}"
    if not unit["guards"]:
        return f"{told}, and nothing guards it."
    guard = "guard" if len(unit["guards"]) == 1 else "guards"
    verb = "is" if len(unit["guards"]) == 1 else "are"
    return f"{told}, so the {guard} ({units_on(board, unit['guards'])}) {verb} not enough."


def _outnumbered(board: chess.Board, unit: Unit) -> str:
    attackers, guards = len(unit["attackers"]), len(unit["guards"])
    told = (
        f"It is attacked {_times(attackers)} ({units_on(board, unit['attackers'])})"
        f" and guarded {_times(guards)}"
    )
    if guards:
        told += f" ({units_on(board, unit['guards'])})"
    behind = _behind(board, unit)
    if behind:
        told += f"; behind {'it' if attackers == 1 else 'them'} {_stand(board, behind)}"
    elif attackers <= guards:
        told += "; the line shows how it is won"
    return f"{told}."


def _stand(board: chess.Board, squares: Sequence[str]) -> str:
    return f"{'stands' if len(squares) == 1 else 'stand'} {units_on(board, squares)}"


def _behind(board: chess.Board, unit: Unit) -> list[str]:
    """The attackers that bear on `unit` through another attacker."""
    target = chess.parse_square(unit["square"])
    front = {chess.parse_square(name) for name in unit["attackers"]}
    found: set[int] = set()
    for square in front:
        opened = board.copy(stack=False)
        taker = opened.remove_piece_at(square)
        if taker:
            found |= set(opened.attackers(taker.color, target)) - front
    return [chess.square_name(square) for square in sorted(found)]


def _lesser_taker(board: chess.Board, unit: Unit) -> str:
    """Nothing that attacks it now is worth less, but what takes it in the line may be."""
    taker = _taker(board, unit)
    if not taker or _RANK[taker[0]] >= _RANK[unit["unit"]]:
        return "The line shows how it is won."
    name, square, there_now = taker
    which = f"the {name} on {square}" if there_now else f"a {name} that has come to {square}"
    return f"In the line {which} takes it and is worth less."


def _taker(board: chess.Board, unit: Unit) -> tuple[str, str, bool] | None:
    """What takes `unit` in its line: its name, from which square, whether it stands there now."""
    line = unit["line"] or []
    index = taken_at(board.fen(), line, unit["square"])
    if index is None:
        return None
    after = board.copy(stack=False)
    for uci in line[:index]:
        after.push(chess.Move.from_uci(uci))
    start = line[index][:2]
    kind = after.piece_type_at(chess.parse_square(start))
    here = all(uci[2:4] != start for uci in line[:index])
    return (chess.piece_name(kind), start, here) if kind else None


def _times(count: int) -> str:
    return {0: "by nothing", 1: "once", 2: "twice"}.get(count, f"{number_word(count)} times")


def _attack(board: chess.Board, unit: Unit) -> str:
    verb = "attacks" if len(unit["attackers"]) == 1 else "attack"
    return f"{units_on(board, unit['attackers'])} {verb} it"


_CAUSES = {
    "unguarded": _unguarded,
    "less valuable attacker": _less_valuable,
    "outnumbered": _outnumbered,
}


def causes(board: chess.Board, unit: Unit) -> list[str]:
    """Why `unit` falls, a sentence for each mechanism named; the facts if none is named."""
    names = [] if unit["unit"] == "king" else unit["mechanisms"]
    if "less valuable attacker" in names and not unit["guards"]:
        # The sentence on the attacker says that nothing guards it.
        names = [name for name in names if name != "unguarded"]
    told = [_CAUSES[name](board, unit) for name in names if name in _CAUSES]
    named = [name for name in names if name not in _CAUSES]
    if named:
        told.append(f"Cause: {listed(named)}.")
    if told or unit["unit"] == "king":
        return told
    if not unit["attackers"]:
        return ["Nothing attacks it yet; the line shows how it is won."]
    guards = f"; {units_on(board, unit['guards'])} " if unit["guards"] else ""
    guards += ("guards it" if len(unit["guards"]) == 1 else "guard it") if guards else ""
    return [f"{capital(_attack(board, unit))}{guards}; the line shows how it is won."]

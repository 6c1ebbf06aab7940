"""Looks made by hand, for positions where only the named numbers matter."""

from collections.abc import Mapping, Sequence
from typing import Any

import chess

from fastness.core.shapes import Danger, Look, MoveVerdict, Net, ReasonName, Survey, Unit, Way
from fastness.intake import Game

TAGS = {
    "Event": "Club evening",
    "Date": "2024.01.02",
    "White": "Weber, Anna",
    "Black": "Lopez, Ben",
    "Result": "1-0",
}


def game(moves: Sequence[str], fen: str = chess.STARTING_FEN, **more: Any) -> Game:
    clocks = more.pop("clocks", (None,) * len(moves))
    tags: Mapping[str, str] = more.pop("tags", TAGS)
    return Game("games.pgn", 7, 1, tags, fen, tuple(moves), tuple(clocks), "1-0")


def unit(square: str, fen: str, **known: Any) -> Unit:
    kind = chess.Board(fen).piece_type_at(chess.parse_square(square))
    assert kind is not None
    name: Any = chess.piece_name(kind)
    made: Unit = {
        "square": square,
        "unit": name,
        "status": "safe",
        "loose": False,
        "reach": None,
        "loses": None,
        "line": None,
        "together": [],
        "attackers": [],
        "guards": [],
        "mechanisms": [],
        "causes": [],
    }
    made.update(known)  # type: ignore[typeddict-item]  # the tests name only keys of the shape
    return made


def verdict(
    uci: str,
    san: str,
    net: Net,
    *,
    falls_at: int | None = None,
    ways: Sequence[Way] = (),
    reason: ReasonName | None = None,
) -> MoveVerdict:
    holds = net == "mates" or (isinstance(net, int) and net > -50)
    return {
        "uci": uci,
        "san": san,
        "net": net,
        "holds": holds,
        "falls_at": falls_at,
        "firm": None,
        "deeper": None,
        "ways": list(ways),
        "wins_back": False,
        "blocks": None,
        "saves": [],
        "drops": [],
        "line": [],
        "answer": None,
        "reason": reason,
        "reasons": [],
        "natural": False,
        "evaluation": None,
        "rank": None,
        "advised": None,
        "price": None,
        "likely": None,
    }


def look(
    fen: str,
    uci: str,
    *,
    ply: int = 1,
    unsafe: Mapping[str, int | str] | None = None,
    takings: Mapping[str, int | str] | None = None,
    mechanisms: Mapping[str, list[str]] | None = None,
    moves: Sequence[MoveVerdict] = (),
    drops: Sequence[str] = (),
    net: Net = 0,
    holds: bool = True,
    danger: Danger | None = 0,
    seen: bool = True,
    **more: Any,
) -> Look:
    """A look at the move `uci` from `fen`; `unsafe` and `takings` give losses by square."""
    board = chess.Board(fen)
    own = [
        _judged(chess.square_name(square), fen, unsafe or {}, mechanisms or {})
        for square in sorted(chess.SquareSet(board.occupied_co[board.turn]))
    ]
    theirs = [_judged(square, fen, takings or {}, mechanisms or {}) for square in takings or {}]
    side: Any = "white" if board.turn else "black"
    in_check = bool(more.pop("in_check", board.is_check()))
    survey: Survey = {
        "version": 1,
        "fen": fen,
        "side": side,
        "in_check": in_check,
        "values": "classical",
        "reach": 3,
        "owed": more.get("owed", 0),
        "danger": None if in_check else [danger or 0] * 3,
        "units": own,
        "takings": theirs,
        "promotions": [],
        "promotion_lines": [],
        "ranked": False,
        "best": None,
        "values_matter": None,
        "moves": list(moves),
    }
    made: Look = {
        "ply": ply,
        "side": side,
        "fen": fen,
        "in_check": in_check,
        "owed": 0,
        "danger": None if in_check else danger,
        "reach": None,
        "played": {
            "uci": uci,
            "san": board.san(chess.Move.from_uci(uci)),
            "net": net,
            "holds": holds,
            "way": more.pop("way", None),
            "drops": list(drops),
            "retakes": more.pop("retakes", False),
        },
        "holding": 5,
        "legal": 20,
        "best_net": 0,
        "reply_wins": False,
        "offered": None,
        "survey": survey if seen else None,
    }
    made.update(more)  # type: ignore[typeddict-item]  # the tests name only keys of the shape
    return made


def _judged(
    square: str,
    fen: str,
    losses: Mapping[str, int | str],
    mechanisms: Mapping[str, list[str]],
) -> Unit:
    if square not in losses:
        return unit(square, fen)
    return unit(
        square,
        fen,
        status="unsafe",
        reach=2,
        loses=losses[square],
        mechanisms=mechanisms.get(square, []),
    )

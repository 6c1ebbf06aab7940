"""A stored game as PGN, by the export format of the PGN standard of 1994."""

from __future__ import annotations

import re

import chess

from fastness.intake import Game

_ROSTER = ("Event", "Site", "Date", "Round", "White", "Black", "Result")
_WIDTH = 80
# They belong to the move, and stand before a comment on it.
_GLYPHS = re.compile(r"(?:\$\d+ ?)+")


def as_pgn(game: Game) -> str:
    """A game with its tags, comments and variations, its times as `%clk` and `%emt`.

    These commands are of the PGN supplement of 2001. Moves of variations stand as they came in.
    """
    board = chess.Board(game.start_fen)
    tags = {**game.tags, "Result": game.result}
    if board.fen() != chess.STARTING_FEN:
        tags |= {"SetUp": "1", "FEN": game.start_fen}
    order = [key for key in _ROSTER if key in tags] + [key for key in tags if key not in _ROSTER]
    head = "".join(f'[{key} "{_escaped(tags[key])}"]\n' for key in order)
    return f"{head}\n{_wrapped(_pieces(game, board))}\n\n"


def _escaped(tag: str) -> str:
    return tag.replace("\\", "\\\\").replace('"', '\\"')


def _pieces(game: Game, board: chess.Board) -> list[str]:
    """The movetext; what was between two moves is one piece of it."""
    beside = game.beside or ("",) * (len(game.moves) + 1)
    spent = game.spent or (None,) * len(game.moves)
    pieces = [beside[0]]
    numbered = False
    for uci, left, took, text in zip(game.moves, game.clocks, spent, beside[1:], strict=True):
        if board.turn or not numbered:
            pieces.append(f"{board.fullmove_number}{'.' if board.turn else '...'}")
        move = chess.Move.from_uci(uci)
        pieces.append(board.san(move))
        board.push(move)
        times = [f"[%clk {_clock(left)}]"] if left is not None else []
        times += [f"[%emt {_clock(took)}]"] if took is not None else []
        glyphs = _GLYPHS.match(text)
        cut = glyphs.end() if glyphs else 0
        pieces += [text[:cut].strip(), f"{{{' '.join(times)}}}" if times else "", text[cut:]]
        numbered = not times and not text
    return [piece for piece in (*pieces, game.result) if piece]


def _clock(seconds: float) -> str:
    """Seconds as h:mm:ss, with a fraction only where there is one."""
    whole = int(seconds)
    fraction = f"{seconds - whole:.3f}"[1:].rstrip("0").rstrip(".")
    return f"{whole // 3600}:{whole // 60 % 60:02}:{whole % 60:02}{fraction}"


def _wrapped(pieces: list[str]) -> str:
    lines = [""]
    for word in " ".join(pieces).split(" "):
        # A line that begins with "%" is no part of a game, one with "[" looks like a tag.
        if lines[-1] and len(lines[-1]) + len(word) >= _WIDTH and word[:1] not in ("%", "["):
            lines.append(word)
        else:
            lines[-1] += f" {word}" if lines[-1] else word
    return "\n".join(lines)

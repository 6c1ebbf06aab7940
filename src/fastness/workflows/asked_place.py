"""The position that a question is about: given, or found in a game."""

from __future__ import annotations

import re
import tempfile
from dataclasses import dataclass
from pathlib import Path

import chess

from fastness.core.shapes import Side
from fastness.errors import GameError, InputError
from fastness.intake import Game, Problem, read_games
from fastness.replies.naming import read_sentence
from fastness.workflows.surveying import board_of, read_moves, read_position

_AT_MOVE = re.compile(r"\b(?:move|zug)\s+(\d{1,3})\b|\b(?:im|on|at)\s+(\d{1,3})\.", re.IGNORECASE)
LISTED = 6
"""Places that are named where a move fits several."""


@dataclass(frozen=True, slots=True)
class AskedPlace:
    """The position `fen`, to which `moves` (UCI) lead from `start`; `played` came next, if any."""

    start: str
    moves: tuple[str, ...]
    fen: str
    played: str = ""


def place_of_position(text: str, moves: str = "") -> AskedPlace:
    """A position given as FEN or EPD, after `moves` from it.

    Raises PositionError and MoveError as `read_position` and `read_moves` do.
    """
    if not text.strip():
        raise InputError("No position given. Give one as FEN, or a game as PGN.")
    fen = read_position(text)
    played = read_moves(fen, moves)
    board = board_of(fen)
    for uci in played:
        board.push_uci(uci)
    return AskedPlace(fen, tuple(played), board.fen())


def place_in_game(
    text: str, question: str, number: int | None = None, colour: Side | None = None
) -> AskedPlace:
    """The place in the one game of a PGN text that a question is about.

    It is the move with this `number` and of this `colour`; a number may stand in the question, as
    "move 12". Without a number it is where the move named was played.

    Raises GameError where there is no game, more than one, or no such place or several.
    """
    game = _only_game(text)
    if number is None and (found := _AT_MOVE.search(question)):
        number = int(found[1] or found[2])
    places = list(_places(game))
    if number is None:
        return _where_played(places, question, colour)
    fitting = [one for one in places if _is_at(one, number, colour)]
    if len(fitting) > 1:
        fitting = _played(fitting, question) or fitting
    if not fitting:
        raise GameError(
            f"The game has no move {number}{f' of {colour.title()}' if colour else ''}; it has"
            f" {len(places)} half-moves."
        )
    if len(fitting) > 1:
        raise GameError(f"Whose move {number} is meant? Say so with a colour, white or black.")
    return fitting[0]


def _only_game(text: str) -> Game:
    # The reader of games takes files; what is wrong is told without the name of this one.
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "game.pgn"
        path.write_text(text, encoding="utf-8")
        read = list(read_games(path))
    games = [one for one in read if isinstance(one, Game)]
    errors = [one for one in read if isinstance(one, Problem) and one.kind == "error"]
    if errors and not games:
        raise GameError(errors[0].message)
    if len(games) != 1:
        raise GameError(f"One game is wanted, and {len(games)} are there; give one as PGN.")
    if not games[0].moves:
        raise GameError("The game has no moves; give one with moves.")
    return games[0]


def _places(game: Game) -> list[AskedPlace]:
    board, places = chess.Board(game.start_fen), []
    for at, uci in enumerate(game.moves):
        places.append(AskedPlace(game.start_fen, game.moves[:at], board.fen(), uci))
        board.push_uci(uci)
    return places


def _is_at(place: AskedPlace, number: int, colour: Side | None) -> bool:
    _, turn, *_, move = place.fen.split()
    return int(move) == number and colour in (None, "white" if turn == "w" else "black")


def _played(places: list[AskedPlace], question: str) -> list[AskedPlace]:
    """The places where a move that the question names was played."""
    found = []
    for place in places:
        board = chess.Board(place.fen)
        move = chess.Move.from_uci(place.played)
        if any(one.fits(board, move) for one in read_sentence(question, board).moves):
            found.append(place)
    return found


def _where_played(places: list[AskedPlace], question: str, colour: Side | None) -> AskedPlace:
    own = [one for one in places if colour in (None, _side(one))]
    found = _played(own, question)
    if not found:
        raise GameError(
            "Which place in the game is meant? The move named was not played there; give the number"
            " of the move and its colour."
        )
    if len(found) > 1:
        names = ", ".join(_named(one) for one in found[:LISTED])
        raise GameError(f"The move was played more than once: {names}. Give its number.")
    return found[0]


def _side(place: AskedPlace) -> Side:
    return "white" if place.fen.split()[1] == "w" else "black"


def _named(place: AskedPlace) -> str:
    board = chess.Board(place.fen)
    points = "." if board.turn else "..."
    return f"{board.fullmove_number}{points}{board.san(chess.Move.from_uci(place.played))}"

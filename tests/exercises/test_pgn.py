"""Exercises as PGN, read back by the PyPI `chess` package and by the project's own reader."""

import io
from pathlib import Path

import chess
import chess.pgn
import pytest

from fastness.exercises.exercise import KINDS, Kind
from fastness.exercises.pgn import GOOD, MISTAKE, pgn
from fastness.intake import Game, read_games
from tests.exercises.asked import BISHOP, FENS, KNIGHT, QUIET, asked, safe_move


def read(told: str) -> chess.pgn.Game:
    game = chess.pgn.read_game(io.StringIO(told))
    assert game is not None
    assert not game.errors
    return game


def nodes(game: chess.pgn.GameNode) -> list[chess.pgn.ChildNode]:
    below = [game.variations]
    found = []
    while below:
        for node in below.pop():
            found.append(node)
            below.append(node.variations)
    return found


@pytest.mark.parametrize("fen", FENS)
@pytest.mark.parametrize("kind", KINDS)
def test_a_game_reads_back_as_the_same_position(kind: Kind, fen: str) -> None:
    exercise = asked(kind, fen)
    game = read(pgn("Pins", [("Club 2", exercise)]))
    assert game.headers["SetUp"] == "1"
    assert game.headers["FEN"] == exercise.fen
    assert game.board().fen(en_passant="fen") == exercise.fen
    assert game.headers["Round"] == "Club 2"
    assert {nag for node in nodes(game) for nag in node.nags} <= {GOOD, MISTAKE}


@pytest.mark.parametrize("fen", FENS)
@pytest.mark.parametrize("kind", ["every move", "better way"])
def test_right_moves_come_first_and_falling_ones_are_refuted(kind: Kind, fen: str) -> None:
    exercise = asked(kind, fen)
    game = read(pgn("Pins", [("1", exercise)]))
    first = [node.move.uci() for node in game.variations]
    right = len(exercise.accepted)
    assert tuple(first[:right]) == exercise.accepted
    for node in game.variations[:right]:
        good = kind == "better way" or exercise.proved.verdict(node.move.uci())["advised"]
        assert (GOOD in node.nags) == good
    mistakes = [node for node in game.variations[right:] if MISTAKE in node.nags]
    assert mistakes
    for node in mistakes:
        verdict = exercise.proved.verdict(node.move.uci())
        line = [node.move.uci(), *(later.move.uci() for later in node.mainline())]
        assert not verdict["holds"]
        assert line == verdict["line"]
    unmarked = [node for node in game.variations[right:] if not node.nags]
    assert all(exercise.proved.verdict(node.move.uci())["holds"] for node in unmarked)


def test_why_a_move_fails_is_its_refutation() -> None:
    exercise = asked("why it fails")
    game = read(pgn("Pins", [("1", exercise)]))
    assert game.variations[0].move.uci() == exercise.asked
    assert MISTAKE in game.variations[0].nags
    assert game.variations[0].comment.startswith("Loses something: ")
    assert game.variations[0].variations[0].move.uci() == exercise.accepted[0]


def test_units_are_told_in_the_comment_alone() -> None:
    game = read(pgn("Pins", [("1", asked("which unit", BISHOP))]))
    assert "Right: d8." in game.comment
    assert "If Black passes: 4.Bxd8" in game.comment
    assert not game.variations
    assert "Right: none." in read(pgn("Pins", [("1", asked("which unit", QUIET))])).comment


def test_a_safe_move_has_no_mark() -> None:
    node = read(pgn("Pins", [("1", safe_move())])).variations[0]
    assert node.move.uci() == safe_move().asked
    assert not node.nags
    assert node.comment == "Loses nothing."


def test_a_title_cannot_break_the_file() -> None:
    game = read(pgn('Pins "and" {forks}\n[White "x"]', [("1", asked("every move"))]))
    assert game.headers["Event"] == 'Pins "and" (forks) [White "x"]'
    assert game.headers["White"] == "?"


def test_the_own_reader_reads_them_all(tmp_path: Path) -> None:
    path = tmp_path / "pins.pgn"
    path.write_text(pgn("Pins", [(kind, asked(kind)) for kind in KINDS]), encoding="latin-1")
    games = list(read_games(path))
    assert [type(one) for one in games] == [Game] * len(KINDS)
    assert {one.start_fen for one in games if isinstance(one, Game)} == {KNIGHT}

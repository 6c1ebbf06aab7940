"""Exercises as EPD, read back by the PyPI `chess` package."""

import chess
import pytest

from fastness.exercises.epd import avoided_moves, epd, epd_line
from fastness.exercises.exercise import KINDS, Kind
from fastness.exercises.words import question
from tests.exercises.asked import BISHOP, FENS, KNIGHT, QUIET, asked

# PGN standard 1994, section 16.2.5; `c0` to `c9` are the comments.
STANDARD = {"bm", "am", "id", "hmvc", "fmvn", "c0", "c1", "c2"}


@pytest.mark.parametrize("fen", FENS)
@pytest.mark.parametrize("kind", KINDS)
def test_a_line_reads_back_as_the_same_exercise(kind: Kind, fen: str) -> None:
    exercise = asked(kind, fen)
    board = chess.Board()
    operations = board.set_epd(epd_line("Pins 1", exercise))
    assert board.fen(en_passant="fen") == exercise.fen
    assert set(operations) <= STANDARD
    assert operations["id"] == "Pins 1"
    best = {move.uci() for move in operations.get("bm", [])}  # type: ignore[union-attr]
    assert best == (set(exercise.accepted) if kind in ("every move", "better way") else set())
    avoided = {move.uci() for move in operations.get("am", [])}  # type: ignore[union-attr]
    assert avoided == set(avoided_moves(exercise))
    assert all(not exercise.proved.verdict(uci)["holds"] for uci in avoided)


def test_the_question_comes_with_whose_move_it_is() -> None:
    operations = chess.Board().set_epd(epd_line("1", asked("which unit", BISHOP)))
    assert operations["c0"] == question(asked("which unit", BISHOP)).replace("“", "'").replace(
        "”", "'"
    )
    assert str(operations["c0"]).startswith("Black to move.")
    assert operations["c1"] == "d8"
    assert "4.Bxd8" in str(operations["c2"])


def test_nothing_unsafe_has_no_proof_line() -> None:
    operations = chess.Board().set_epd(epd_line("1", asked("which unit", QUIET)))
    assert operations["c1"] == "none"
    assert "c2" not in operations


def test_a_name_cannot_break_its_line() -> None:
    line = epd_line('A "name"; with\nall; bm Ke2', asked("better way", KNIGHT))
    operations = chess.Board().set_epd(line)
    assert operations["id"] == "A 'name'; with all; bm Ke2"
    assert set(operations) <= STANDARD
    assert line.isascii()


def test_a_line_for_each() -> None:
    told = epd([("1", asked("every move")), ("2", asked("which unit"))])
    assert len(told.splitlines()) == 2
    assert told.endswith("\n")

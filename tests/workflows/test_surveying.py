import chess
import pytest

from fastness.errors import MoveError, PositionError
from fastness.language import language
from fastness.workflows.surveying import (
    read_moves,
    read_position,
    survey_lines,
    survey_position,
    text_for,
)

BOARD = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -"


@pytest.mark.parametrize(
    ("text", "fen"),
    [
        (f"{BOARD} 0 1", f"{BOARD} 0 1"),
        (f"  {BOARD}   3   7 \r\n", f"{BOARD} 3 7"),
        (f"\ufeff{BOARD}", f"{BOARD} 0 1"),
        (BOARD, f"{BOARD} 0 1"),
        (f"{BOARD} 5", f"{BOARD} 5 1"),
        (f"{BOARD} bm e4 d4;", f"{BOARD} 0 1"),
        (f'{BOARD} bm e4; id "first; of two"; hmvc 4; fmvn 12;', f"{BOARD} 4 12"),
        (f"{BOARD} noop", f"{BOARD} 0 1"),
    ],
)
def test_fen_and_epd_are_read(text: str, fen: str) -> None:
    assert read_position(text) == fen


@pytest.mark.parametrize("text", ["", "junk", "8/8/8 w -", f"{BOARD} 0 1 e4", f"{BOARD} ; x"])
def test_what_is_neither_is_refused(text: str) -> None:
    with pytest.raises(PositionError) as caught:
        read_position(text)
    assert caught.value.code == "fields"


def test_a_long_line_is_quoted_in_part_and_printable() -> None:
    with pytest.raises(PositionError) as caught:
        read_position("\x00" * 5000)
    assert len(caught.value.message) < 300
    assert caught.value.message.isprintable()


@pytest.mark.parametrize(
    ("moves", "uci"),
    [
        ("", []),
        ("1.e4 e5 2.Nf3 Nc6 3.Bb5 a6", ["e2e4", "e7e5", "g1f3", "b8c6", "f1b5", "a7a6"]),
        ("1. e4 1... e5 2. Nf3", ["e2e4", "e7e5", "g1f3"]),
        ("e2e4 e7e5 g1f3", ["e2e4", "e7e5", "g1f3"]),
        ("1.e4 d5 2.exd5 Qxd5!? 3.Nc3?!  *", ["e2e4", "d7d5", "e4d5", "d8d5", "b1c3"]),
        ("e4 e5 Nf3 Nf6 Bc4 Bc5 0-0", ["e2e4", "e7e5", "g1f3", "g8f6", "f1c4", "f8c5", "e1g1"]),
    ],
)
def test_moves_are_read(moves: str, uci: list[str]) -> None:
    assert read_moves(chess.STARTING_FEN, moves) == uci


@pytest.mark.parametrize(
    ("moves", "told"),
    [
        ("1.e4 d5 2.Qh6", 'Move 3 of the list, "Qh6", is not legal: White to move'),
        ("e2e5", 'Move 1 of the list, "e2e5", is not legal'),
        ("1.e4 hello", 'Move 2 of the list, "hello", is not a move in SAN or UCI'),
        ("1.d4 d5 2.Nf3 Nf6 3.Nd2", 'Move 5 of the list, "Nd2", is ambiguous'),
        ("1.e4 --", 'Move 2 of the list, "--", is a pass'),
        ("1.f3 e5 2.g4 Qh4# 3.a3", "Legal there: no move, the game is over"),
    ],
)
def test_a_wrong_move_is_told_with_its_place(moves: str, told: str) -> None:
    with pytest.raises(MoveError) as caught:
        read_moves(chess.STARTING_FEN, moves)
    assert told in str(caught.value)


def test_a_wrong_move_is_told_with_what_was_legal() -> None:
    with pytest.raises(MoveError, match=r"Legal there: .*\bNbd2, .*Nfd2\b"):
        read_moves(chess.STARTING_FEN, "1.d4 d5 2.Nf3 Nf6 3.Nd2")


def test_moves_are_ranked_where_that_is_asked_for() -> None:
    assert not survey_position(f"{BOARD} 0 1", reach=1)["ranked"]
    fen = "7k/8/8/8/8/8/q7/1K6 w - - 0 1"
    assert survey_position(fen, reach=1, ranks=True)["ranked"]
    for row in survey_lines([fen], reach=1, ranks=True):
        assert isinstance(row.answer, dict)
        assert row.answer["ranked"]


def test_each_reader_has_a_text_that_ends_in_a_line_break() -> None:
    given = survey_position(BOARD, "1.e4 d5", reach=1)
    teacher, student, line = (text_for(reader, given) for reader in ("teacher", "student", "line"))
    assert teacher.startswith("White to move (move 2)\n")
    assert student.startswith("Your pawn on e4 is in danger.")
    assert line.startswith("White to move: the pawn on e4 is not safe (a pawn's worth);")
    assert all(text.endswith("\n") for text in (teacher, student, line))
    assert text_for("student", given, language("de")).startswith("Dein Bauer auf e4 ist in Gefahr.")


def test_a_trade_is_in_doubt_only_where_the_moves_are_not_known() -> None:
    fen = "4k3/8/8/3n4/4P3/8/8/4K3 w - - 0 1"
    given = survey_position(fen, reach=1)
    assert "middle of a trade" in text_for("teacher", given)
    assert "middle of a trade" not in text_for("teacher", given, moves_given=True)

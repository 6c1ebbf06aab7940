"""Score sheets as they are typed: a table, every legal move in many forms, and whole games."""

import csv
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import chess
import pytest

from fastness.intake import Game, read_games
from fastness.intake.scoresheet import LETTERS, Ambiguous, Entered, Letters, Refused, Sheet
from fastness.intake.sheet_file import ILLEGIBLE, SheetFile
from tests.checks.positions import historic, random_play, sample

DATA = Path(__file__).parents[1] / "data"
with (DATA / "scoresheets" / "typed.csv").open(encoding="utf-8", newline="") as table:
    ROWS = list(csv.DictReader(table))
LANGUAGES: tuple[Letters, ...] = ("english", "german", "french", "spanish")


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['typed']}: {row['reason']}")
def test_what_is_typed_is_understood(row: dict[str, str]) -> None:
    sheet = Sheet()
    assert isinstance(sheet.enter(row["before"]), Entered)
    sheet.letters = row["letters"]  # type: ignore[assignment]
    found, meant = sheet.enter(row["typed"]), row["meant"]
    if meant == "!":
        assert isinstance(found, Refused)
        assert len(found.near) <= 5
        assert set(found.near) <= {sheet.board.san(move) for move in sheet.board.legal_moves}
    elif meant.startswith("?"):
        assert isinstance(found, Ambiguous)
        assert found.choices == tuple(meant[1:].split())
    else:
        assert isinstance(found, Entered), found
        assert tuple(san.rstrip("+#") for san in found.sans) == tuple(meant.split())


def in_letters(san: str, letters: Letters) -> str:
    """A move in another language's letters, in capitals."""
    return san.translate(str.maketrans("KQRBN", LETTERS[letters].upper()))


def forms(board: chess.Board, move: chess.Move, letters: Letters) -> set[str]:
    """Ways in which a club player may write a move."""
    san = in_letters(board.san(move), letters)
    bare = san.replace("x", "").replace("+", "").replace("#", "").replace("=", "")
    long = set() if move.promotion else {move.uci()}
    return {san, san.rstrip("+#"), bare, bare.lower(), san.replace("x", ":"), *long}


@pytest.mark.slow
@pytest.mark.parametrize("letters", LANGUAGES)
def test_every_legal_move_in_many_forms(letters: Letters) -> None:
    asked = entered = 0
    for fen in sample(historic(), 250, seed=71) + random_play(25, seed=72):
        board = chess.Board(fen)
        for move in board.legal_moves:
            for typed in forms(board, move, letters):
                found = Sheet(letters, chess.Board(fen)).meant_by(typed)
                assert move in found, (fen, typed)
                entered += len(found) == 1
                asked += len(found) > 1
                if typed == in_letters(board.san(move), letters):
                    assert found == [move] or typed[0].islower(), (fen, typed, found)
    assert entered > 20 * asked


@pytest.mark.slow
def test_whole_games_typed_carelessly_come_out_the_same(
    record_property: Callable[[str, object], None],
) -> None:
    games = [game for game in read_games(DATA / "historic.pgn") if isinstance(game, Game)]
    chosen = random.Random(73).sample(games, 60)
    asked = plies = 0
    for game in chosen:
        sheet = Sheet(board=chess.Board(game.start_fen))
        for uci in game.moves:
            move = chess.Move.from_uci(uci)
            san = sheet.board.san(move)
            found = sheet.enter(san.replace("x", "").rstrip("+#").lower())
            if isinstance(found, Ambiguous):
                asked += 1
                assert san in found.choices
                found = sheet.enter(san)
            assert isinstance(found, Entered), (found, san)
            plies += 1
        assert tuple(move.uci() for move in sheet.board.move_stack) == game.moves
    record_property("report", f"score sheets: {plies} plies typed carelessly, {asked} asked about")
    assert asked < plies / 50


def test_back_result_and_illegible() -> None:
    sheet = Sheet()
    sheet.enter("e4 e5 Nf3")
    assert sheet.back(2) == 2
    assert sheet.back(9) == 1
    found = sheet.enter("f3 e5 g4 Qh4 1-0")
    assert isinstance(found, Entered)
    assert found.notice == "there is mate on the board: 0-1"
    assert sheet.result == "1-0"


def test_what_was_in_the_file_stays_byte_for_byte(tmp_path: Path) -> None:
    path = tmp_path / "games.pgn"
    before = b'[Event "An odd one"]\r\n\r\n1. e4 {caf\xe9} *'
    path.write_bytes(before)
    sheet = Sheet()
    file = SheetFile(path, {"Event": "Club", "White": "Weirwater, Ada", "Black": "Flourdust, Ivy"})
    sheet.enter("d4 d5 c4")
    sheet.illegible = True
    file.keep(sheet)
    file.keep(sheet)
    data = path.read_bytes()
    assert data.startswith(before)
    assert data.count(b"Weirwater") == 1
    assert ILLEGIBLE.encode() in data
    again = [item for item in read_games(path) if isinstance(item, Game)]
    assert again[-1].moves == ("d2d4", "d7d5", "c2c4")


TYPING = """
import sys, time
from pathlib import Path
from fastness.intake.scoresheet import Sheet
from fastness.intake.sheet_file import SheetFile
file, sheet = SheetFile(Path(sys.argv[1]), {"Event": "Club"}), Sheet()
for word in "e4 e5 Nf3 Nc6 Bb5 a6 Ba4 Nf6 O-O Be7 Re1 b5 Bb3 d6 c3 O-O".split() * 40:
    if not sheet.board.move_stack or len(sheet.board.move_stack) < 16:
        sheet.enter(word)
    file.keep(sheet)
"""


@pytest.mark.slow
def test_killed_while_typing_the_game_is_there(tmp_path: Path) -> None:
    path = tmp_path / "games.pgn"
    dice = random.Random(74)
    for _ in range(10):
        process = subprocess.Popen([sys.executable, "-c", TYPING, str(path)])
        while not path.exists():
            time.sleep(0.01)
        time.sleep(dice.uniform(0, 0.3))
        os.kill(process.pid, signal.SIGKILL)
        process.wait()
        games = [item for item in read_games(path) if isinstance(item, Game)]
        assert len(games) == 1
        assert games[0].moves[:1] == ("e2e4",)
        path.unlink()

"""Whatever is typed from a score sheet: taken, asked about or refused, and the game stays one."""

from pathlib import Path
from tempfile import TemporaryDirectory

import chess
from hypothesis import given
from hypothesis import strategies as st

from fastness.intake.scoresheet import LETTERS, Ambiguous, Entered, Letters, Refused, Sheet
from fastness.intake.sheet_file import as_pgn, last_sheet
from tests.fuzzing import TRIES

WORDS = [
    "e4", "e5", "Nf3", "nf3", "Nc6", "Sf3", "d4", "exd4", "ed", "ed4", "Nxd4", "Bc4", "bc4", "O-O",
    "0-0-0", "oo", "1.", "2...", "e.p.", "+", "#", "=Q", "e8q", "a1a8", "1-0", "½-½", "*", "0-1",
    "e2-e4", "Ng1-f3", "--", "?", "x", "K", "\u00d7", "\u2013",
]  # fmt: skip
LINE = st.lists(st.one_of(st.sampled_from(WORDS), st.text(max_size=6)), max_size=8).map(" ".join)
PLAYED = st.sampled_from(
    ["e4 e5", "e4 e5 Nf3 Nc6 Bc4", "1.d4 d5 2.c4 dc", "e4 d5 exd5 Qxd5", "Nc3 Nf6"]
)
STEP = st.one_of(PLAYED, LINE, st.integers(0, 4))


@TRIES
@given(st.sampled_from(sorted(LETTERS)), st.lists(STEP, min_size=2, max_size=12))
def test_what_is_typed_leaves_a_game(letters: Letters, steps: list[str | int]) -> None:
    sheet = Sheet(letters)
    for step in steps:
        before = len(sheet.board.move_stack)
        if isinstance(step, int):
            taken_back = sheet.back(step)
            assert len(sheet.board.move_stack) == before - taken_back
            assert taken_back == min(step, before)
            continue
        answer = sheet.enter(step)
        taken = answer.sans if isinstance(answer, Entered) else answer.before
        assert len(sheet.board.move_stack) == before + len(taken)
        shown = answer.choices if isinstance(answer, Ambiguous) else ()
        shown = answer.near if isinstance(answer, Refused) else shown
        for san in shown:
            assert sheet.board.parse_san(san) in sheet.board.legal_moves
        assert isinstance(answer, Entered) or answer.word
    replayed = chess.Board()
    for move in sheet.board.move_stack:
        assert move in replayed.legal_moves
        replayed.push(move)
    kept_and_read_again(sheet)


def kept_and_read_again(sheet: Sheet) -> None:
    tags = {"Event": "Millrace club evening", "White": "Weirwater, Ada", "Black": "Sluicegate, Ned"}
    with TemporaryDirectory() as folder:
        path = Path(folder) / "typed.pgn"
        path.write_text(as_pgn(sheet, tags), encoding="utf-8")
        kept = last_sheet(path)
    assert kept is not None
    assert kept.sheet.board.move_stack == sheet.board.move_stack
    assert kept.sheet.result == sheet.result

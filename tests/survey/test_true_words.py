"""Every sentence of real pages is read back and held against the PyPI `chess` package.

What no rule recognises fails, so that the page cannot assert anything unexamined.
"""

import re
from collections.abc import Sequence
from pathlib import Path

import chess
import pytest

from fastness import core
from fastness.core.shapes import Survey
from fastness.survey import page
from tests.survey.claims import flat, sections, sentences
from tests.survey.least_list import ListReader
from tests.survey.rules import examine

TABLE = Path(__file__).parents[1] / "data" / "historic-positions.fen"
POSITIONS = [fen for fen in TABLE.read_text("ascii").split("\n") if fen]
PARTS = 8
"""The positions are read in this many tests, every third position in all."""


def examined(survey: Survey, *, moves_given: bool = False) -> None:
    """Holds the whole page of `survey` against the board."""
    board = chess.Board(survey["fen"])
    reader = ListReader(survey)
    kept: set[str] = set()
    fallen: set[str] = set()
    for title, rows in sections(page(survey, moves_given=moves_given)).items():
        heading = title.partition(" (")[0]
        if heading in ("What is not safe", "What can be taken", "What can be won"):
            wins = [row for row in rows if re.match(r"  (?:wins .*|mates):", row)]
            at = rows.index(wins[0]) if wins else len(rows)
            if rows[:at] and not over(board, rows):
                for told in sentences(rows[:at]):
                    examine(reader, told)
            reader.winning(rows[at:])
            assert not reader.waiting, reader.waiting
        elif heading.startswith("Moves that would lose"):
            fallen |= reader.listed(title, rows, holding=False)
            counted(title, len(fallen), board)
        elif heading.startswith("Moves that"):
            if reader.hopeless(rows):
                continue
            named = reader.listed(title, rows, holding=True)
            kept |= {san for san in named if reader.verdicts[san]["holds"]}
            fallen |= named - kept
            counted(title, len(kept), board)
        elif heading in ("Natural tries that fail", "What the natural tries lose"):
            fallen |= reader.listed(title, rows, holding=False)
        else:
            headed(board, title, rows)
    legal = {board.san(move) for move in board.legal_moves}
    assert legal == set(reader.verdicts)
    assert not kept & fallen
    falling = {san for san in legal if not reader.verdicts[san]["holds"]}
    # What holds one move deeper is told there.
    fallen |= {san for san in falling if reader.verdicts[san]["firm"] is False}
    assert fallen == falling or (not kept and fallen <= falling == legal)
    if kept:
        assert kept == legal - falling


def over(board: chess.Board, rows: Sequence[str]) -> bool:
    told = flat(list(rows))
    if "stalemate" in told:
        assert board.is_stalemate()
    if "is mated" in told:
        assert board.is_checkmate()
    return board.is_game_over(claim_draw=False) and not any(board.legal_moves)


def counted(title: str, named: int, board: chess.Board) -> None:
    """The count in a heading, ``(7 of 30)``: those named of all legal moves."""
    found = re.search(r"\((\d+) of (\d+)\)", title)
    assert found or not named, title
    if found:
        assert (int(found[1]), int(found[2])) == (named, board.legal_moves.count())


def headed(board: chess.Board, title: str, rows: Sequence[str]) -> None:
    """The head of the page, the diagram and the foot."""
    if "to move" in title:
        side = "White" if board.turn else "Black"
        check = ", in check" if board.is_check() and any(board.legal_moves) else ""
        assert title == f"{side} to move{check} (move {board.fullmove_number})"
    else:
        assert title.startswith(("   +", "How far this goes"))
        assert "FEN" not in title or board.fen() in rows[-1]


@pytest.mark.parametrize("part", range(PARTS))
def test_every_sentence_on_real_positions_is_true(part: int) -> None:
    rows = [(fen, ()) for fen in POSITIONS[::3][part::PARTS]]
    answers = core.survey_many(rows)
    for answer in answers:
        assert isinstance(answer, dict), answer
        examined(answer)


def test_every_sentence_of_what_is_checked_one_move_deeper_is_true() -> None:
    for answer in core.survey_many([(fen, ()) for fen in POSITIONS[5::24]], firm=True):
        assert isinstance(answer, dict), answer
        examined(answer)


def test_every_sentence_on_trades_in_progress_is_true() -> None:
    rows = []
    for fen in POSITIONS[1::12]:
        board = chess.Board(fen)
        captures = sorted(move.uci() for move in board.generate_legal_captures())
        rows += [(fen, captures[:1])] if captures else []
    assert len(rows) > 50
    for answer in core.survey_many(rows):
        assert isinstance(answer, dict), answer
        examined(answer, moves_given=True)


@pytest.mark.parametrize(
    "fen",
    [
        "8/8/8/3Kp3/4Pk2/8/8/8 w - - 0 1",
        "5k2/P7/8/8/8/8/6K1/8 b - - 0 1",
        "3r2k1/5ppp/8/8/8/b7/5PPP/R5K1 b - - 0 1",
        "8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1",
        "3q2k1/5ppp/8/8/8/3B4/5PPP/3R2K1 b - - 0 1",
        "7k/5Q2/6K1/8/8/8/8/8 b - - 0 1",
        "rnb1kbnr/pppp1ppp/8/4p3/6Pq/5P2/PPPPP2P/RNBQKBNR w KQkq - 1 3",
        "6k1/5ppp/8/8/8/8/5PPP/3rR1K1 w - - 0 1",
        "3r2k1/P7/8/8/8/8/8/R5K1 b - - 0 1",
        "4k3/8/8/8/8/8/5PPP/r5K1 w - - 0 1",
    ],
)
def test_every_sentence_on_made_positions_is_true(fen: str) -> None:
    examined(core.survey(fen))


@pytest.mark.parametrize(
    ("true", "false"),
    [
        ("3...Qxg5 4.Nxg5", "3...Qxg5 4.Nxe5"),
        ("(loses 6 pawns' worth", "(loses 5 pawns' worth"),
        ("(7 of 30)", "(8 of 30)"),
        ("Every other move (", "Every other move (1"),
        ("on g5 attacks it", "on g4 attacks it"),
        ("(the king on e8)", "(the bishop on f8)"),
        ("it costs 6 pawns' worth", "it costs 7 pawns' worth"),
        ("If Black passes: 4.Bxd8 Kxd8.", "If Black passes: 4.Bxd8."),
        ("rook a8 and rook h8", "rook a8"),
        ("Qd6, Qd7", "Qd7"),
    ],
)
def test_a_false_word_is_caught(true: str, false: str, monkeypatch: pytest.MonkeyPatch) -> None:
    fen = "rnbqkbnr/ppp2ppp/4p3/3p2B1/3P4/5N2/PPP1PPPP/RN1QKB1R b KQkq - 1 3"
    survey = core.survey(fen)
    examined(survey)
    text = page(survey)
    assert true in text
    monkeypatch.setattr(
        "tests.survey.test_true_words.page", lambda *_, **__: text.replace(true, false, 1)
    )
    with pytest.raises((AssertionError, ValueError)):
        examined(survey)

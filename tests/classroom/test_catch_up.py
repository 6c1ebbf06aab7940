"""The sheet for those who were absent: questions that tell nothing, verdicts of the survey."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path

import chess
import pytest

from fastness.classroom import catch_up as sheet_of
from fastness.classroom import commands, keeping
from fastness.classroom.catch_up import catch_up, write_catch_up
from fastness.classroom.preparing import begin, given, of_exercises
from fastness.classroom.session import ClassSession, with_position
from fastness.classroom.taught import (
    Taught,
    class_board,
    taught_by_board,
    taught_by_lesson,
)
from fastness.errors import FileError, InputError, MissingError
from fastness.exercises.shelving import as_entry
from fastness.language import ENGLISH, LANGUAGES, language
from fastness.lessons.example import EXAMPLES
from fastness.publish.document import Beside, Diagram, Diagrams, Document, NewPage
from fastness.publish.html import html
from fastness.store import Store, open_store, shelf
from fastness.survey.lines import move_name, numbered
from tests.classroom.boards import FEW, GUARDED, QUIET, looked, session, tried
from tests.exercises.asked import KNIGHT, asked

DAY = datetime.date(2026, 9, 7)
ONLY = "6k1/1p3ppp/2n5/4b3/B7/5N2/5PPP/4R1K1 b - - 0 1"
"""Only Bd6 keeps the bishop, and not when it is looked at 4 moves ahead."""
SECRET = "hands up, Ivy"


@pytest.fixture(autouse=True)
def looked_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each position is looked at once for all tests, by what looks at it in earnest."""
    monkeypatch.setattr(sheet_of, "look_at", lambda one: looked(one.start, " ".join(one.moves)))


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return open_store(tmp_path / "store.sqlite")


@pytest.fixture
def board() -> ClassSession:
    """Three positions, tries with hands in the first, and a note."""
    made = tried(session(GUARDED, FEW, QUIET), "Re8", "Nc6", "Qe7")
    made = commands.count_hands(made, made.at.tries[0].number, 7)
    return with_position(made, replace(made.at, note=SECRET))


def questions(sheet: Document) -> list[Diagram]:
    (found,) = [block for block in sheet.blocks if isinstance(block, Diagrams)]
    return [one for one in found.diagrams if one is not None]


def answers(sheet: Document) -> list[Beside]:
    return [block for block in sheet.blocks if isinstance(block, Beside)]


@pytest.mark.parametrize("code", LANGUAGES)
def test_every_try_has_the_verdict_of_the_survey_and_its_refutation(
    board: ClassSession, store: Store, code: str
) -> None:
    words = language(code)
    sheet = catch_up("Guarding", DAY, taught_by_board(board, store, words), words)
    assert sheet.title.endswith(": Guarding")
    *told, unsettled = answers(sheet)[0].texts[2:]
    assert unsettled.endswith(": f5.")
    verdicts = {move["uci"]: move for move in looked(GUARDED).survey["moves"]}
    assert len(told) == len(board.at.tries) == 3
    for sentence, one in zip(told, board.at.tries, strict=True):
        assert sentence.startswith(move_name(chess.Board(GUARDED), one.move, words))
        assert one.verdict.told[words.code] in sentence
        line = numbered(GUARDED, verdicts[one.move]["line"] or (), words)
        assert (line in sentence) == (not verdicts[one.move]["holds"])


def test_the_questions_name_the_tries_and_tell_nothing(board: ClassSession, store: Store) -> None:
    sheet = catch_up("Guarding", DAY, taught_by_board(board, store))
    first, second, third = questions(sheet)
    assert first.caption == (
        "Black to move. Is anything not safe? What would you play? The group tried Re8, Nc6, Qe7."
        " After which of these does Black lose nothing, and why not after the others?"
    )
    assert second.caption.endswith("What would you play?")
    assert [one.fen for one in (first, second, third)] == [one.fen for one in board.positions]
    assert [one.flip for one in (first, second, third)] == [True, True, False]
    assert all(one.ringed == () and one.lines for one in (first, second, third))
    kinds = [type(block) for block in sheet.blocks]
    assert kinds.index(Diagrams) < kinds.index(NewPage) < kinds.index(Beside)
    assert answers(sheet)[0].diagram.ringed == ("e5",)


def test_no_hand_and_no_note_is_on_it(board: ClassSession, store: Store) -> None:
    page = html(catch_up("Guarding", DAY, taught_by_board(board, store)))
    assert board.at.tries[0].hands == 7
    assert "Ivy" not in page
    bare = with_position(
        board,
        replace(board.at, note="", tries=tuple(replace(one, hands=0) for one in board.at.tries)),
    )
    assert html(catch_up("Guarding", DAY, taught_by_board(bare, store))) == page


def test_a_try_that_changes_one_move_deeper_is_told_as_not_settled(store: Store) -> None:
    loose = next(move for move in looked(GUARDED).survey["moves"] if not move["firm"])
    made = tried(session(GUARDED), loose["uci"])
    sheet = catch_up("Guarding", DAY, taught_by_board(made, store))
    assert "Not settled" in answers(sheet)[0].texts[2]


def test_an_answer_that_changes_one_move_deeper_is_told_as_not_settled(store: Store) -> None:
    sheet = catch_up("Guarding", DAY, taught_by_board(session(ONLY), store))
    text, unsettled = answers(sheet)[0].texts[1:]
    assert "Bd6 loses nothing" in text
    assert unsettled == "Not settled, since looking one move further changes it: Bd6."


def test_an_exercise_keeps_its_question_and_the_teachers_word(store: Store) -> None:
    one = asked("every move", KNIGHT)
    with store.writing() as opened:
        row, _ = shelf.put(opened, as_entry(one))
        shelf.correct(opened, row, "comment", "we did this one twice")
        number = row.id
    made = begin(1, "Monday", of_exercises(store, [number]))
    (taught,) = taught_by_board(made, store)
    sheet = catch_up("Guarding", DAY, [taught])
    assert questions(sheet)[0].caption == (
        "Black to move. Find every move after which Black loses nothing."
    )
    assert answers(sheet)[0].texts[-1] == "Your teacher: we did this one twice"


def test_what_the_teacher_struck_is_not_on_it(store: Store) -> None:
    with store.writing() as opened:
        row, _ = shelf.put(opened, as_entry(asked("every move", KNIGHT)))
        number = row.id
    made = begin(1, "Monday", [*of_exercises(store, [number]), given(GUARDED)])
    assert len(taught_by_board(made, store)) == 2
    with store.writing() as opened:
        shelf.correct(opened, shelf.numbered(opened, number), "strike", "unclear")
    (left,) = taught_by_board(made, store)
    assert left.position.fen == GUARDED
    with pytest.raises(InputError, match="no position to catch up on"):
        catch_up("Guarding", DAY, ())


@pytest.mark.parametrize("code", LANGUAGES)
def test_a_lesson_file_gives_its_positions_and_the_moves_it_speaks_of(
    tmp_path: Path, code: str
) -> None:
    path, words = tmp_path / "guard.md", language(code)
    path.write_text(EXAMPLES[words.code], encoding="utf-8")
    first, second = taught_by_lesson(path, words)
    assert (first.position.fen, first.by_class) == (GUARDED, False)
    # In alphabetical order: in the lesson the moves that hold come first.
    assert first.tries == ("e5c4", "e5c6", "e5g4", "f8e8")
    assert second.tries == ("f7f6",)
    sheet = catch_up("Guarding", DAY, [first, second], words)
    assert len(answers(sheet)[0].texts) == 2 + len(first.tries) + 1
    assert "Gruppe hat" not in questions(sheet)[0].caption


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        (f"```position\n{GUARDED}\nholds: Re8\n```\n", r"bad\.md:3: holds: Re8 is false"),
        (f"```position\n{GUARDED}\nholds: Ke4\n```\n", r"bad\.md:3:\d+: "),
        ("# Nothing yet\n", r"bad\.md:1:1: there is no position here"),
    ],
)
def test_a_lesson_that_is_not_true_makes_no_sheet(tmp_path: Path, text: str, fault: str) -> None:
    (tmp_path / "bad.md").write_text(text, encoding="utf-8")
    with pytest.raises(FileError, match=fault):
        taught_by_lesson(tmp_path / "bad.md")


def test_a_trade_is_judged_from_its_start() -> None:
    start = chess.STARTING_FEN
    position = given(start, "e4 e5 Nf3 Nc6 Bb5 a6 Bxc6")
    sheet = catch_up("Trades", DAY, [Taught(position, ("h7h6",), by_class=True)])
    assert "h6 loses 3 pawns' worth" in answers(sheet)[0].texts[2]


def test_a_class_board_is_found_by_its_number_or_title(tmp_path: Path, board: ClassSession) -> None:
    place = tmp_path / keeping.NAME
    keeping.keep(place, [board, replace(board, number=8), replace(board, number=9, title="Forks")])
    assert class_board(place, "8").number == 8
    assert class_board(place, " forks ").number == 9
    with pytest.raises(InputError, match='2 class boards "Monday"; give one\'s number: 7, 8'):
        class_board(place, "Monday")
    with pytest.raises(MissingError, match="there is 7 Monday; 8 Monday; 9 Forks"):
        class_board(place, "Pins")
    with pytest.raises(MissingError, match="there is none"):
        class_board(tmp_path / "elsewhere.json", "Pins")


def test_it_is_written_as_pdf_and_page_and_twice_the_same(
    tmp_path: Path, board: ClassSession, store: Store
) -> None:
    shown = taught_by_board(board, store, ENGLISH)
    seen: list[int] = []
    sheet = catch_up("Guarding", DAY, shown, on_progress=seen.append)
    files = write_catch_up(sheet, tmp_path / "out")
    assert [file.name for file in files] == ["catch-up.pdf", "catch-up.html"]
    assert seen == [1, 2, 3]
    first = [file.read_bytes() for file in files]
    assert first[0].startswith(b"%PDF")
    write_catch_up(catch_up("Guarding", DAY, shown), tmp_path / "out")
    assert [file.read_bytes() for file in files] == first
    with pytest.raises(FileError):
        write_catch_up(sheet, files[0] / "below")

"""The commands at the class board, and what each screen is told then."""

from __future__ import annotations

import json
from dataclasses import asdict

import pytest

from fastness.classroom import commands
from fastness.classroom.session import ClassSession
from fastness.classroom.telling import tell_board, tell_class
from fastness.errors import InputError, MissingError
from fastness.language import language
from tests.classroom.boards import GUARDED, PINNED, QUIET, looked, session, tried, try_on


def test_the_class_sees_the_position_and_nothing_else_until_it_is_asked_for() -> None:
    started = commands.write_note(tried(session(GUARDED, PINNED), "Nc6", "Re8"), 1, "Ask first.")
    started = commands.count_hands(started, try_on(started, "Re8").number, 4)
    board = tell_board(started)
    clean = tell_board(session(GUARDED))
    assert board == clean
    assert (board.fen, board.told, board.moves) == (GUARDED, "", ())
    assert not any(asdict(board.marks).values())
    told = json.dumps(asdict(board))
    for hidden in ("Ask first.", "Monday", PINNED, "Nc6", "keeps", "loses"):
        assert hidden not in told


def test_a_try_is_entered_once() -> None:
    started = tried(session(), "Nc6", "Re8")
    again = tried(started, "Nc6")
    assert again == started
    assert [one.move for one in started.at.tries] == ["e5c6", "f8e8"]


def test_hands_are_counted_and_never_below_none() -> None:
    started = tried(session(), "Re8")
    number = try_on(started, "Re8").number
    for change, hands in ((1, 1), (3, 4), (-1, 3), (-9, 0), (2000, commands.MOST_HANDS)):
        started = commands.count_hands(started, number, change)
        assert try_on(started, "Re8").hands == hands


def test_a_try_is_shown_alone_then_with_its_verdict_then_step_by_step() -> None:
    started = tried(session(), "Re8")
    number = try_on(started, "Re8").number
    alone = commands.show_try(started, number, said=False)
    assert tell_board(alone).moves == ("f8e8",)
    assert tell_board(alone).told == ""
    assert tell_board(alone).fen.startswith("r1bqr1k1/")
    said = commands.show_try(commands.step_to(alone, 2), number, said=True)
    assert tell_board(said).moves == ("f8e8", "d1d8")
    assert tell_board(said).told.startswith("Re8 loses 3 pawns' worth")
    assert tell_board(said).spoken == "the queen on d1 takes the queen on d8"
    end = commands.step_to(said, 99)
    assert end.shown.step == len(end.shown.line) == 4
    assert tell_board(commands.step_to(end, -1)).fen == GUARDED


def test_try_again_shows_the_position_clean_and_keeps_the_tries() -> None:
    started = tried(session(), "Re8", "Nc6")
    shown = commands.show_try(started, try_on(started, "Re8").number, said=True)
    again = commands.show_clean(shown)
    assert tell_board(again) == tell_board(session())
    assert again.at.tries == started.at.tries


def test_a_try_that_is_taken_out_is_no_longer_seen() -> None:
    started = tried(session(), "Re8", "Nc6")
    number = try_on(started, "Re8").number
    shown = commands.take_out(commands.show_try(started, number, said=True), number)
    assert tell_board(shown) == tell_board(session())
    assert [one.move for one in shown.at.tries] == ["e5c6"]
    with pytest.raises(MissingError, match="no try"):
        commands.take_out(shown, number)


def test_what_is_not_safe_is_marked_when_asked_for() -> None:
    marks = tell_board(commands.show_marks(session(PINNED), looked(PINNED))).marks
    assert marks.ringed == ("e4",)
    assert tell_board(commands.show_marks(session(PINNED), looked(PINNED))).told == ""


def test_who_is_to_move_is_said_when_asked_for() -> None:
    assert tell_board(commands.show_side(session())).told == "Black to move."
    german = commands.on_screen(commands.show_side(session()), language="de")
    assert tell_board(german).told == "Schwarz am Zug."


def test_the_answers_come_one_after_another_and_again() -> None:
    started, seen = session(), []
    for _ in range(4):
        started = commands.show_answer(started, looked(GUARDED))
        seen.append((started.shown.number, started.shown.line[0]))
        assert "keeps the material" in tell_board(started).told
    assert [number for number, _ in seen] == [1, 2, 3, 1]
    assert seen[3] == seen[0]


def test_the_sentence_can_be_hidden_and_shown_again() -> None:
    started = tried(session(), "Re8")
    shown = commands.show_try(started, try_on(started, "Re8").number, said=True)
    assert tell_board(commands.say_it(shown, said=False)).told == ""
    assert commands.say_it(commands.say_it(shown, said=False), said=True) == shown
    with pytest.raises(InputError, match="no sentence"):
        commands.say_it(started, said=True)


def test_another_position_is_shown_clean_and_its_tries_are_kept() -> None:
    started = tried(session(GUARDED, PINNED), "Re8")
    shown = commands.show_try(started, try_on(started, "Re8").number, said=True)
    second = commands.go_to(shown, 2)
    assert tell_board(second).fen == PINNED
    assert tell_board(second).told == ""
    assert [one.move for one in commands.go_to(second, 1).at.tries] == ["f8e8"]
    with pytest.raises(MissingError, match="no position 9"):
        commands.go_to(second, 9)


def test_a_position_is_removed_and_the_next_one_shown() -> None:
    started = commands.remove(session(GUARDED, PINNED), 1)
    assert started.current == 2
    with pytest.raises(InputError, match="only position"):
        commands.remove(started, 2)


def test_no_line_no_step() -> None:
    with pytest.raises(InputError, match="No line"):
        commands.step_to(session(), 1)


def test_the_screen_turns_and_changes_its_look() -> None:
    assert tell_board(session()).side == "black"
    turned = commands.on_screen(session(), turned=True, theme="dark")
    assert (tell_board(turned).side, tell_board(turned).theme) == ("white", "dark")
    assert tell_board(session(QUIET)).side == "white"


@pytest.mark.parametrize(("code", "name"), [("en", "Re8"), ("de", "Te8")])
def test_the_teacher_is_told_everything_in_the_own_language(code: str, name: str) -> None:
    started: ClassSession = tried(session(GUARDED, PINNED), "Re8", "Nc6")
    told = tell_class(started, language(code))
    assert [one.number for one in told.positions] == [1, 2]
    first, second = told.now.tries
    assert (first.name, first.holds, second.holds) == (name, False, True)
    assert first.told.startswith(name)
    assert [step.uci for step in first.line.steps][:2] == ["f8e8", "d1d8"]
    assert len(told.now.position.moves) == 39

"""A student plays on against a refutation: the answers, and what is settled."""

from __future__ import annotations

import random

import chess
import pytest

from fastness.classroom import commands
from fastness.classroom.preparing import begin, given
from fastness.classroom.session import BoardPosition, ClassSession, Play, board_after
from fastness.classroom.telling import tell_board, tell_class
from fastness.errors import InputError, MoveError
from tests.checks.replay import THRESHOLD, balance
from tests.classroom.boards import FEW, PINNED, TRADE, looked, session, tried, try_on
from tests.judge.plain import Plain, mating, running


def playing(fen: str, move: str) -> ClassSession:
    started = tried(session(fen), move)
    return commands.play_on(started, try_on(started, move).number)


def play_of(session: ClassSession) -> Play:
    play = session.at.play
    assert play is not None
    return play


def test_it_begins_where_the_student_is_to_move() -> None:
    started = tried(session(), "Re8")
    number = try_on(started, "Re8").number
    assert play_of(commands.play_on(started, number)).line == ("f8e8", "d1d8")
    shown = commands.show_try(started, number, said=True)
    assert play_of(commands.play_on(commands.step_to(shown, 3), number)).line[:2] == (
        "f8e8",
        "d1d8",
    )
    assert len(play_of(commands.play_on(commands.step_to(shown, 3), number)).line) == 4


def test_a_try_that_holds_has_nothing_to_play_against() -> None:
    started = tried(session(), "Nc6")
    with pytest.raises(InputError, match="keeps the material"):
        commands.play_on(started, try_on(started, "Nc6").number)


def test_until_the_loss_stands_on_the_board_it_is_not_decided() -> None:
    started = playing(PINNED, "Nf6")
    assert play_of(started).state == "open"
    assert play_of(started).told["en"].startswith("Nothing is lost yet, but Black cannot keep")
    # 1...Nf6 2.Nc6+ wins the queen: 2...Qe7 3.Nxe7 Bxe7.
    started = commands.play_move(started, "d8e7")
    assert play_of(started).line == ("e4f6", "e5c6", "d8e7", "c6e7")
    assert play_of(started).state == "open"
    assert "wins some of it back; 6 pawns' worth stays lost" in play_of(started).told["en"]
    started = commands.play_move(started, "f8e7")
    assert play_of(started).state == "decided"
    assert play_of(started).told["en"] == (
        "Black has lost 6 pawns' worth, and it stays lost, looking 3 moves ahead."
    )
    assert tell_board(started).told == play_of(started).told["en"]


def test_a_move_is_taken_back_with_the_answer_to_it() -> None:
    started = playing(PINNED, "Nf6")
    played = commands.play_move(started, "d8e7")
    assert play_of(commands.take_back(played)) == play_of(started)
    with pytest.raises(InputError, match="no move to take back"):
        commands.take_back(started)


def test_mate_ends_it() -> None:
    # 1...h6 lets the rook mate on the back rank.
    fen = "6k1/5ppp/8/8/8/8/r4PPP/3R2K1 b - - 0 1"
    started = playing(fen, "Ra3")
    assert play_of(started).line == ("a2a3", "d1d8")
    assert (play_of(started).state, play_of(started).told["en"]) == ("decided", "Black is mated.")


def test_what_is_owed_in_a_trade_counts_as_lost() -> None:
    started = begin(7, "", [given(TRADE, "Nc6 Bxc6")])
    started = commands.enter_try(started, looked(TRADE, "Nc6 Bxc6"), "h7h6")
    play = play_of(commands.play_on(started, started.at.tries[0].number))
    # The knight is gone already; 4...h6 does not take back.
    assert play.line[0] == "h7h6"
    assert len(play.line) == 2
    assert play.told["en"].startswith("Black has lost 3 pawns' worth")


def test_a_move_that_is_not_legal_is_refused() -> None:
    with pytest.raises(MoveError, match="a1a8 is not legal"):
        commands.play_move(playing(PINNED, "Nf6"), "a1a8")
    with pytest.raises(InputError, match="Nobody plays on"):
        commands.play_move(session(), "a7a6")


def test_the_class_sees_the_last_two_moves_numbered() -> None:
    started = commands.play_move(playing(PINNED, "Nf6"), "d8e7")
    assert tell_board(started).moves == ("d8e7", "c6e7")
    assert tell_board(started).spoken == "the knight on c6 takes the queen on e7"
    told = tell_class(started).now.play
    assert told is not None
    assert told.line.told == "1...Nf6 2.Nc6+ Qe7 3.Nxe7"


@pytest.fixture(scope="module")
def plain() -> object:
    with running() as process:
        yield process


@pytest.mark.parametrize("move", ["Rf8", "Rf2", "Bd2+"])
def test_what_stays_lost_is_what_the_plain_reference_finds(plain: Plain, move: str) -> None:
    """Whatever a student plays, by the dice."""
    dice, started = random.Random(move), tried(session(FEW), move)
    started = commands.play_on(started, try_on(started, move).number)
    for _ in range(3):
        play = play_of(started)
        board = board_after(FEW, play.line)
        assert_settled(plain, started.at, play)
        if not any(board.legal_moves):
            break
        started = commands.play_move(started, dice.choice(list(board.legal_moves)).uci())


def assert_settled(plain: Plain, position: BoardPosition, play: Play) -> None:
    start, board = chess.Board(position.fen), board_after(position.fen, play.line)
    own = start.turn
    if not any(board.legal_moves):
        assert play.state == "decided"
        return
    stays = plain.value(position.fen, play.line, 6, not own, balance(start, not own))
    lost = balance(start, own) - balance(board, own)
    if mating(stays):
        assert play.state == "open"
        assert "cannot avoid mate" in play.told["en"]
    elif stays < THRESHOLD:
        assert play.state == "not settled"
    else:
        assert (play.state == "decided") == (lost == stays)
        assert f"{stays // 100} pawns' worth" in play.told["en"]

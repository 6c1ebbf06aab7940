"""What the teacher does at the class board: each command gives the session as it is then."""

from __future__ import annotations

from dataclasses import replace

from fastness.classroom.judging import answers_of, marks_on, nothing_marked, verdict_on
from fastness.classroom.playing_on import begun_at, defended, taken_back
from fastness.classroom.session import (
    NO_MARKS,
    BoardPosition,
    ClassSession,
    Play,
    Shown,
    Theme,
    Try,
    in_each_language,
    try_of,
    with_position,
)
from fastness.classroom.surveyed import Surveyed
from fastness.errors import InputError
from fastness.language import LanguageName
from fastness.survey.words import side_name

MOST_HANDS = 999
MOST_POSITIONS = 200
MOST_TRIES = 60
CLEAN = Shown()
"""The position and nothing else."""


def go_to(session: ClassSession, number: int) -> ClassSession:
    """Another position, shown clean. Raises MissingError where it is not there."""
    session.position(number)
    return replace(session, current=number, shown=CLEAN)


def add(session: ClassSession, positions: tuple[BoardPosition, ...]) -> ClassSession:
    """Positions at the end. Raises InputError where they would be too many."""
    if len(session.positions) + len(positions) > MOST_POSITIONS:
        raise InputError(f"A class board has at most {MOST_POSITIONS} positions.")
    numbered = tuple(
        replace(one, number=number) for number, one in enumerate(positions, session.next)
    )
    return replace(
        session, positions=session.positions + numbered, next=session.next + len(numbered)
    )


def remove(session: ClassSession, number: int) -> ClassSession:
    """The session without a position.

    Raises MissingError where it is not there, InputError where it is the only one.
    """
    session.position(number)
    left = tuple(one for one in session.positions if one.number != number)
    if not left:
        raise InputError("This is the only position; end the class board instead.")
    if session.current != number:
        return replace(session, positions=left)
    place = [one.number for one in session.positions].index(number)
    return go_to(replace(session, positions=left), left[min(place, len(left) - 1)].number)


def write_note(session: ClassSession, number: int, note: str) -> ClassSession:
    """The teacher's note on a position. Raises MissingError where it is not there."""
    return with_position(session, replace(session.position(number), note=note))


def on_screen(
    session: ClassSession,
    *,
    turned: bool | None = None,
    theme: Theme | None = None,
    language: LanguageName | None = None,
) -> ClassSession:
    """How the class's screen looks; what is None stays."""
    return replace(
        session,
        turned=session.turned if turned is None else turned,
        theme=theme or session.theme,
        language=language or session.language,
    )


def enter_try(session: ClassSession, looked: Surveyed, move: str) -> ClassSession:
    """A try (UCI) with its verdict; one that was entered before is left as it is.

    Raises MoveError where the move is not legal, InputError where there are too many tries.
    """
    position = session.at
    if any(one.move == move for one in position.tries):
        return session
    if len(position.tries) >= MOST_TRIES:
        raise InputError(f"A position has at most {MOST_TRIES} tries; take one out first.")
    tried = Try(session.next, move, verdict_on(looked, move))
    changed = replace(position, tries=(*position.tries, tried))
    return with_position(replace(session, next=session.next + 1), changed)


def take_out(session: ClassSession, number: int) -> ClassSession:
    """The session without a try; where it was shown, the position is shown clean.

    Raises MissingError where it is not there.
    """
    position = session.at
    try_of(position, number)
    played = position.play is not None and position.play.number == number
    left = tuple(one for one in position.tries if one.number != number)
    changed = replace(position, tries=left, play=None if played else position.play)
    session = with_position(session, changed)
    shown = session.shown
    gone = (shown.what == "try" and shown.number == number) or (shown.what == "play" and played)
    return replace(session, shown=CLEAN) if gone else session


def count_hands(session: ClassSession, number: int, change: int) -> ClassSession:
    """More or fewer hands for a try. Raises MissingError where it is not there."""
    tried = try_of(session.at, number)
    hands = min(max(0, tried.hands + change), MOST_HANDS)
    return _with_try(session, replace(tried, hands=hands))


def _with_try(session: ClassSession, changed: Try) -> ClassSession:
    position = session.at
    tries = tuple(changed if one.number == changed.number else one for one in position.tries)
    return with_position(session, replace(position, tries=tries))


def show_clean(session: ClassSession) -> ClassSession:
    """The position and nothing else: to begin, and to try again."""
    return replace(session, shown=CLEAN)


def show_side(session: ClassSession) -> ClassSession:
    """The position, and who is to move."""
    side = session.at.fen.split(" ")[1]
    name = "white" if side == "w" else "black"
    told = in_each_language(
        lambda language: language.say("{own} to move.", own=side_name(name, language))
    )
    return replace(session, shown=Shown("side", told=told, said=True))


def show_marks(session: ClassSession, looked: Surveyed) -> ClassSession:
    """The position with the marks of what is not safe; a sentence where nothing is marked."""
    marks = marks_on(looked)
    told = nothing_marked(looked) if marks == NO_MARKS else {}
    return replace(session, shown=Shown("marks", told=told, said=bool(told), marks=marks))


def show_try(session: ClassSession, number: int, *, said: bool) -> ClassSession:
    """A try on the board, with its verdict or without; where it stands already, it stays.

    Raises MissingError where it is not there.
    """
    tried, shown = try_of(session.at, number), session.shown
    step = shown.step if shown.what == "try" and shown.number == number else 1
    verdict = tried.verdict
    return replace(
        session,
        shown=Shown("try", number, verdict.line, max(step, 1), told=verdict.told, said=said),
    )


def show_answer(session: ClassSession, looked: Surveyed) -> ClassSession:
    """The first answer, or the next one where one is shown; after the last the first again.

    Raises InputError where there is none.
    """
    answers, shown = answers_of(looked), session.shown
    if not answers:
        raise InputError(
            "Nothing is in danger in this position and nothing can be won: there is no answer to"
            " show. Any move can be entered as a try."
        )
    place = shown.number % len(answers) if shown.what == "answer" else 0
    move, told = answers[place]
    line = verdict_on(looked, move).line
    return replace(session, shown=Shown("answer", place + 1, line, 1, told=told, said=True))


def step_to(session: ClassSession, step: int) -> ClassSession:
    """So many moves of the line shown, as far as it goes.

    Raises InputError where no line is shown.
    """
    shown = session.shown
    if not shown.line:
        raise InputError("No line is on the board; show a try or an answer first.")
    return replace(session, shown=replace(shown, step=min(max(0, step), len(shown.line))))


def play_on(session: ClassSession, number: int) -> ClassSession:
    """Let a student play on against the refutation of a try, from where it stands on the board.

    Raises MissingError where the try is not there, InputError where it holds.
    """
    position, shown = session.at, session.shown
    at = shown.step if shown.what == "try" and shown.number == number else 0
    return _playing(session, begun_at(position, try_of(position, number), at))


def play_move(session: ClassSession, move: str) -> ClassSession:
    """The student's move (UCI), and the answer to it.

    Raises InputError where nobody plays on, MoveError where the move is not legal.
    """
    return _playing(session, defended(session.at, play_of(session), move))


def take_back(session: ClassSession) -> ClassSession:
    """The play without the student's last move and the answer.

    Raises InputError where nobody plays on, or nothing was played.
    """
    return _playing(session, taken_back(session.at, play_of(session)))


def play_of(session: ClassSession) -> Play:
    """The play in the position worked on. Raises InputError where there is none."""
    play = session.at.play
    if play is None:
        raise InputError("Nobody plays on here; begin it at a try that falls.")
    return play


def _playing(session: ClassSession, play: Play) -> ClassSession:
    """The session with a play in its position, shown to the class as it stands."""
    session = with_position(session, replace(session.at, play=play))
    # The verdict on each move is the teacher's to tell; what is decided is told at once.
    said = play.state == "decided"
    shown = Shown("play", play.number, play.line, len(play.line), told=play.told, said=said)
    return replace(session, shown=shown)


def say_it(session: ClassSession, *, said: bool) -> ClassSession:
    """Show or hide the sentence of what is shown. Raises InputError where there is none."""
    if not session.shown.told:
        raise InputError("There is no sentence to what the class sees now.")
    return replace(session, shown=replace(session.shown, said=said))

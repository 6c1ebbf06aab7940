"""A session told for a screen: everything for the teacher's, only what is shown for the class's."""

from __future__ import annotations

from dataclasses import dataclass

import chess

from fastness.classroom.session import (
    BoardPosition,
    ClassSession,
    Origin,
    State,
    Theme,
    Try,
    What,
    Words,
    board_after,
)
from fastness.core.shapes import Side
from fastness.language import ENGLISH, Language, LanguageName, language
from fastness.publish.marks import Marks
from fastness.survey.lines import move_name
from fastness.survey.reading import ToldLine, told_line
from fastness.workflows.reading import Position, position_of


@dataclass(frozen=True, slots=True)
class MarksShown:
    """The squares marked, and the two of each attack and guard: from, to."""

    ringed: tuple[str, ...] = ()
    cornered: tuple[str, ...] = ()
    attacks: tuple[tuple[str, ...], ...] = ()
    guards: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class ClassBoard:
    """What the class sees, and nothing of what it does not.

    `side` is the one at the bottom. `moves` (UCI) are those made on the board that are numbered:
    all of a line, the last two where a student plays on. `spoken` is the last one in words to be
    heard. `told` is the one sentence below the
    board, empty where there is none. `over`: the teacher has ended it.
    """

    over: bool
    fen: str
    side: Side
    language: LanguageName
    theme: Theme
    marks: MarksShown
    moves: tuple[str, ...]
    spoken: str
    told: str


@dataclass(frozen=True, slots=True)
class TryTold:
    """A try: its move, its verdict in a sentence, the line that shows it, and the hands for it."""

    number: int
    uci: str
    name: str
    holds: bool
    firm: bool
    told: str
    line: ToldLine
    hands: int


@dataclass(frozen=True, slots=True)
class PlayTold:
    """A play against the refutation of a try: its line, where it stands, and what is settled."""

    number: int
    line: ToldLine
    begun: int
    state: State
    told: str
    position: Position


@dataclass(frozen=True, slots=True)
class PositionListed:
    """A position of the session: where it is from, and how many tries were entered."""

    number: int
    fen: str
    origin: Origin
    of: int
    tries: int


@dataclass(frozen=True, slots=True)
class PositionNow:
    """The position that is worked on: what may be played, the note, the tries, the play."""

    number: int
    origin: Origin
    of: int
    asked: str
    note: str
    position: Position
    tries: tuple[TryTold, ...]
    play: PlayTold | None


@dataclass(frozen=True, slots=True)
class ShownNow:
    """What of it the class sees: `number` is that of a try or an answer, `said` its sentence.

    `told` is the sentence whether it is shown or not; `line` is the one shown, step by step.
    """

    what: What
    number: int
    step: int
    line: ToldLine | None
    told: str
    said: bool


@dataclass(frozen=True, slots=True)
class ClassTold:
    """A session for the teacher's screen; `sees` is what the class sees now."""

    number: int
    title: str
    turned: bool
    positions: tuple[PositionListed, ...]
    now: PositionNow
    shown: ShownNow
    sees: ClassBoard


OVER = ClassBoard(
    over=True,
    fen="",
    side="white",
    language="en",
    theme="system",
    marks=MarksShown(),
    moves=(),
    spoken="",
    told="",
)
"""What the class sees of a session that has ended."""


def tell_board(session: ClassSession) -> ClassBoard:
    """What the class sees."""
    shown, fen = session.shown, session.at.fen
    words = language(session.language)
    moves = shown.line[: shown.step]
    steps = told_line(fen, moves, words).steps
    black = (fen.split(" ")[1] == "b") != session.turned
    return ClassBoard(
        over=False,
        fen=steps[-1].fen if steps else fen,
        side="black" if black else "white",
        language=session.language,
        theme=session.theme,
        marks=_marks(shown.marks),
        moves=_numbered(session),
        spoken=steps[-1].spoken if steps else "",
        told=_in(shown.told, words) if shown.said else "",
    )


def _numbered(session: ClassSession) -> tuple[str, ...]:
    shown, play = session.shown, session.at.play
    moves = shown.line[: shown.step]
    return moves[play.begun :][-2:] if shown.what == "play" and play else moves


def _marks(marks: Marks) -> MarksShown:
    return MarksShown(marks.ringed, marks.cornered, marks.attacks, marks.guards)


def tell_class(session: ClassSession, words: Language = ENGLISH) -> ClassTold:
    """Everything, for the teacher, in the teacher's language."""
    shown, fen = session.shown, session.at.fen
    return ClassTold(
        number=session.number,
        title=session.title,
        turned=session.turned,
        positions=tuple(
            PositionListed(one.number, one.fen, one.origin, one.of, len(one.tries))
            for one in session.positions
        ),
        now=_now(session.at, words),
        shown=ShownNow(
            shown.what,
            shown.number,
            shown.step,
            told_line(fen, shown.line, words) if shown.line else None,
            _in(shown.told, words),
            shown.said,
        ),
        sees=tell_board(session),
    )


def _in(told: Words, words: Language) -> str:
    return told.get(words.code, "")


def _now(position: BoardPosition, words: Language) -> PositionNow:
    return PositionNow(
        number=position.number,
        origin=position.origin,
        of=position.of,
        asked=_in(position.asked, words),
        note=position.note,
        position=position_of(position.fen, "", words),
        tries=tuple(_try(position.fen, one, words) for one in position.tries),
        play=_play(position, words),
    )


def _try(fen: str, tried: Try, words: Language) -> TryTold:
    verdict = tried.verdict
    return TryTold(
        number=tried.number,
        uci=tried.move,
        name=move_name(chess.Board(fen), tried.move, words),
        holds=verdict.holds,
        firm=verdict.firm,
        told=_in(verdict.told, words),
        line=told_line(fen, verdict.line, words),
        hands=tried.hands,
    )


def _play(position: BoardPosition, words: Language) -> PlayTold | None:
    play = position.play
    if play is None:
        return None
    return PlayTold(
        number=play.number,
        line=told_line(position.fen, play.line, words),
        begun=play.begun,
        state=play.state,
        told=_in(play.told, words),
        position=position_of(board_after(position.fen, play.line).fen(), "", words),
    )

"""A position read for a screen: the survey told part by part, and the moves to be played on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import chess

from fastness.core.shapes import Side, Status, Survey, Unit, UnitName, Way
from fastness.errors import PositionError
from fastness.intake.start import more_than_a_game_has
from fastness.language import ENGLISH, Language, marked
from fastness.publish.diagram import position_in_words
from fastness.survey import WAYS
from fastness.survey.claims import claims
from fastness.survey.findings import Findings
from fastness.survey.lines import move_name
from fastness.survey.one_line import line_text
from fastness.survey.reading import Reading, read_findings
from fastness.survey.spoken import move_in_words
from fastness.survey.student import student_text
from fastness.workflows.surveying import board_of, read_moves, read_position


@dataclass(frozen=True, slots=True)
class LegalMove:
    """A legal move: as UCI, in the language's notation, and in words to be heard."""

    uci: str
    name: str
    spoken: str


@dataclass(frozen=True, slots=True)
class Position:
    """A position that stands on the board: who is to move, what may be played, and in words."""

    fen: str
    side: Side
    in_check: bool
    over: Literal["mate", "stalemate"] | None
    moves: tuple[LegalMove, ...]
    told: str


@dataclass(frozen=True, slots=True)
class Fault:
    """A rule that a position breaks: a short code for programs, and a sentence."""

    code: str
    told: str


@dataclass(frozen=True, slots=True)
class UnitRead:
    """A unit as the board shows it: its status and the squares of what bears on it."""

    square: str
    unit: UnitName
    status: Status
    loose: bool
    attackers: tuple[str, ...]
    guards: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MoveRead:
    """A legal move and its verdict; the main way first, `advised` None where nothing was ranked."""

    uci: str
    name: str
    holds: bool
    ways: tuple[Way, ...]
    advised: bool | None


@dataclass(frozen=True, slots=True)
class PositionRead:
    """All that a page shows of a position.

    `line` is the survey in one line, `student` in a few sentences for the student who is to move.
    `units` are those of the side to move, `takings` the opponent's that could be won now.
    """

    position: Position
    reach: int
    values: str
    ranked: bool
    firm: bool
    line: str
    student: str
    reading: Reading
    units: tuple[UnitRead, ...]
    takings: tuple[UnitRead, ...]
    moves: tuple[MoveRead, ...]


_FAULTS: tuple[tuple[chess.Status, str, str], ...] = (
    (chess.STATUS_NO_WHITE_KING, "no_king", marked("White has no king; each side needs one.")),
    (chess.STATUS_NO_BLACK_KING, "no_king", marked("Black has no king; each side needs one.")),
    (chess.STATUS_TOO_MANY_KINGS, "many_kings", marked("A side has more than one king.")),
    (
        chess.STATUS_PAWNS_ON_BACKRANK,
        "pawn_on_last_rank",
        marked("A pawn stands on the first or the last rank, where none can be."),
    ),
    (
        chess.STATUS_OPPOSITE_CHECK,
        "opposite_check",
        marked("The side that is not to move is in check. Perhaps the other side is to move."),
    ),
    (
        chess.STATUS_TOO_MANY_CHECKERS,
        "impossible_check",
        marked("More than two pieces give check at once, which no move can bring about."),
    ),
    (
        chess.STATUS_IMPOSSIBLE_CHECK,
        "impossible_check",
        marked("No last move could have given this check."),
    ),
    (
        chess.STATUS_BAD_CASTLING_RIGHTS,
        "castling_rights",
        marked("Castling is allowed only with the king and that rook on their first squares."),
    ),
    (
        chess.STATUS_INVALID_EP_SQUARE,
        "en_passant",
        marked("There is no pawn that just passed the en passant square."),
    ),
)


def faults_of(text: str, language: Language = ENGLISH) -> list[Fault]:
    """Every rule that a position given as FEN or EPD breaks; empty where it can stand on a board.

    Raises PositionError where the text is no FEN or EPD at all.
    """
    fen = read_position(text)
    try:
        board = chess.Board(fen)
    except ValueError as error:
        raise PositionError("fen", f'"{fen}" cannot be read: {error}.') from error
    if not board.occupied:
        return [Fault("empty", language.say("The board is empty; each side needs a king."))]
    status = board.status()
    faults = [Fault(code, language.say(told)) for flag, code, told in _FAULTS if status & flag]
    if more_than_a_game_has(board):
        told = language.say(
            "A side has more than a game can give it: eight pawns at most, and one fewer for each"
            " piece beyond those it began with."
        )
        faults.append(Fault("many_units", told))
    return faults


def position_of(text: str, moves: str = "", language: Language = ENGLISH) -> Position:
    """The position given as FEN or EPD, after `moves` (SAN or UCI) are played from it.

    Raises:
        PositionError: the position cannot be read or cannot stand on a board.
        MoveError: a move cannot be read, is ambiguous or is not legal where it stands.
    """
    fen = read_position(text)
    return _position(_after(fen, read_moves(fen, moves)), language)


def _after(fen: str, moves: Sequence[str]) -> chess.Board:
    board = board_of(fen)
    for uci in moves:
        board.push_uci(uci)
    return board


def _position(board: chess.Board, language: Language) -> Position:
    moves = [move.uci() for move in board.legal_moves]
    over: Literal["mate", "stalemate"] | None = None
    if not moves:
        over = "mate" if board.is_check() else "stalemate"
    return Position(
        fen=board.fen(),
        side="white" if board.turn else "black",
        in_check=board.is_check(),
        over=over,
        moves=tuple(_legal_move(board, uci, language) for uci in sorted(moves)),
        told=position_in_words(board.fen(), language),
    )


def _legal_move(board: chess.Board, uci: str, language: Language) -> LegalMove:
    name = move_name(board, uci, language)
    return LegalMove(uci, name, move_in_words(board, uci, name, language))


def read_survey(
    survey: Survey,
    language: Language = ENGLISH,
    *,
    moves_given: bool = False,
    order: Sequence[Way] = WAYS,
) -> PositionRead:
    """A survey told for a page, in the language and with the ways in the order preferred.

    `moves_given`: the moves that led to the position are known, so a trade in progress is too.
    Raises ValueError if a line of the survey does not replay.
    """
    found = Findings(claims(survey, moves_given=moves_given, order=order), language)
    position = _position(chess.Board(survey["fen"]), language)
    names = {move.uci: move.name for move in position.moves}
    return PositionRead(
        position=position,
        reach=survey["reach"],
        values=survey["values"],
        ranked=survey["ranked"],
        firm=any(move["firm"] is not None for move in survey["moves"]),
        line=line_text(found),
        student=student_text(found),
        reading=read_findings(survey, found, order),
        units=tuple(map(_unit, survey["units"])),
        takings=tuple(map(_unit, survey["takings"])),
        moves=tuple(
            MoveRead(
                move["uci"],
                names[move["uci"]],
                move["holds"],
                tuple(move["ways"]),
                move["advised"],
            )
            for move in survey["moves"]
        ),
    )


def _unit(unit: Unit) -> UnitRead:
    return UnitRead(
        unit["square"],
        unit["unit"],
        unit["status"],
        unit["loose"],
        tuple(unit["attackers"]),
        tuple(unit["guards"]),
    )

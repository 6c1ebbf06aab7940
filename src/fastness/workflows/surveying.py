"""Surveying positions: one given with moves, or many from lines of FEN or EPD."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Literal

import chess

from fastness import core
from fastness.core.shapes import Survey, Way
from fastness.errors import MoveError, PositionError
from fastness.intake.start import more_than_a_game_has
from fastness.language import ENGLISH, Language
from fastness.survey import WAYS, for_student, in_one_line, page

Reader = Literal["teacher", "student", "line"]
"""Who a text is for: a teacher, a student, or a list with one line for each position."""

BATCH = 64
"""Positions surveyed in one call of the core."""

_NUMBER = re.compile(r"\d+\.+")
_RESULTS = {"1-0", "0-1", "1/2-1/2", "*"}
_UCI = re.compile(r"[a-h][1-8][a-h][1-8][nbrqNBRQ]?")
_OPCODE = re.compile(r'([A-Za-z]\w*)((?:\s+(?:"[^"]*"|[^\s;"]+))*)\s*(?:;|$)\s*')


@dataclass(frozen=True, slots=True)
class Row:
    """The answer to one line of input: its number, from 1, and the survey or what is wrong."""

    line: int
    answer: Survey | PositionError


def survey_position(
    text: str,
    moves: str = "",
    *,
    reach: int = 3,
    firm: bool = False,
    values: str = "classical",
    ranks: bool = False,
) -> Survey:
    """The survey of one position, given as FEN or EPD, after `moves` are played from it.

    Args:
        text: six fields of a FEN, or four with or without EPD operations.
        moves: in SAN or UCI, move numbers allowed: ``3.Bb5 a6 4.Bxc6``. A trade in progress is
            judged from its start.
        reach: the number of opponent moves searched, 1 to 5.
        firm: whether to judge every move one reach deeper as well.
        values: the name of a table of unit values.
        ranks: whether to rank and price the moves that hold, and to compare tables of values.

    Raises:
        PositionError: the position cannot be read or cannot stand on a board.
        MoveError: a move cannot be read, is ambiguous or is not legal where it stands.
    """
    fen = read_position(text)
    played = read_moves(fen, moves)
    return core.survey(
        fen, moves=played, reach=reach, firm=firm, values=values, rank_nodes=_nodes(ranks)
    )


def other_side(text: str, moves: str = "") -> str:
    """The FEN of the same position with the other side to move, as if this one passed.

    The right to take en passant lapses. Raises PositionError where the side to move is in check,
    and as `survey_position` does.
    """
    fen = read_position(text)
    played = read_moves(fen, moves)
    board = board_of(fen)
    for uci in played:
        board.push_uci(uci)
    if board.is_check():
        raise PositionError(
            "in_check",
            f"In {board.fen()} the side to move is in check and cannot pass, so that the other"
            " side cannot be to move.",
        )
    board.push(chess.Move.null())
    return board.fen()


def _nodes(ranks: bool) -> int:
    return core.RANK_NODES if ranks else 0


def text_for(
    reader: Reader,
    survey: Survey,
    language: Language = ENGLISH,
    *,
    moves_given: bool = False,
    order: Sequence[Way] = WAYS,
) -> str:
    """`survey` in words for a reader, ending in a line break.

    `moves_given`: the moves that led to the position are known, so a trade in progress is too.
    `order`: the ways as the teacher prefers them, by which moves of one rank are listed.
    Raises ValueError if a line of the survey does not replay.
    """
    if reader == "teacher":
        return page(survey, moves_given=moves_given, language=language, order=order)
    if reader == "student":
        return for_student(survey, moves_given=moves_given, language=language, order=order)
    return f"{in_one_line(survey, moves_given=moves_given, language=language, order=order)}\n"


def survey_lines(
    lines: Iterable[str],
    *,
    reach: int = 3,
    firm: bool = False,
    values: str = "classical",
    ranks: bool = False,
) -> Iterator[Row]:
    """The surveys of many positions, one FEN or EPD a line, in the order of the lines.

    Blank lines give no answer but count in the line numbers. A bad line gives its
    `PositionError` and the rest is still answered. Lines are read a batch at a time, a small
    one first, so that memory stays flat and the first answers come soon.
    """
    numbered = (
        (number, line) for number, line in enumerate(lines, 1) if line.strip("\ufeff \t\r\n")
    )
    size = 1
    while batch := list(islice(numbered, size)):
        yield from _survey_batch(batch, reach=reach, firm=firm, values=values, ranks=ranks)
        size = min(2 * size, BATCH)


def _survey_batch(
    batch: Sequence[tuple[int, str]], *, reach: int, firm: bool, values: str, ranks: bool
) -> Iterator[Row]:
    read: list[str | PositionError] = []
    for _, line in batch:
        try:
            read.append(read_position(line))
        except PositionError as error:
            read.append(error)
    rows: list[tuple[str, Sequence[str]]] = [(fen, ()) for fen in read if isinstance(fen, str)]
    answers = iter(
        core.survey_many(rows, reach=reach, firm=firm, values=values, rank_nodes=_nodes(ranks))
    )
    for (number, _), fen in zip(batch, read, strict=True):
        yield Row(number, next(answers) if isinstance(fen, str) else fen)


def read_position(text: str) -> str:
    """The six-field FEN of a line that holds a FEN or an EPD record (PGN standard, 1994).

    An EPD record has four fields and operations; of those only ``hmvc`` and ``fmvn`` are used.
    Where the counts are missing they are 0 and 1. Whether the position can stand on a board is
    for the core to say.

    Raises:
        PositionError: there are fewer than four fields, or what follows them is neither the
            counts of a FEN nor EPD operations.
    """
    fields = text.strip("\ufeff \t\r\n").split(maxsplit=4)
    if len(fields) < 4:
        raise PositionError(
            "fields",
            f"{_quoted(text)} has {len(fields)} of the fields of a FEN; it needs at least four: the"
            " board, the side to move, castling rights and the en passant square.",
        )
    board, rest = " ".join(fields[:4]), fields[4] if len(fields) > 4 else ""
    counts = re.fullmatch(r"(\d+)(?:\s+(\d+))?", rest)
    if counts:
        return f"{board} {counts[1]} {counts[2] or 1}"
    operations = _operations(rest)
    return f"{board} {operations.get('hmvc', '0')} {operations.get('fmvn', '1')}"


def _operations(text: str) -> dict[str, str]:
    found: dict[str, str] = {}
    at = 0
    while at < len(text):
        operation = _OPCODE.match(text, at)
        if not operation:
            raise PositionError(
                "fields",
                f"After the four fields of the position stands {_quoted(text[at:])}; that is"
                ' neither the two counts of a FEN ("0 1") nor EPD operations ("bm Nf3;").',
            )
        found[operation[1]] = operation[2].strip()
        at = operation.end()
    return found


def read_moves(fen: str, text: str) -> list[str]:
    """The moves of `text`, in SAN or UCI with or without move numbers, as UCI.

    Raises:
        PositionError: `fen` cannot stand on a board.
        MoveError: a move cannot be read, is ambiguous or is not legal where it stands.
    """
    words = [word for word in _NUMBER.sub(" ", text).split() if word not in _RESULTS]
    if not words:
        return []
    board = board_of(fen)
    played = []
    for number, word in enumerate(words, 1):
        move = _read_move(board, word, number)
        played.append(move.uci())
        board.push(move)
    return played


def board_of(fen: str) -> chess.Board:
    """The board of a FEN of six fields. Raises PositionError where it cannot stand on one."""
    try:
        board = chess.Board(fen)
    except ValueError as error:
        core.survey(fen, reach=1)  # says in its own words what is wrong with the position
        raise PositionError("fen", f"{_quoted(fen)} cannot be read: {error}.") from error
    if not board.is_valid() or more_than_a_game_has(board):
        core.survey(fen, reach=1)
    return board


def _read_move(board: chess.Board, word: str, number: int) -> chess.Move:
    bare = word.rstrip("!?")
    try:
        if _UCI.fullmatch(bare):
            return board.parse_uci(bare.lower())
        move = board.parse_san(bare)
    except ValueError as error:
        wrong = {
            chess.AmbiguousMoveError: "is ambiguous",
            chess.IllegalMoveError: "is not legal",
        }.get(type(error), "is not a move in SAN or UCI")
        raise MoveError(_wrong_move(board, word, number, wrong)) from error
    if not move:
        raise MoveError(_wrong_move(board, word, number, "is a pass, not a move"))
    return move


def _wrong_move(board: chess.Board, word: str, number: int, wrong: str) -> str:
    side = "White" if board.turn == chess.WHITE else "Black"
    legal = ", ".join(sorted(board.san(move) for move in board.legal_moves))
    return (
        f"Move {number} of the list, {_quoted(word)}, {wrong}: {side} to move in {board.fen()}."
        f" Legal there: {legal or 'no move, the game is over'}."
    )


def _quoted(text: str) -> str:
    shown = text.strip()
    shown = shown if len(shown) <= 60 else f"{shown[:57]}..."
    printable = "".join(letter if letter.isprintable() else "\ufffd" for letter in shown)
    return f'"{printable}"'

"""The position a game starts from: the usual one, or the one its FEN tag sets up."""

from collections.abc import Mapping

import chess

from fastness.errors import PositionError

EIGHT = 8
"""Pawns that a side begins with."""

_FAULTS: tuple[tuple[chess.Status, str, str], ...] = (
    (chess.STATUS_EMPTY, "empty", "the board is empty; each side needs a king"),
    (chess.STATUS_NO_WHITE_KING, "no_king", "White has no king; each side needs exactly one"),
    (chess.STATUS_NO_BLACK_KING, "no_king", "Black has no king; each side needs exactly one"),
    (chess.STATUS_TOO_MANY_KINGS, "many_kings", "there are more than two kings"),
    (
        chess.STATUS_PAWNS_ON_BACKRANK,
        "pawn_on_last_rank",
        "a pawn stands on the first or last rank, where none can be",
    ),
    (chess.STATUS_TOO_MANY_WHITE_PAWNS, "many_pawns", "White has more than eight pawns"),
    (chess.STATUS_TOO_MANY_BLACK_PAWNS, "many_pawns", "Black has more than eight pawns"),
    (chess.STATUS_TOO_MANY_WHITE_PIECES, "many_units", "White has more than sixteen units"),
    (chess.STATUS_TOO_MANY_BLACK_PIECES, "many_units", "Black has more than sixteen units"),
    (
        chess.STATUS_OPPOSITE_CHECK,
        "opposite_check",
        "the side that is not to move is in check; is the wrong side to move?",
    ),
    (chess.STATUS_TOO_MANY_CHECKERS, "impossible_check", "more than two units give check at once"),
    (
        chess.STATUS_IMPOSSIBLE_CHECK,
        "impossible_check",
        "no last move could have given this check",
    ),
)
_MENDED = (
    (chess.STATUS_BAD_CASTLING_RIGHTS, "castling rights without king and rook at home"),
    (chess.STATUS_INVALID_EP_SQUARE, "an en passant square without a pawn that passed it"),
)


def start(tags: Mapping[str, str]) -> tuple[chess.Board, str | None]:
    """The board at the start of a game, and a notice if something in its FEN tag was dropped.

    Raises PositionError where the position is missing or cannot stand on a board.
    """
    fen = tags.get("FEN", "").strip()
    if not fen:
        if tags.get("SetUp", "").strip() == "1":
            raise PositionError("no_fen", "the SetUp tag promises a FEN tag, but there is none")
        return chess.Board(), None
    try:
        board = chess.Board(fen)
    except ValueError as error:
        raise PositionError("bad_fen", f'the FEN tag "{fen}" cannot be read: {error}') from None
    dropped = _mend(board)
    status = board.status()
    faults = [(code, sentence) for flag, code, sentence in _FAULTS if status & flag]
    if more_than_a_game_has(board):
        faults.append(("many_units", "a side has more pieces than pawns could have become"))
    for code, sentence in faults:
        raise PositionError(code, f'the position of the FEN tag "{fen}" cannot be: {sentence}')
    if status:
        raise PositionError("bad_position", f'the position of the FEN tag "{fen}" cannot be')
    return board, dropped


def more_than_a_game_has(board: chess.Board) -> bool:
    """Whether a side has more pawns and pieces beyond those it began with than eight pawns make.

    A bishop beyond the first on squares of its colour was a pawn too.
    """
    return any(_pawns_needed(board, side) > EIGHT for side in chess.COLORS)


def _pawns_needed(board: chess.Board, side: chess.Color) -> int:
    """The pawns of a side and the pieces that it can have only by promoting."""
    own = board.occupied_co[side]
    bishops = board.bishops & own
    found = (
        (board.queens & own, 1),
        (board.rooks & own, 2),
        (board.knights & own, 2),
        (bishops & chess.BB_LIGHT_SQUARES, 1),
        (bishops & chess.BB_DARK_SQUARES, 1),
    )
    promoted = sum(max(pieces.bit_count() - first, 0) for pieces, first in found)
    return (board.pawns & own).bit_count() + promoted


def _mend(board: chess.Board) -> str | None:
    """Drop rights that the units do not bear out: they change no unit's place."""
    status = board.status()
    wrong = [what for flag, what in _MENDED if status & flag]
    if not wrong:
        return None
    board.castling_rights = board.clean_castling_rights()
    if status & chess.STATUS_INVALID_EP_SQUARE:
        board.ep_square = None
    return f"the FEN tag names {' and '.join(wrong)}, which was dropped"

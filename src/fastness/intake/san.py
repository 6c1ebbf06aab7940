"""Moves in standard algebraic notation, played on a board or explained where they cannot be."""

import re

import chess
from chess import KING

from fastness.errors import MoveError

_SAN = re.compile(r"([NBRQK])?([a-h])?([1-8])?x?([a-h])([1-8])(?:=?([NBRQ]))?[+#]{0,2}")
_CASTLING = re.compile(r"[0Oo]-[0Oo](-[0Oo])?[+#]*")
_PASSES = ("--", "Z0", "0000", "@@@@", "null", "pass")
_SHOWN = 12
_UNIT_NAMES = {
    chess.PAWN: "pawn",
    chess.KNIGHT: "knight",
    chess.BISHOP: "bishop",
    chess.ROOK: "rook",
    chess.QUEEN: "queen",
    KING: "king",
}

_Spelled = tuple[int, int, int, int | None, int | None]
_spellings: dict[str, _Spelled] = {}
"""What each spelling met so far says: unit, squares it may come from, square, file, promotion."""


def play(board: chess.Board, san: str) -> chess.Move:
    """Play the one legal move that `san` means, and return it.

    Besides the strict notation it takes needless letters and digits, missing check signs and
    castling with zeros. Raises MoveError, which names what would be legal, and leaves the board
    as it was.
    """
    move = _plain(board, san)
    if move is not None:
        board.push(move)
        if not board.was_into_check():
            return move
        board.pop()
    move = _by_the_rules(board, san)
    board.push(move)
    return move


def is_spelled_like_a_move(text: str) -> bool:
    """Whether the text has the form of a move, be it legal or not."""
    return bool(_SAN.fullmatch(text) or _CASTLING.fullmatch(text))


def _plain(board: chess.Board, san: str) -> chess.Move | None:
    """The move meant, right but for a check left open, where geometry alone tells it.

    Several times as quick as asking the rules for every legal move, and enough for most moves.
    """
    spelled = _spellings.get(san) or _spell(san)
    if spelled is None:
        return None
    unit, sources, to, from_file, promotion = spelled
    turn = board.turn
    own = board.occupied_co[turn]
    if chess.BB_SQUARES[to] & own:
        return None
    if unit == chess.PAWN:
        return _pawn_move(board, to, from_file, promotion, sources)
    if unit == chess.KNIGHT:
        sources &= chess.BB_KNIGHT_ATTACKS[to] & board.knights
    elif unit == KING:
        sources &= chess.BB_KING_ATTACKS[to] & board.kings
    else:
        reached = 0
        if unit != chess.BISHOP:
            reached |= chess.BB_RANK_ATTACKS[to][chess.BB_RANK_MASKS[to] & board.occupied]
            reached |= chess.BB_FILE_ATTACKS[to][chess.BB_FILE_MASKS[to] & board.occupied]
        if unit != chess.ROOK:
            reached |= chess.BB_DIAG_ATTACKS[to][chess.BB_DIAG_MASKS[to] & board.occupied]
        sources &= reached & board.pieces_mask(unit, turn)
    sources &= own
    # Of several, the rules must say which are pinned.
    if not sources or sources & (sources - 1):
        return None
    return chess.Move(sources.bit_length() - 1, to)


def _pawn_move(
    board: chess.Board, to: int, from_file: int | None, promotion: int | None, sources: int
) -> chess.Move | None:
    back = -8 if board.turn else 8
    if (promotion is not None) != (to >> 3 == (7 if board.turn else 0)):
        return None
    source = to + back
    if from_file is None or from_file == to & 7:
        if chess.BB_SQUARES[to] & board.occupied or not 0 <= source < 64:
            return None
        fourth = 3 if board.turn else 4
        if to >> 3 == fourth and not chess.BB_SQUARES[source] & board.occupied:
            source += back
    else:
        source += from_file - (to & 7)
        takes = board.occupied_co[not board.turn]
        if abs(from_file - (to & 7)) != 1 or not 0 <= source < 64:
            return None
        if not chess.BB_SQUARES[to] & takes and to != board.ep_square:
            return None
    own_pawns = board.pawns & board.occupied_co[board.turn]
    if not chess.BB_SQUARES[source] & own_pawns & sources:
        return None
    return chess.Move(source, to, promotion)


def _spell(san: str) -> _Spelled | None:
    found = _SAN.fullmatch(san)
    if found is None:
        return None
    letter, file, rank, to_file, to_rank, promoted = found.groups()
    unit = chess.PIECE_SYMBOLS.index(letter.lower()) if letter else chess.PAWN
    # A pawn's move with its whole square of origin may be any unit's: leave it to the rules.
    if (promoted and letter) or (not letter and rank):
        return None
    sources = chess.BB_ALL
    if file:
        sources &= chess.BB_FILES[ord(file) - 97]
    if rank:
        sources &= chess.BB_RANKS[int(rank) - 1]
    to = chess.parse_square(to_file + to_rank)
    promotion = chess.PIECE_SYMBOLS.index(promoted.lower()) if promoted else None
    spelled = (unit, sources, to, ord(file) - 97 if file else None, promotion)
    _spellings[san] = spelled
    return spelled


def _by_the_rules(board: chess.Board, san: str) -> chess.Move:
    if san in _PASSES:
        raise MoveError(f"'{san}' is a pass, and no rule allows one; {_legal(board, san)}")
    try:
        return board.parse_san(_tidied(san))
    except chess.AmbiguousMoveError:
        raise MoveError(f"'{san}' could mean more than one move: {_meant(board, san)}") from None
    except chess.IllegalMoveError:
        raise MoveError(f"'{san}' is not legal here; {_legal(board, san)}") from None
    except ValueError:
        raise MoveError(f"'{san}' is not a move; {_legal(board, san)}") from None


def _tidied(san: str) -> str:
    if _CASTLING.fullmatch(san):
        return san.rstrip("+#").replace("0", "O").replace("o", "O")
    return san.rstrip("+#")


def _meant(board: chess.Board, san: str) -> str:
    spelled = _spellings.get(san) or _spell(san)
    if spelled is None:
        return _legal(board, san)
    unit, sources, to, _, promotion = spelled
    moves = [
        move
        for move in board.generate_legal_moves(sources, chess.BB_SQUARES[to])
        if board.piece_type_at(move.from_square) == unit and move.promotion == promotion
    ]
    return " or ".join(sorted(board.san(move) for move in moves))


def _legal(board: chess.Board, san: str) -> str:
    """What could be played instead: by that unit, or else to that square, or else anything."""
    moves = list(board.legal_moves)
    if not moves:
        over = "checkmate" if board.is_check() else "stalemate"
        return f"the game has ended in {over} and no move is legal"
    spelled = _spellings.get(san) or _spell(san)
    if spelled is not None:
        unit, _, to, _, _ = spelled
        to_there = [move for move in moves if move.to_square == to]
        of_unit = [move for move in moves if board.piece_type_at(move.from_square) == unit]
        name, square = _UNIT_NAMES[unit], chess.SQUARE_NAMES[to]
        if unit == chess.PAWN and to_there:
            return f"legal moves to {square}: {_listed(board, to_there)}"
        if of_unit:
            return f"legal {name} moves: {_listed(board, of_unit)}"
        if to_there:
            return f"no {name} can move; legal moves to {square}: {_listed(board, to_there)}"
        return f"no {name} can move; legal moves: {_listed(board, moves)}"
    return f"legal moves: {_listed(board, moves)}"


def _listed(board: chess.Board, moves: list[chess.Move]) -> str:
    names = sorted(board.san(move) for move in moves)
    more = len(names) - _SHOWN
    return ", ".join(names[:_SHOWN]) + (f" and {more} more" if more > 0 else "")
